"""Pictures of calculations: what they show, in both themes, and on paper."""

import re
from pathlib import Path
from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.web.calculations.pictures.canvas import PENS, Drawing, Shape
from fieldapp.web.calculations.pictures.chart import axis
from fieldapp.web.calculations.pictures.gallery import PICTURES, pictures
from fieldapp.web.calculations.pictures.labels import Labels

CSS = Path(__file__).resolve().parents[2] / "static" / "css"
# A plate 2 m wide and 1 m deep: A = 2 m2, Ixx = 2/12 m4.
PLATE = {
    "outline": [[0, 0], [2, 0], [2, 1], [0, 1]],
    "bars": [{"x_m": 1, "y_m": 1, "force_kn": 2000}],
}


def drawn(name: str, data: dict[str, Any] | None = None) -> tuple[Drawing, ...]:
    chosen = catalogue.get(name)
    given = dict(chosen.example) if data is None else data
    values = chosen.inputs.read(given, "")
    return pictures(chosen, values, catalogue.run(name, given))


def words(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if shape.tag == "text"]


def of_pen(drawing: Drawing, pen: str) -> list[Shape]:
    return [shape for shape in drawing.shapes if shape.pen == pen]


def place(shape: Shape, name: str) -> float:
    return float(dict(shape.place)[name])


def test_every_calculation_has_a_picture_of_its_own() -> None:
    assert set(PICTURES) == set(catalogue.names())


@pytest.mark.parametrize("name", catalogue.names())
def test_a_picture_stays_in_its_frame_and_is_told_in_words(name: str) -> None:
    for drawing in drawn(name):
        assert drawing.title
        assert len(drawing.told) > 20
        assert any(figure.isdigit() for figure in drawing.told)
        for shape in drawing.shapes:
            for key, value in shape.place:
                if key in ("x", "x1", "x2", "cx"):
                    assert -1 <= float(value) <= drawing.width + 1, shape
                if key in ("y", "y1", "y2", "cy") and shape.tag != "linearGradient":
                    assert -1 <= float(value) <= drawing.height + 1, shape


def test_every_pen_is_known_on_paper_and_on_the_page() -> None:
    style = (CSS / "calculations.css").read_text("utf-8")
    used = {shape.pen for name in catalogue.names() for drawing in drawn(name)
            for each in drawing.shapes for shape in (each, *each.inside)}  # fmt: skip
    assert used - {""} <= set(PENS)
    assert set(PENS) == set(re.findall(r"\.p-([a-z-]+)", style))


def test_tension_is_told_by_sign_word_line_and_colour() -> None:
    # By hand: the bar on the top edge, P/A = 1 MPa, M = 2000 x 0.5 = 1000 kNm, and
    # M y / I = 1000 x 0.5 / (2/12) = 3 MPa: +4 at the top, -2 at the foot.
    (drawing,) = drawn("joint-stress", PLATE)
    assert words(drawing).count("+4") == 3
    assert words(drawing).count("−2") == 3
    assert [s.text for s in of_pen(drawing, "alarm")] == ["−2"] * 3
    assert "Part of the face is in tension, beyond the dashed line." in drawing.notes
    zero = next(s for s in of_pen(drawing, "limit") if s.tag == "line")
    top, foot = (
        min(place(s, "cy") for s in of_pen(drawing, "dot")),
        max(place(s, "cy") for s in of_pen(drawing, "bad")),
    )
    # The stress is nought a third of the depth above the foot.
    assert place(zero, "y1") == pytest.approx(foot - (foot - top) / 3, abs=0.2)
    assert place(zero, "y1") == place(zero, "y2")
    fills = [s for s in drawing.shapes if s.tag == "linearGradient"]
    assert [stop.pen for stop in fills[0].inside] == ["pull", "pull", "press", "press"]
    assert dict(fills[0].inside[1].place)["offset"] == "0.3333"


def test_a_face_all_pressed_has_no_tension_in_its_picture() -> None:
    data = PLATE | {"bars": [{"x_m": 1, "y_m": 0.5, "force_kn": 2000}]}
    (drawing,) = drawn("joint-stress", data)
    assert words(drawing).count("+1") == 6
    assert not of_pen(drawing, "alarm")
    assert not of_pen(drawing, "bad")


def test_every_state_is_drawn_by_its_name_with_lost_and_overloaded_bars() -> None:
    bars = [
        {"x_m": 0.5, "y_m": 0.5, "force_kn": 900, "cap_kn": 800},
        {"x_m": 1.5, "y_m": 0.5, "force_kn": 900},
    ]
    states = [{"name": n, "moment_x_knm": 0, "moment_y_knm": 0} for n in ("one", "two")]
    pair = drawn("joint-stress", PLATE | {"bars": bars, "lost": [1], "states": states})
    assert [d.title for d in pair] == [
        "Stress on the face, one, MPa",
        "Stress on the face, two, MPa",
    ]
    assert "Above its cap: bar 0." in pair[0].notes
    assert len({dict(s.place)["id"] for d in pair for s in d.shapes
                if s.tag == "linearGradient"}) == 4  # fmt: skip


def test_balance_shows_each_side_within_or_not() -> None:
    _, moments = drawn("balance")
    # By hand: 462 x (4.5 + 7.5) + 80 x 6 - 462 x 4.5 = 3945 kNm towards A.
    assert "3945" in words(moments)
    assert "8796 not within" in words(moments)
    assert "480 within" in words(moments)
    lines = of_pen(moments, "limit")
    assert place(lines[0], "x1") < place(lines[1], "x1"), "A is drawn on the left"


def test_a_tendon_shows_both_forces_and_where_the_set_ends() -> None:
    (drawing,) = drawn("tendon")
    assert of_pen(drawing, "curve")
    assert of_pen(drawing, "second")
    assert "set 13.65 m" in words(drawing)
    assert "anchor 3124 kN" in words(drawing)


def test_life_used_shows_each_ratio_at_its_minute() -> None:
    used, temperatures = drawn("adhesive-life")
    assert "0.7 at 36.05 min" in words(used)
    assert "1 at 49.7 min" in words(used)
    assert temperatures.title == "Temperatures that were read"


def test_a_life_spent_by_heat_is_drawn_and_a_plan_has_its_own_picture() -> None:
    table = [[10, 120], [30, 30]]
    hot = {"life_table": table, "temperatures": [[0, 20], [5, 35]]}
    assert "1 at 0 min" in words(drawn("adhesive-life", hot)[0])
    # By hand: halfway between, the geometric mean: sqrt(120 x 30) = 60 min.
    (plan,) = drawn("adhesive-life", {"life_table": table, "temp_c": 20})
    assert "60 min at 20 °C" in words(plan)


def test_a_jack_without_certificate_says_so() -> None:
    (drawing,) = drawn("jack", {"ram_area_cm2": 100, "pressure_bar": 300})
    assert drawing.notes == (
        "No certificate: the ram's area alone, friction left out.",
    )


def test_a_day_without_a_start_that_succeeds_says_so() -> None:
    data = dict(catalogue.get("joint-window").example) | {"allowed_ratio": 0.01}
    chances, _ = drawn("joint-window", data)
    assert "No start succeeds in any run." in chances.notes
    assert not of_pen(chances, "good")


def test_more_formulations_than_find_room_keep_the_best_in_the_picture() -> None:
    example = dict(catalogue.get("joint-window").example)
    cool, warm = example["formulations"]
    never = cool | {"temp_min_c": 40, "temp_max_c": 41}
    many = [never | {"name": f"n{i}"} for i in range(4)] + [warm]
    chances, _ = drawn("joint-window", example | {"formulations": many})
    assert "warm" in words(chances)
    assert "The sheet has the other formulations." in chances.notes


@pytest.mark.parametrize(
    ("values", "zero", "ticks"),
    [
        ([0, 10], True, [0, 2, 4, 6, 8, 10]),
        ([-3, 3], False, [-2, 0, 2]),
        ([5], True, [0, 1, 2, 3, 4, 5]),
    ],
)
def test_ticks_are_round(values: list[float], zero: bool, ticks: list[float]) -> None:
    assert axis(values, zero=zero).ticks == pytest.approx(ticks)


@pytest.mark.parametrize("values", [[], [7.0], [1e12, 1e12], [float("inf")], [-1e-30]])
def test_an_axis_always_has_a_width(values: list[float]) -> None:
    made = axis(values)
    assert made.high > made.low
    assert made.step > 0
    assert len(made.ticks) <= 21


def test_words_that_would_lie_on_others_are_moved_or_left_out() -> None:
    labels = Labels(width=200)
    assert labels.put("first", [((10, 20), "start")], "words")
    assert not labels.put("other", [((12, 22), "start")], "words")
    assert labels.put("other", [((12, 22), "start"), ((12, 60), "start")], "words")
    assert not labels.put("too far to the right", [((190, 100), "start")], "words")
    assert [shape.text for shape in labels.shapes] == ["first", "other"]


THEMES = ("light", "dark")
ON = {
    "ink": ("paper", "ground", "fill-face", "good-band", "bad-band", "cool-band"),
    "hint": ("paper", "ground"), "soft": ("paper", "ground"),
    "red": ("paper", "ground", "red-wash"), "yellow": ("yellow-wash",),
    "green": ("green-wash",), "bar-ink": ("bar",),
}  # fmt: skip


@pytest.mark.parametrize("theme", THEMES)
def test_words_stand_out_seven_to_one_in_both_themes(theme: str) -> None:
    colours = _colours(theme)
    for ink, grounds in ON.items():
        for ground in grounds:
            ratio = _contrast(colours[ink], colours[ground])
            assert ratio >= 7, f"{theme}: {ink} on {ground} is {ratio:.2f}"


def _colours(theme: str) -> dict[str, str]:
    """The colours of a theme, the desk's first, then what the pages change."""
    found: dict[str, str] = {}
    for name in ("desk.css", "calculations.css"):
        text = (CSS / name).read_text("utf-8").partition("@media print")[0]
        light, _, dark = text.partition("@media (prefers-color-scheme: dark)")
        for part in (light, dark.partition("\n}")[0])[: 1 + (theme == "dark")]:
            found |= dict(re.findall(r"--([a-z-]+):\s*(#[0-9a-f]{6})", part))
    return found


def _contrast(one: str, other: str) -> float:
    """Contrast as WCAG 2 defines it, from relative luminance."""
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [
        p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
