"""What an audit says: every finding with its place, and what was looked at.

A fault is something that cannot have come about by honest work; a note is something
that can (an entry on its way, a phone restored from a copy) and that a person should
know of.
"""

from collections.abc import Sequence
from dataclasses import dataclass

FAULT, NOTE = "fault", "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing found: where (index 12, receipt 4 …), what, and how grave it is."""

    where: str
    what: str
    grade: str = FAULT

    def __str__(self) -> str:
        """Give the line a person reads."""
        return f"{self.where}: {self.what}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """The findings in the order of the work, and how many of each thing were seen."""

    findings: tuple[Finding, ...]
    counts: dict[str, int]
    site: str
    epoch: str
    last: int
    head: str

    @property
    def faults(self) -> tuple[Finding, ...]:
        """Give what cannot have come about by honest work."""
        return tuple(each for each in self.findings if each.grade == FAULT)

    @property
    def notes(self) -> tuple[Finding, ...]:
        """Give what a person should know of."""
        return tuple(each for each in self.findings if each.grade == NOTE)


def note(where: str, what: str) -> Finding:
    """Give a finding that honest work explains."""
    return Finding(where=where, what=what, grade=NOTE)


def fault(where: str, what: str) -> Finding:
    """Give a finding that honest work does not explain."""
    return Finding(where=where, what=what)


def grave(findings: Sequence[Finding]) -> bool:
    """Say whether there is a fault among them."""
    return any(each.grade == FAULT for each in findings)
