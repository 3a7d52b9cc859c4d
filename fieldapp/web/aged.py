"""What a released gate rested on and is older by now than its plan allows.

A release stands whatever grows old after it; who acts on it is told all the same.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.lookups import Folded


def aged(found: Folded, gate: str, now: int) -> Iterator[tuple[str, int, int]]:
    """Yield each step a gate wants fresh and whose newest reading is too old at `now`.

    Gives the step's name, when it was read (ms UTC) and how old it may be (ms).
    """
    sheet = found.sheet.raw
    for each in sheet["points"][gate].get("requires", ()):
        asked = _age_asked(sheet, each["must"])
        if asked is None:
            continue
        step, most = asked
        read = [
            line["at"]
            for line in found.state["steps"][step]["lines"].values()
            if line["status"] != "discarded" and "at" in line
        ]
        if read and max(read) + most < now:
            yield step, max(read), most


def _age_asked(sheet: dict[str, Any], must: Any) -> tuple[str, int] | None:
    """Give the step and its greatest age (ms) where a condition asks just that."""
    said = sheet.get("conditions", {}).get(must) if isinstance(must, str) else must
    if not said or said.get("word") != "between" or said.get("low") is not None:
        return None
    value, high = said["value"], said.get("high")
    if not isinstance(value, dict) or value.get("word") != "elapsed":
        return None
    start = value["from"]
    if value["to"] != "now" or not isinstance(start, dict) or "step" not in start:
        return None
    return (start["step"], high) if isinstance(high, int) else None
