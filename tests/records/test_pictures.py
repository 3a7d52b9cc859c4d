"""Pictures against what can be worked out by hand from the same readings."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from fieldapp.records.opened import open_evidence, value_at
from fieldapp.records.pictures import drawings
from fieldapp.records.pictures.counted import counted
from fieldapp.records.pictures.drawing import (
    Drawing,
    Shape,
    fitted,
)
from fieldapp.records.pictures.elevation import elevation, frame_of, segment_names
from fieldapp.records.pictures.joint_stress import _between, _cut, _inside, _plane
from tests.records.joint import FROZEN
from tests.records.paper import evidence, view

SQUARE = [[0, 0], [1_000, 0], [1_000, 1_000], [0, 1_000]]


def words(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if shape.tag == "text"]


def attribute(shape: Shape, name: str) -> float:
    return float(dict(shape.attributes)[name])


def test_the_elevation_marks_the_subject_once_and_names_every_segment() -> None:
    drawn = elevation(open_evidence(evidence("good")))
    assert drawn is not None
    assert drawn.title == (
        "Elevation of Marrowfen Bridge over the River Tisk with"
        f" {evidence('good').sheet['title']} marked"
    )
    said = words(drawn)
    assert said.count("j-w1") == 1
    assert {f"W{n}" for n in range(1, 10)} | {f"E{n}" for n in range(1, 10)} <= set(
        said
    )


def test_ids_too_long_for_their_boxes_lose_what_the_place_says_already() -> None:
    def named(ids: list[list[str]], length: int, last: int = 0) -> list[str]:
        arms = [
            {"side": side, "segments": [
                {"id": name, "at": side * n * length,
                 "length": last if last and n == len(names) - 1 else length,
                 "depth": 2_000, "level": 40_000}
                for n, name in enumerate(names)]}
            for side, names in zip((-1, 1), ids, strict=True)
        ]  # fmt: skip
        pier = {"id": "p", "at": 0, "level": 45_000, "half": 500, "arms": arms}
        frame, _ = frame_of([pier])
        return list(segment_names(frame, pier).values())

    both = [[f"3W{n}" for n in range(1, 14)], [f"3E{n}" for n in range(1, 14)]]
    # Boxes of 7 mm on 180: all there is; fifty of them: the number alone.
    assert named(both, 3_000) == both[0] + both[1]
    many = [[f"3W{n}" for n in range(10, 34)], [f"3E{n}" for n in range(10, 34)]]
    assert named(many, 3_000) == [str(n) for n in range(10, 34)] * 2
    # One short box at the tip stays bare and takes no other's name away.
    assert named(many, 3_000, 300) == [str(n) for n in range(10, 34)] * 2
    # One segment alone keeps a letter, and a name never becomes nothing.
    assert named([["north"], []], 3_000) == ["north"]


def test_a_site_without_piers_has_no_elevation() -> None:
    bare = replace(evidence("good"), site={**evidence("good").site, "piers": []})
    assert elevation(open_evidence(bare)) is None


@pytest.mark.parametrize("story", ["good", "troubled", "use_as_is", "crowded"])
def test_every_shape_lies_within_its_picture(story: str) -> None:
    record = view(story)
    halves = [d for group in record.halves for column in group for d in column]
    slim = drawings(open_evidence(evidence(story)), apart=True)
    drawn = [d for d in (record.elevation, *halves, *record.wholes, *slim) if d]
    for drawing in drawn:
        for shape in drawing.shapes:
            for name, most in (
                ("x", drawing.width_mm), ("x1", drawing.width_mm),
                ("x2", drawing.width_mm), ("cx", drawing.width_mm),
                ("y", drawing.height_mm), ("y1", drawing.height_mm),
                ("y2", drawing.height_mm), ("cy", drawing.height_mm),
            ):  # fmt: skip
                if name in dict(shape.attributes):
                    found = attribute(shape, name)
                    assert -0.01 <= found <= most + 0.01, (drawing.title, shape)


def test_the_stress_plane_passes_through_every_corner() -> None:
    opened = open_evidence(evidence("good"))
    picture = next(p for p in opened.raw["pictures"] if p["binding"] == "joint_stress")
    for state in picture["states"]:
        corners = [
            ((c["x"], c["y"]), opened.state["values"][c["value"]])
            for c in state["corners"]
        ]
        plane = _plane(corners)
        # Each corner is rounded to 0.0001 MPa; the long thin deck lends leverage.
        assert all(abs(plane.at(place) - stress) < 5 for place, stress in corners)


def test_a_band_is_cut_where_the_plane_has_its_stresses() -> None:
    # Stress x on a square of side 1000: between 250 and 500 a strip of 250 × 1000.
    corners = [((x, y), x) for x, y in SQUARE]
    strip = _between(SQUARE, _plane(corners), 250, 500)
    assert sorted({round(x) for x, _ in strip}) == [250, 500]
    assert area(strip) == pytest.approx(250_000)


def test_nothing_is_left_of_a_ring_that_lies_outside() -> None:
    assert _cut([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)], lambda _place: -1.0) == []


@pytest.mark.parametrize(
    ("place", "inside"), [((500, 500), True), ((1_500, 500), False), ((500, -1), False)]
)
def test_a_place_is_in_the_hollow_or_not(
    place: tuple[int, int], *, inside: bool
) -> None:
    assert _inside(*place, SQUARE) == inside


def test_the_stress_picture_states_the_folds_own_figures() -> None:
    opened = open_evidence(evidence("good"))
    drawn = [d for d in drawings(opened) if "Stress" in d.caption]
    assert len(drawn) == 2
    least = opened.state["values"]["stress.gear.least"]
    assert f"least 0.{least:04d} (at least 0.2070)" in drawn[0].title


def test_bars_not_yet_read_are_not_drawn() -> None:
    assert not [d for d in drawings(open_evidence(evidence("begun"))) if d.wide]


def test_a_bar_outside_its_band_is_named_in_words_not_in_red_alone() -> None:
    drawn = next(d for d in drawings(open_evidence(evidence("use_as_is"))) if d.wide)
    assert sum(text.endswith(" !") for text in words(drawn)) == 1


def test_a_screen_has_forces_and_extensions_in_pictures_of_their_own() -> None:
    opened = open_evidence(evidence("use_as_is"))
    (wide,) = [d for d in drawings(opened) if d.wide]
    slim = [d for d in drawings(opened, apart=True) if d.slim]
    force, extension = slim
    assert not any(each.wide for each in drawings(opened, apart=True))
    figures = sorted(text for text in words(wide) if "." in text)
    apart = [*words(force), *words(extension)]
    assert len(figures) == 12
    assert figures == sorted(text for text in apart if "." in text)
    assert sum(text.endswith(" !") for text in words(force)) == 1


def test_the_extension_asked_for_is_the_reading_less_the_departure() -> None:
    opened = open_evidence(evidence("good"))
    line = next(
        each
        for each in FROZEN["sheet"]["steps"]["bars"]["lines"]
        if each["id"] == "b1-r3"
    )
    force = value_at(opened, "force", "bars/b1-r3")
    departure = value_at(opened, "extension-off", "bars/b1-r3")
    assert force is not None
    assert departure is not None
    asked = (1_100 - departure) / 100
    # The plan's own figure for the target force, scaled to the force reached.
    ratio = (force / 10 - 50) / (line["numbers"]["target"] / 10 - 50)
    assert asked == pytest.approx(line["numbers"]["extension"] / 100 * ratio, abs=0.02)


def test_the_thickness_picture_tells_mean_and_spots() -> None:
    drawn = next(
        d for d in drawings(open_evidence(evidence("good"))) if "film" in d.title
    )
    assert "mean 1.87" in drawn.title
    assert words(drawn).count("1.70") == 3


def test_a_label_too_long_for_its_place_is_cut_with_a_mark() -> None:
    assert fitted("short", 40) == "short"
    assert fitted("bar 1, on the far side of the deck", 20).endswith("…")


def area(ring: list[tuple[float, float]]) -> float:
    """Give the area of a ring by the shoelace formula."""
    pairs = zip(ring, ring[1:] + ring[:1], strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)) / 2


def test_the_forces_at_the_bars_say_what_they_are_less_than_read() -> None:
    drawn = [d for d in view("good").halves[0][0] if "Stress" in d.caption]
    # 447.0 at the jack, 423.4 counted: 0.5 mm of seating over the bar is 23.6 kN.
    [note] = drawn[0].notes
    assert "force counted [kN], the last at the jack less 23.6 as the nut seats" in note
    # Of a plan that takes nothing off, or more off some bars, no other figure is said.
    last = {"word": "reduce", "how": "last", "step": "bars", "value": "force"}
    loss = {"word": "constant", "name": "seating"}
    less = {"word": "form", "divisor": 1, "terms": [[1, "read"], [-1, loss]]}
    lines = [{"numbers": {"seating": each}} for each in (182, 236, 201)]
    raw: dict[str, Any] = {
        "values": {"f": last, "force": "read"},
        "steps": {"bars": {"lines": lines}},
    }
    picture = {"bars": [{"force": "f"}]}
    bare: Any = SimpleNamespace(raw=raw)
    assert counted(bare, picture) == "force last read [kN]"
    raw["values"]["force"] = less
    assert "less 18.2 to 23.6 as the nut seats" in counted(bare, picture)
