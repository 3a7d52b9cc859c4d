"""The chain of each device over the whole ledger: numbered from 1 and linked.

A number that is missing may be on its way by another road, and two entries under one
number are a phone restored from a copy: both are notes. The office writes straight
into the ledger, so a number missing there was taken out.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from fieldapp.core.entries import Entry
from fieldapp.lookups.audit.keys import OFFICE
from fieldapp.lookups.audit.report import Finding, fault, note


@dataclass(slots=True, kw_only=True)
class Links:
    """The entries of each device by number: id and the id before it as signed."""

    numbers: dict[str, dict[int, dict[str, str | None]]] = field(default_factory=dict)
    known: set[str] = field(default_factory=set)
    asked: dict[str, str] = field(default_factory=dict)

    def take(self, entry: Entry) -> None:
        """Take note of an entry's place in its device's chain and of what it names."""
        device = self.numbers.setdefault(entry.device, {})
        device.setdefault(entry.seq, {})[entry.id] = entry.prev
        self.known.add(entry.id)
        for other in (*entry.after, *entry.needs):
            self.asked.setdefault(other, entry.id)

    def findings(self) -> Iterator[Finding]:
        """Give what the chains show, device by device."""
        for device, numbers in sorted(self.numbers.items()):
            yield from _of_device(device, numbers)
        absent = sorted(set(self.asked) - self.known)
        if absent:
            yield note(
                "ledger",
                f"{len(absent)} entries that others name have not arrived, first"
                f" {absent[0]} (named by {self.asked[absent[0]]})",
            )


def _of_device(
    device: str, numbers: dict[int, dict[str, str | None]]
) -> Iterator[Finding]:
    grade = fault if device == OFFICE else note
    expected = 1
    for seq in sorted(numbers):
        here, before = numbers[seq], numbers.get(seq - 1)
        if seq > expected:
            last = f" to {seq - 1}" if seq - 1 > expected else ""
            yield grade(f"device {device}", f"number {expected}{last} is missing")
        if len(here) > 1:
            yield note(f"device {device}", f"{len(here)} entries have number {seq}")
        if before and any(prev not in before for prev in here.values()):
            yield grade(
                f"device {device}", f"number {seq} does not follow number {seq - 1}"
            )
        expected = seq + 1
