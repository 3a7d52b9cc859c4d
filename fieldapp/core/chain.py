"""The chain of one device: every entry it ever signed, numbered and linked.

A gap means entries that have not arrived; a fork means two entries under one number
(a phone cloned from a backup), which is shown and never repaired.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.core.entries import Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainFault:
    """A fault in a device's chain: `code` is gap, fork or broken_link."""

    code: str
    device: str
    seq: int
    entries: tuple[str, ...]


def chain_faults(entries: Iterable[Entry]) -> tuple[ChainFault, ...]:
    """Find gaps, forks and broken links, sorted by device, number and code."""
    by_device: dict[str, dict[int, dict[str, Entry]]] = {}
    for entry in entries:
        numbers = by_device.setdefault(entry.device, {})
        numbers.setdefault(entry.seq, {})[entry.id] = entry
    faults = [
        fault
        for device in by_device
        for fault in _device_faults(device, by_device[device])
    ]
    return tuple(sorted(faults, key=lambda f: (f.device, f.seq, f.code)))


def forked(entries: Iterable[Entry]) -> frozenset[str]:
    """Give the ids of entries that share a device's number with another entry."""
    by_device: dict[str, dict[int, str]] = {}
    found: set[str] = set()
    for entry in entries:
        numbers = by_device.get(entry.device)
        if numbers is None:
            numbers = by_device[entry.device] = {}
        other = numbers.setdefault(entry.seq, entry.id)
        if other != entry.id:
            found |= {other, entry.id}
    return frozenset(found)


def _device_faults(
    device: str, numbers: dict[int, dict[str, Entry]]
) -> list[ChainFault]:
    faults = []
    for seq in sorted(numbers):
        here = numbers[seq]
        ids = tuple(sorted(here))
        if len(here) > 1:
            faults.append(ChainFault(code="fork", device=device, seq=seq, entries=ids))
        if seq == 1:
            continue
        before = numbers.get(seq - 1)
        if before is None:
            faults.append(ChainFault(code="gap", device=device, seq=seq, entries=ids))
        elif any(entry.prev not in before for entry in here.values()):
            faults.append(
                ChainFault(code="broken_link", device=device, seq=seq, entries=ids)
            )
    return faults
