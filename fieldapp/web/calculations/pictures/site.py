"""The cantilever and its site: balance, line of the tip, shim, wind."""

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import Any

from fieldapp.calc.calculation import Values
from fieldapp.calc.wind import HEIGHT_FACTORS
from fieldapp.web.calculations.pictures.canvas import (
    WIDTH,
    Drawing,
    Shape,
    arrow,
    box,
    disc,
    line,
    through,
    word,
)
from fieldapp.web.calculations.pictures.chart import Chart, axis, beside, curve, frame
from fieldapp.web.calculations.pictures.labels import Labels
from fieldapp.web.calculations.units import read

DECK, LONGEST_ARROW = 150.0, 92.0
SIDES = (("A", -1), ("B", 1))
MOST_LOADS = 120


def balance(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the two arms with their loads, and the moment between its limits."""
    yield _arms(values)
    yield _moments(values, answer)


def _arms(values: Values) -> Drawing:
    loads = [(side, turn, load, pen) for side, turn in SIDES
             for load, pen in _loads(values, side)]  # fmt: skip
    reach = max([load["lever_m"] for _, _, load, _ in loads], default=0) or 1.0
    heaviest = max([load["weight_kn"] for _, _, load, _ in loads], default=0) or 1.0
    middle, scale = WIDTH / 2, (WIDTH / 2 - 46) / reach
    labels = Labels(width=WIDTH)
    shapes: list[Shape] = []
    for _, turn, load, pen in loads[:MOST_LOADS]:
        x = middle + turn * load["lever_m"] * scale
        long = max(LONGEST_ARROW * load["weight_kn"] / heaviest, 6.0)
        shapes += _weight(x, long, pen)
        at = ((x, DECK - long - 8), "middle")
        labels.put(read(load["weight_kn"]), [at], "words")
    return Drawing(
        title="The pair at the pier, weights in kN, levers to scale",
        told=_arms_told(values, loads),
        height=262,
        shapes=(
            box((26, DECK), WIDTH - 52, 12, "face"),
            through([[(middle - 15, DECK + 12), (middle + 15, DECK + 12),
                      (middle + 24, 240), (middle - 24, 240)]], "face", closed=True),
            *shapes,
            *labels.shapes,
            word((30, DECK + 34), "arm A", "strong"),
            word((WIDTH - 30, DECK + 34), "arm B", "strong", "end"),
            word((30, DECK + 54), f"reach {read(reach)} m", "soft"),
        ),
        notes=("Full arrows: hung. Dashed: equipment. Dotted: the next lift.",),
    )  # fmt: skip


def _loads(values: Values, side: str) -> Iterator[tuple[Any, str]]:
    for load in values["arms"][side]:
        yield load, "arrow"
    for part in values["equipment"]:
        if part["arm"] == side:
            yield part, "second"
    if values["next"][side] is not None:
        yield values["next"][side], "third"


def _weight(x: float, long: float, pen: str) -> Iterator[Shape]:
    if pen == "arrow":
        yield from arrow((x, DECK - long), (x, DECK))
    else:
        yield line((x, DECK - long), (x, DECK - 8), pen)
        yield arrow((x, DECK - 8), (x, DECK))[1]


def _arms_told(values: Values, loads: Sequence[Any]) -> str:
    told = []
    for side, _ in SIDES:
        own = [load for name, _, load, pen in loads if name == side and pen != "third"]
        weight = sum(load["weight_kn"] for load in own)
        told.append(f"Arm {side}: {len(own)} loads, {read(weight)} kN in all.")
        if (lift := values["next"][side]) is not None:
            told.append(
                f"Next: {read(lift['weight_kn'])} kN at {read(lift['lever_m'])} m."
            )
    return " ".join(told)


def _moments(values: Values, answer: Values) -> Drawing:
    to_a = values["limit_knm"] or values["limit_a_knm"]
    to_b = values["limit_knm"] or values["limit_b_knm"]
    states = [("now", answer["moment_knm"], "dot")]
    for side in ("A", "B"):
        after = answer[f"after_{side.lower()}_knm"]
        if after is not None:
            pen = "good" if side in answer["allowed"] else "bad"
            states.append((f"after {side}", after, pen))
    chart = Chart(
        x=axis([-to_b, to_a, *(m for _, m, _ in states)], zero=True),
        y=axis([0, len(states)], room=0),
        height=36.0 * len(states),
        left=76,
    )
    # A pulls to the left on the site's drawing, so the axis is turned.
    turned = Chart(x=chart.x, y=chart.y, height=chart.height,
                   left=chart.right, right=chart.left)  # fmt: skip
    return Drawing(
        title="Moment out of balance, kNm, A heavier to the left",
        told=". ".join(f"{name}: {read(m)} kNm" for name, m, _ in states)
        + f". Limits {read(to_a)} towards A, {read(to_b)} towards B.",
        height=chart.foot + 14,
        shapes=tuple(_moment_shapes(turned, states, (to_a, to_b))),
        notes=("Tinted: within the limits, which are counted in.",),
    )


def _moment_shapes(
    chart: Chart, states: Sequence[Any], limits: tuple[float, float]
) -> Iterator[Shape]:
    left, right = chart.across(limits[0]), chart.across(-limits[1])
    yield box((left, chart.top), right - left, chart.height, "good-band")
    for text, x in ((f"A {read(limits[0])}", left), (f"B {read(limits[1])}", right)):
        yield line((x, chart.top), (x, chart.foot), "limit")
        yield word((x, chart.top - 8), text, "words", "middle")
    nought = chart.across(0.0)
    yield line((nought, chart.top), (nought, chart.foot), "axis")
    yield word((nought, chart.top - 8), "0", "soft", "middle")
    for index, (name, moment, pen) in enumerate(states):
        y, x = chart.top + 36 * index + 18, chart.across(moment)
        yield word((6, y + 4.5), name, "strong")
        yield line((nought, y), (x, y), "curve")
        yield disc((x, y), 7, pen)
        side, anchor = (-11, "end") if x < nought else (11, "start")
        verdict = {"good": " within", "bad": " not within"}.get(pen, "")
        text = f"{read(moment)}{verdict}"
        room = len(text) * 7.5
        if not 80 < x + side + (room if side > 0 else -room) < WIDTH:
            side, anchor = -side, "start" if anchor == "end" else "end"
        yield word((x + side, y - 5), text, "words", anchor)


def tip_error(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the line of the cantilever off its true line, with the tip's band."""
    joints = sorted(
        zip(values["joints"], values["offsets_mm"] or [0.0] * len(values["joints"]),
            strict=True),
        key=lambda pair: float(pair[0]["at_m"]),
    )  # fmt: skip
    tip, sigma = (values["tip_m"], answer["tip_mm"]), answer.get("band_mm", 0.0)
    points = _off_line(joints, values["tip_m"])
    heights = [y for _, y in points] + [tip[1] + sigma, tip[1] - sigma]
    chart = Chart(
        x=axis([x for x, _ in points], room=0.05),
        y=axis(heights, zero=True),
        height=220,
    )
    text = f"tip {read(tip[1])} mm" + (f" ± {read(sigma)}" if sigma else "")
    yield Drawing(
        title="Error along the cantilever, much enlarged",
        told=f"The tip at {read(tip[0])} m is {read(tip[1])} mm off, up positive. "
        + " ".join(
            f"Joint at {read(joint['at_m'])} m adds {read(part)} mm."
            for joint, part in list(
                zip(values["joints"], answer["contributions_mm"], strict=True)
            )[:24]
        ),
        height=310,
        shapes=(
            *frame(chart, "place [m]", "off the line [mm], up positive"),
            curve(chart, [(chart.x.low, 0.0), (chart.x.high, 0.0)], "axis"),
            curve(chart, points),
            *(
                disc(chart.at(point), 4, "ring")
                for point, (joint, _) in _at_joints(points, joints)
            ),
            *_tip_band(chart, tip, sigma),
            disc(chart.at(tip), 6, "asked"),
            beside(chart, tip, text),
        ),
        notes=("Rings: joints.",)
        + (("Upright bar: plus and minus one sigma.",) if sigma else ()),
    )


def _off_line(joints: Sequence[Any], tip_m: float) -> list[tuple[float, float]]:
    """Walk along the joints, turning by each angle and stepping by each offset."""
    points, height, slope = [], 0.0, 0.0
    at = joints[0][0]["at_m"]
    for joint, offset in joints:
        height += slope * (joint["at_m"] - at) * 1000
        at = joint["at_m"]
        points.append((at, height))
        if offset:
            height += offset
            points.append((at, height))
        slope += joint["error_rad"]
    return [*points, (tip_m, height + slope * (tip_m - at) * 1000)]


def _at_joints(points: Sequence[Any], joints: Sequence[Any]) -> Iterator[Any]:
    counts = accumulate(2 if offset else 1 for _, offset in joints)
    for count, pair in zip(counts, joints, strict=True):
        yield points[count - 1], pair


def _tip_band(chart: Chart, tip: tuple[float, float], sigma: float) -> Iterator[Shape]:
    if sigma:
        x = chart.across(tip[0])
        low, high = chart.down(tip[1] - sigma), chart.down(tip[1] + sigma)
        yield line((x, low), (x, high), "arrow")
        for y in (low, high):
            yield line((x - 6, y), (x + 6, y), "arrow")


def shim(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the joint opened by its shim, and where the tip goes; not to scale."""
    joint, tip, top, foot, lift = 84.0, 420.0, 70.0, 150.0, 34.0
    thick = f"{read(values['thickness_mm'])} mm"
    yield Drawing(
        title="Shim in the joint, not to scale",
        told=f"A shim of {thick} at the foot of a joint {read(values['depth_m'])} m "
        f"deep lifts a tip {read(values['tip_distance_m'])} m away by "
        f"{read(answer['tip_mm'])} mm.",
        height=232,
        shapes=(
            box((20, top), joint - 22, foot - top, "face"),
            through([[(joint, top), (tip, top - lift), (tip + 9, foot - lift - 8),
                      (joint + 14, foot)]], "part", closed=True),
            line((joint, top), (tip, top), "ahead"),
            box((joint - 1, foot - 12), 15, 12, "spare"),
            *arrow((tip + 22, top), (tip + 22, top - lift)),
            word((WIDTH - 6, top - lift - 10), f"+{read(answer['tip_mm'])} mm",
                 "strong", "end"),
            word((joint - 8, foot + 20), f"shim {thick}", "strong", "middle"),
            *arrow((joint + 30, 200), (tip, 200)),
            *arrow((joint + 30, 200), (joint, 200)),
            word((250, 192), f"{read(values['tip_distance_m'])} m", "words", "middle"),
            word((26, (top + foot) / 2 + 4), f"{read(values['depth_m'])} m", "words"),
        ),
        notes=("The shim is drawn at the foot: the tip goes away from its side.",),
    )  # fmt: skip


def wind(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the wind over the height by the tabulated factors."""
    speed = values["speed_10m_m_per_s"]
    points = [(factor * speed, height) for height, factor in HEIGHT_FACTORS.points]
    asked = (answer["speed_m_per_s"], values["height_m"])
    chart = Chart(
        x=axis([x for x, _ in points], zero=True),
        y=axis([h for _, h in points], zero=True),
        height=250,
    )
    at = chart.at(asked)
    yield Drawing(
        title="Wind over height",
        told=f"{read(speed)} m/s at 10 m becomes {read(asked[0])} m/s at "
        f"{read(asked[1])} m, a factor of {read(answer['factor'])}.",
        height=340,
        shapes=(
            *frame(chart, "wind [m/s]", "height [m]"),
            curve(chart, points),
            *(disc(chart.at(point), 4, "ring") for point in points),
            line((chart.left, at[1]), at, "ahead"),
            line((at[0], chart.foot), at, "ahead"),
            disc(at, 6, "asked"),
            word((at[0] - 10, at[1] - 9), f"{read(asked[0])} m/s at {read(asked[1])} m",
                 "strong", "end"),
        ),
        notes=("Rings: tabulated factors; straight between them.",),
    )  # fmt: skip
