"""Pictures of clocks: curves of lives that run by temperature, bars of the others."""

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from fieldapp.core.clocks import OVER_MS
from fieldapp.records.clocks import ClockPart, Deadline
from fieldapp.records.marks import mark
from fieldapp.records.pictures.drawing import text_width_mm
from fieldapp.records.pictures.layout import clock_drawings
from fieldapp.records.pictures.life import (
    FOOT_MM,
    TOP_MM,
    WHOLE_PPM,
    life_bars,
    life_curve,
)
from tests.records.test_pictures import attribute, words

MOST_SHAPES = 60


def clock(**changes: object) -> ClockPart:
    """A clock that ran 30 min and used half its life; deadline at 48 min, 80 %."""
    deadline = Deadline(
        id="by", title="Pressure by", at_ms=48 * 60_000, when="00:48",
        share_ppm=800_000, capped=False, kept="18 min in hand",
    )  # fmt: skip
    parts = {
        "id": "open", "line_id": "", "starts": "mix", "title": "Open time", "line": "",
        "mark": mark("met", "clock"), "start_ms": 0,
        "end_ms": 30 * 60_000, "ended": True, "used_ppm": 500_000, "start": "00:00",
        "run": "30 min", "share_of": "life", "used": "50.0 %", "until": "pressure",
        "alarm": "", "per_line": False, "steady": False, "deadlines": (deadline,),
    }  # fmt: skip
    return ClockPart(**{**parts, **changes})  # type: ignore[arg-type]


def test_the_curve_of_a_life_stands_at_the_share_used_when_it_ended() -> None:
    drawn = life_curve(clock(), 0)
    # The axis ends at 11/10 of the greatest share, 880,000 ppm.
    height = FOOT_MM - 500_000 / 880_000 * (FOOT_MM - TOP_MM)
    dots = [s for s in drawn.shapes if s.tag == "circle"]
    assert any(math.isclose(attribute(s, "cy"), height, abs_tol=0.01) for s in dots)
    assert "50.0 %" in words(drawn)
    assert "00:48 pressure by" in words(drawn)


def test_the_share_used_stands_clear_of_a_deadline_soon_after() -> None:
    (deadline,) = clock().deadlines
    later = replace(deadline, id="over", at_ms=70 * 60_000, share_ppm=WHOLE_PPM)
    soon = replace(deadline, at_ms=33 * 60_000)
    drawn = life_curve(clock(deadlines=(soon, later)), 0)
    share = next(s for s in drawn.shapes if s.text == "50.0 %")
    left = attribute(share, "x")
    right = left + text_width_mm("50.0 %")
    # A deadline's line stands upright from the axis.
    lines = [
        attribute(s, "x1")
        for s in drawn.shapes
        if s.tag == "line" and "stroke-dasharray" in dict(s.attributes)
    ]
    assert len(lines) == 2
    assert all(not left <= x <= right for x in lines), (left, right, lines)


def test_a_clock_whose_time_is_not_known_is_drawn_with_few_lines() -> None:
    # It counts as over by centuries; lines of every quarter never came to an end.
    endless = clock(end_ms=clock().start_ms + OVER_MS, used_ppm=OVER_MS)
    assert len(life_curve(endless, 0).shapes) < MOST_SHAPES


def test_clocks_of_minutes_have_an_axis_of_their_own_beside_those_of_days() -> None:
    minute, day = 60_000, 1_440 * 60_000

    def steady(title: str, length_ms: int) -> ClockPart:
        by = replace(clock().deadlines[0], at_ms=2 * length_ms)
        return clock(title=title, steady=True, end_ms=length_ms, deadlines=(by,))

    clocks = (steady("Bare", 4 * day), steady("Mixer", 18 * minute),
              steady("Tension", 5 * day), steady("Vent", 20 * minute))  # fmt: skip
    drawn = clock_drawings(SimpleNamespace(zone=60), clocks)  # type: ignore[arg-type]
    told = [
        (each.caption, [w for w in words(each) if w in {c.title for c in clocks}])
        for each in drawn
    ]
    assert told == [
        ("Clocks: days, deadline dashed", ["Bare", "Tension"]),
        ("Clocks: minutes, deadline dashed", ["Mixer", "Vent"]),
    ]


def test_a_deadline_set_by_a_cap_bends_no_curve() -> None:
    (deadline,) = clock().deadlines
    capped = replace(deadline, at_ms=20 * 60_000, capped=True)
    drawn = life_curve(clock(deadlines=(capped,)), 0)
    curve = next(
        dict(s.attributes)["d"]
        for s in drawn.shapes
        if s.tag == "path" and dict(s.attributes)["fill"] == "none"
    )
    assert curve.count("L") == 1, "from the start straight to the end"


@pytest.mark.parametrize("minutes", [9, 60, 120, 150, 300, 1_440, 2_880, 5_760, 21_600])
def test_no_label_of_an_axis_stands_twice(minutes: int) -> None:
    by = replace(clock().deadlines[0], at_ms=minutes * 60_000)
    (drawn,) = life_bars([clock(steady=True, end_ms=60_000, deadlines=(by,))])
    labels = [each for each in words(drawn) if each.isdigit()]
    assert len(labels) > 2
    assert len(set(labels)) == len(labels), (drawn.caption, labels)


def test_the_share_used_is_not_written_over_the_next_deadline_s_name() -> None:
    minute = 60_000
    (deadline,) = clock().deadlines
    over = replace(deadline, at_ms=66 * minute, share_ppm=WHOLE_PPM)
    part = replace(deadline, at_ms=76 * minute, share_ppm=1_150_000)
    late = clock(end_ms=73 * minute, used_ppm=1_096_000, used="109.6 %",
                 deadlines=(deadline, over, part))  # fmt: skip
    drawn = life_curve(late, 0)
    share = next(s for s in drawn.shapes if s.text == "109.6 %")
    names = [s for s in drawn.shapes if "pressure by" in str(s.text)]
    assert len(names) == 3
    assert all(abs(attribute(share, "y") - attribute(n, "y")) > 3 for n in names)
