"""The share of a clock printed beside its deadline is of what that deadline allows."""

from types import SimpleNamespace
from typing import Any

import pytest

from fieldapp.records.clocks import clock_parts
from fieldapp.records.pages import _environment

HOUR_MS = 3_600_000
WORDS = SimpleNamespace(fact=lambda _, name: name)
BY = {"id": "by", "title": "Grout by", "num": 3, "den": 4}


@pytest.mark.parametrize(
    ("clock", "told", "of"),
    [
        # 118 h of 15 days (360 h), which the plan writes as three quarters of 20.
        ({}, "32.8\N{NO-BREAK SPACE}%", "limit"),
        # Of a life by temperature the share is of the life.
        ({"temps": ["faces.hot"]}, "24.6\N{NO-BREAK SPACE}%", "life"),
    ],
)
def test_the_share_by_time_alone_is_of_the_days_its_deadline_allows(
    clock: dict[str, Any], told: str, of: str
) -> None:
    raw = {
        "clocks": [{"id": "bare", "title": "Strand in the duct", "start": "in",
                    "until": "grouted", "ratios": [BY], **clock}],
        "steps": {"in": {}},
    }  # fmt: skip
    state = {
        "milestones": {"grouted": {}},
        "steps": {},
        "clocks": {"bare": {
            "start": 0, "run_ms": 118 * HOUR_MS, "used_ppm": 245_833, "ended": True,
            "status": "met", "deadlines": {"by": 360 * HOUR_MS},
            "left": {"by": 242 * HOUR_MS},
        }},
    }  # fmt: skip
    opened = SimpleNamespace(raw=raw, zone=0, words=WORDS, part=lambda _: {})
    (part,) = clock_parts(opened, state)  # type: ignore[arg-type]
    assert (part.used, part.share_of) == (told, of)
    # The head of the column says nothing that is not so of every clock.
    table = _environment().get_template("parts.html").module.clock_table([part])
    assert "Life used" not in table
    assert f'{told} <span class="quiet">of {of}</span>' in table
