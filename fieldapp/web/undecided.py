"""Since when a nonconformance has been waiting to be decided: since there was anything
to decide, which is not always when what it is about was read.
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.faults import OVER, UNSIGNED
from fieldapp.lookups import Folded
from fieldapp.lookups.register import corrections_of
from fieldapp.records.certificates import CORRECTED
from fieldapp.records.hours import office_ms
from fieldapp.web.clocks import clocks_told
from fieldapp.web.desk import Desk
from fieldapp.web.flags import received_of

Fault = Mapping[str, Any]


def waits_since(here: Desk, found: Folded, fault: Fault, raised: Entry | None) -> int:
    """Give the moment, ms UTC; now where nobody can tell it."""
    if raised is None:
        return here.now
    read = office_ms(raised, received_of(found))
    if fault["code"] == CORRECTED:
        return _corrected(here, fault, raised) or read
    if fault["code"] == OVER:
        return max(read, _over(found, fault))
    if fault["code"] == UNSIGNED:
        point = found.sheet.raw["points"].get(raised.point or "", {})
        return read + int(point.get("spoken_ms", 0))
    return read


def _corrected(here: Desk, fault: Fault, raised: Entry) -> int:
    """Give when the certificate a reading relied on was first corrected, else 0."""
    item = str(raised.values.get(fault["check"], ""))
    told = [after for before, after in corrections_of(here.reader, item)
            if before.id in raised.needs]  # fmt: skip
    return min((each.at for each in told), default=0)


def _over(found: Folded, fault: Fault) -> int:
    """Give when the deadline was of a clock of this attempt, else 0."""
    return max(
        (
            each["at"]
            for clock in clocks_told(found.sheet.raw, found.state)
            if (clock["start"], clock["line"]) == (fault["step"], fault.get("line", ""))
            for each in clock["deadlines"]
            if each["id"] == fault["check"]
        ),
        default=0,
    )
