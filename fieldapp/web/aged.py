"""What a gate wants fresh: how long each reading will do, and what is too old by now.

A release stands whatever grows old after it; who acts on it is told all the same.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.web.stages import PASSED


@dataclass(frozen=True, slots=True, kw_only=True)
class Age:
    """A requirement of a gate that a step's newest reading be no older than `most`.

    read: when that was, ms UTC.
    """

    requirement: str
    step: str
    read: int
    most: int

    @property
    def until(self) -> int:
        """Give how long the reading will do, ms UTC."""
        return self.read + self.most


def ages(found: Folded, gate: str) -> Iterator[Age]:
    """Yield what a gate wants fresh and was read."""
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
        if read:
            yield Age(requirement=each["id"], step=step, read=max(read), most=most)


def aged(found: Folded, gate: str, now: int) -> Iterator[Age]:
    """Yield what a gate wants fresh and whose newest reading is too old at `now`."""
    return (each for each in ages(found, gate) if each.until < now)


def met_until(found: Folded, gate: str, now: int) -> dict[str, int]:
    """Give how long the fold takes each requirement as met that only time ends, ms UTC.

    By the requirement's id; what is not met, or is passed, ends no more.
    """
    point = found.state["points"][gate]
    if point["status"] in PASSED:
        return {}
    unmet = {each["facts"].get("requirement") for each in point["refusals"]}
    return {
        each.requirement: each.until
        for each in ages(found, gate)
        if each.requirement not in unmet and each.until >= now
    }


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
