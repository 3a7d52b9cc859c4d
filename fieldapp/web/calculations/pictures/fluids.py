"""Air, adhesive and grout: margins, quantities, and what fills a duct."""

import math
from collections.abc import Iterator, Sequence

from fieldapp.calc.air_test import corrected_end_kpa
from fieldapp.calc.calculation import Values
from fieldapp.web.calculations.pictures.canvas import (
    LETTER,
    WIDE,
    WIDTH,
    Drawing,
    Shape,
    arrow,
    box,
    disc,
    line,
    word,
)
from fieldapp.web.calculations.pictures.chart import Chart, axis, beside, curve, frame
from fieldapp.web.calculations.pictures.labels import Labels
from fieldapp.web.calculations.units import read

LEFT, RIGHT = 24.0, WIDTH - 24.0
WORDS_WIDTH = 140
"""Of the words beside a bar of time."""
MOST_KITS = 40
Part = tuple[str, float, str, str]


def dew_point(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw air, surfaces and dew point on one line of temperature."""
    dew, air = answer["dew_point_c"], values["air_temp_c"]
    one = values["surface_temp_c"]
    surfaces = sorted([one] if one is not None else values["surface_temps_c"] or [])
    chart = Chart(x=axis([dew, air, *surfaces], room=0.15), y=axis([0, 1], room=0),
                  height=96, left=LEFT, right=RIGHT, top=54)  # fmt: skip
    wet, middle = chart.across(dew), chart.top + 48
    shapes = [
        box((chart.left, chart.top), wet - chart.left, chart.height, "bad-band"),
        line((chart.left, chart.foot), (chart.right, chart.foot), "axis"),
        *_degrees(chart),
        line((wet, chart.top - 4), (wet, chart.foot), "limit"),
        word((wet, chart.top - 10), f"dew point {read(dew)} °C", "strong",
             _anchor(chart, wet)),
        disc((chart.across(air), middle), 7, "ring"),
        *_surfaces(chart, surfaces, middle, dew),
    ]  # fmt: skip
    labels = Labels(width=WIDTH)
    x = chart.across(air)
    ways = [((x, middle + 26), "middle"), ((x + 8, middle + 26), "end")]
    labels.put(f"air {read(air)}", ways, "words")
    margin = answer.get("margin_c")
    told = f"Dew point {read(dew)} °C, air {read(air)} °C."
    if margin is not None:
        told += f" Coldest surface {read(surfaces[0])} °C, margin {read(margin)} °C."
    yield Drawing(
        title="Surfaces above the dew point, °C",
        told=told,
        height=chart.foot + 34,
        shapes=(*shapes, *labels.shapes),
        notes=("Tinted: a surface this cold is wetted by this air.",),
    )


def _degrees(chart: Chart) -> Iterator[Shape]:
    for value in chart.x.ticks:
        x = chart.across(value)
        yield line((x, chart.foot), (x, chart.foot + 5), "axis")
        yield word((x, chart.foot + 19), read(value), "soft", "middle")


def _anchor(chart: Chart, x: float) -> str:
    part = (x - chart.left) / (chart.right - chart.left)
    return "start" if part < 0.3 else "end" if part > 0.7 else "middle"


def _surfaces(
    chart: Chart, surfaces: Sequence[float], middle: float, dew: float
) -> Iterator[Shape]:
    for temp in surfaces[:100]:
        pen = "good" if temp > dew else "bad"
        yield disc((chart.across(temp), middle), 6, pen)
    if not surfaces:
        return
    cold, wet = chart.across(surfaces[0]), chart.across(dew)
    if abs(cold - wet) > 4:
        yield from arrow((wet, middle - 22), (cold, middle - 22))
    text = f"margin {read(surfaces[0] - dew)} °C"
    pen = "strong" if surfaces[0] > dew else "alarm"
    yield word(((cold + wet) / 2, middle - 30), text, pen,
               _anchor(chart, (cold + wet) / 2))  # fmt: skip


def adhesive_quantity(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw what the joint takes, what is wasted, and what is left of whole kits."""
    kits, kit = answer["kits"], values["kit_kg"]
    net, order = answer["mass_kg"], answer["order_mass_kg"]
    parts = (
        ("on the faces", net, "part", "kg"),
        ("waste", order - net, "spare", "kg"),
        ("left over", max(kits * kit - order, 0.0), "bare", "kg"),
    )
    yield Drawing(
        title=f"{kits} whole kits of {read(kit)} kg",
        told=_parts_told(parts) + f" {kits} kits of {read(kit)} kg.",
        height=168,
        shapes=(
            *_bar(parts, 44),
            *_kits(kits, 44),
            word((LEFT, 26), f"{kits} kits, {read(kits * kit)} kg mixed", "strong"),
        ),
    )


def _kits(kits: int, top: float) -> Iterator[Shape]:
    if kits <= MOST_KITS:
        for index in range(1, kits):
            x = LEFT + (RIGHT - LEFT) * index / kits
            yield line((x, top - 6), (x, top + 44), "axis")


def grout_volume(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the duct's section, the litres to order, and the time to fill."""
    yield _duct(values, answer)
    if "fill_min" in answer:
        yield _filling(values, answer)


def _duct(values: Values, answer: Values) -> Drawing:
    bore = math.pi * values["duct_bore_mm"] ** 2 / 4
    part = min(values["steel_area_mm2"] / bore, 1.0)
    net, caps = answer["net_l"], values["caps_l"]
    parts = (
        ("in the duct", net, "part", "L"),
        ("caps", caps, "good-band", "L"),
        ("waste", answer["order_l"] - net - caps, "spare", "L"),
    )
    return Drawing(
        title="Duct, and grout to order",
        told=f"Steel fills {read(100 * part)} % of the bore. " + _parts_told(parts),
        height=288,
        shapes=(
            disc((90, 84), 62, "part"),
            disc((90, 84 + 62 * (1 - math.sqrt(part)) * 0.9), 62 * math.sqrt(part),
                 "face"),
            word((172, 60), f"bore {read(values['duct_bore_mm'])} mm", "words"),
            word((172, 82), f"steel {read(100 * part)} % of the bore", "words"),
            word((172, 104), f"grout {read(answer['net_l_per_m'])} L/m", "strong"),
            word((172, 126), f"over {read(values['length_m'])} m", "words"),
            word((LEFT, 178), f"order {read(answer['order_l'])} L", "strong"),
            *_bar(parts, 188),
        ),
        notes=("The steel is drawn as one disc of its whole area.",),
    )  # fmt: skip


def _beside(chart: Chart, fill: float) -> float:
    """Give where a bar's words begin: in it where they fit, else after its end."""
    end = chart.across(fill)
    return chart.left + 6 if end - chart.left > WORDS_WIDTH else end + 6


def _filling(values: Values, answer: Values) -> Drawing:
    fill, life = answer["fill_min"], values["pumpable_min"]
    chart = Chart(x=axis([fill, life or fill], zero=True), y=axis([0, 1], room=0),
                  height=52, left=LEFT, right=RIGHT)  # fmt: skip
    shapes = [
        box((chart.left, chart.top + 8), chart.across(fill) - chart.left, 30, "part"),
        line((chart.left, chart.foot), (chart.right, chart.foot), "axis"),
        *_degrees(chart),
        word(
            (_beside(chart, fill), chart.top + 28),
            f"filled in {read(fill)} min",
            "strong",
        ),
    ]
    told = f"Filled in {read(fill)} min."
    if life is not None:
        x = chart.across(life)
        text = f"pumpable until {read(life)} min"
        shapes.append(line((x, chart.top - 4), (x, chart.foot), "limit"))
        shapes.append(word((x, chart.top - 9), text, "words", _anchor(chart, x)))
        told += f" Pumpable for {read(life)} min."
    return Drawing(
        title="Time to fill, minutes",
        told=told,
        height=chart.foot + 32,
        shapes=tuple(shapes),
    )


def grout_mix(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the mix by mass and by volume."""
    water, cement = values["water_cement"], 1.0
    solid = cement / values["cement_sg"]
    mass = (("cement", cement, "face", "kg"), ("water", water, "part", "kg"))
    volume = (("cement", solid, "face", "L"), ("water", water, "part", "L"))
    yield Drawing(
        title="The mix for one kilogram of cement",
        told=f"By mass: {_parts_told(mass)} By volume: {_parts_told(volume)} Density "
        f"{read(answer['density_kg_per_l'])} kg/L.",
        height=254,
        shapes=(
            word((LEFT, 24), "by mass", "strong"),
            *_bar(mass, 34),
            word((LEFT, 142), "by volume", "strong"),
            *_bar(volume, 152),
        ),
    )


def air_test(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the gauge pressure at the start and at the end, corrected and read."""
    start, read_end = values["start_kpa"], values["end_kpa"]
    corrected = start - answer["loss_kpa"]
    warmed = values["start_temp_c"] is not None
    if warmed:
        keys = ("end_kpa", "start_temp_c", "end_temp_c", "atmospheric_kpa")
        corrected = corrected_end_kpa(**{key: values[key] for key in keys})
    chart = Chart(
        x=axis([0, 1], room=0.12),
        y=axis([start, read_end, corrected], zero=True, room=0.16),
        height=210,
    )
    chart = Chart(x=chart.x, y=chart.y, height=chart.height, right=WIDTH - 90)
    shapes = [shape for shape in frame(chart, "", "gauge pressure [kPa]")
              if not _below(shape, chart)]  # fmt: skip
    shapes += [
        word((chart.across(0), chart.foot + 20), "start", "words", "middle"),
        word((chart.across(1), chart.foot + 20), "end", "words", "middle"),
        curve(chart, [(0, start), (1, corrected)]),
        disc(chart.at((0, start)), 6, "dot"),
        beside(chart, (0, start), f"{read(start)} kPa"),
        disc(chart.at((1, corrected)), 6, "asked"),
        word((chart.across(1) + 12, chart.down(corrected) + 4.5),
             f"{read(corrected)}", "strong"),
    ]  # fmt: skip
    if warmed:
        shapes += [
            curve(chart, [(0, start), (1, read_end)], "second"),
            disc(chart.at((1, read_end)), 5, "ring"),
        ]
    loss = f"Loss {read(answer['loss_kpa'])} kPa, {read(100 * answer['loss_ratio'])} %"
    yield Drawing(
        title="Pressure in the duct from start to end",
        told=f"{loss} of the start pressure; {read(corrected)} kPa left.",
        height=296,
        shapes=tuple(shapes),
        notes=(f"{loss} of the start pressure.",)
        + (("Full: at the start's temperature. Dashed: as read.",) if warmed else ()),
    )


def _below(shape: Shape, chart: Chart) -> bool:
    """Say whether a shape of the frame belongs to the ticks of x."""
    place = dict(shape.place)
    return float(place.get("y2", place.get("y", "0"))) > chart.foot + 3


def _bar(parts: Sequence[Part], top: float) -> Iterator[Shape]:
    """Draw parts of a whole in a row, each named below with its amount."""
    whole = sum(amount for _, amount, _, _ in parts) or 1.0
    labels = Labels(width=WIDTH)
    x = LEFT
    for name, amount, pen, unit in parts:
        wide = (RIGHT - LEFT) * amount / whole
        yield box((x, top), wide, 38, pen)
        text = f"{name} {read(amount)} {unit}"
        half = len(text) * LETTER * WIDE / 2
        middle = min(max(x + wide / 2, LEFT + half), RIGHT - half)
        ways = [((middle, top + 58 + row * 20), "middle") for row in range(3)]
        if amount:
            labels.put(text, ways, "words")
        x += wide
    yield box((LEFT, top), RIGHT - LEFT, 38, "bare")
    yield from labels.shapes


def _parts_told(parts: Sequence[Part]) -> str:
    return (
        ", ".join(f"{name} {read(amount)} {unit}" for name, amount, _, unit in parts)
        + "."
    )
