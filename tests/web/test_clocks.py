"""Running lives as pages tell them: a share of minutes, never one of days."""

import pytest

from fieldapp.web.clocks import clocks_told

MINUTE_MS, DAY_MS = 60_000, 86_400_000


@pytest.mark.parametrize(
    ("run_ms", "left_ms", "used"),
    # Seven days are a share of a life of twenty: nobody is told it as a share used.
    [(40 * MINUTE_MS, 20 * MINUTE_MS, "66.6 %"), (6 * DAY_MS, DAY_MS, "")],
)
def test_a_life_of_days_is_told_by_its_deadlines_alone(
    run_ms: int, left_ms: int, used: str
) -> None:
    sheet = {
        "steps": {"begun": {"title": "Begun"}, "shut": {"title": "Shut"}},
        "points": {},
        "milestones": [],
        "clocks": [{"id": "life", "title": "Life", "start": "begun", "until": "shut",
                    "ratios": [{"id": "by", "title": "By"}]}],
    }  # fmt: skip
    now = {"ended": 0, "run_ms": run_ms, "left": {"by": left_ms}, "start": 0,
           "used_ppm": 665_901, "deadlines": {"by": run_ms + left_ms}}  # fmt: skip
    (told,) = clocks_told(sheet, {"clocks": {"life": now}})
    assert told["used"] == used
