"""Times that had to pass, as paper tells them."""

from types import SimpleNamespace
from typing import Any

from fieldapp.records.clocks import HoldPart, hold_parts

HOLD = {"id": "wait", "title": "24 hours after cleaning", "source": "practice",
        "before": ["mix"]}  # fmt: skip
UNTIL_MS = 1_800_000_000_000


def _told(**state: Any) -> HoldPart:
    opened: Any = SimpleNamespace(
        raw={"holds": [HOLD]}, state={"holds": {"wait": state}, "steps": {}}, zone=60
    )
    [part] = hold_parts(opened)
    return part


def test_a_wait_that_runs_is_told_with_its_end() -> None:
    part = _told(status="running", until=UNTIL_MS)
    assert (part.mark.word, part.until != "") == ("running", True)


def test_a_wait_whose_beginning_nobody_knows_has_no_hour() -> None:
    part = _told(status="untimed")
    assert (part.mark.word, part.until) == ("its beginning is not known", "")
