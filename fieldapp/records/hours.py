"""How far the clock of the phone that signed an entry was off, as the office knows.

Nobody signs later than the office received it: who did, had a clock that was ahead.
Where the phone had heard the office's clock, the entry says by how much it was off.
Every page and the record say so beside such an entry, since its printed hours are
wrong; the rules have bounded its times already, and nothing is judged here. A typed
time may be read off a watch that is right where the phone is wrong: it is told as it
stands, and only when it was signed is said to be off.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fieldapp.core.bounds import SLACK_MS
from fieldapp.core.entries import Entry
from fieldapp.records.figures import span

Received = Mapping[str, int]
"""When the office received each entry, by its id, ms UTC."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhoneOff:
    """A phone whose clock was off: by how much at most, and what it signed so."""

    device: str
    told: str
    entries: tuple[Entry, ...]

    @property
    def hours(self) -> str:
        """Say what that makes of the hours it states."""
        typed = sum(each.at_by == "typed" for each in self.entries)
        if typed == len(self.entries):
            return "the hours told of these were typed, perhaps off a right clock"
        but = f", but for {typed} typed, perhaps off another clock" if typed else ""
        return f"the hours told of these are wrong by as much{but}"


def off_ms(entry: Entry, received: Received) -> int:
    """Give how far its clock was ahead, ms; below zero: behind; 0 as far as is known.

    Of a clock that never heard the office's only the least is known.
    """
    if _heard(entry):
        return -int(entry.offset or 0)
    early = entry.made - received.get(entry.id, entry.made)
    return early if early > SLACK_MS else 0


def office_ms(entry: Entry, received: Received) -> int:
    """Give when something happened by the office's clock, as far as that is known.

    Nobody knows by which clock a time was typed: nothing is taken off it.
    """
    return entry.at - (off_ms(entry, received) if entry.at_by == "tap" else 0)


def off_told(entry: Entry, received: Received) -> str:
    """Say how far its clock was off: "clock 23 h 00 min ahead"; empty if it was not."""
    if off_ms(entry, received) == 0:
        return ""
    typed = ", hour typed" if entry.at_by == "typed" else ""
    return _off_told(entry, received) + typed


def clocks_off(entries: Iterable[Entry], received: Received) -> dict[str, str]:
    """Tell, by entry, of the clocks that were off."""
    told = ((entry.id, off_told(entry, received)) for entry in entries)
    return {entry: text for entry, text in told if text}


def phones_off(entries: Iterable[Entry], received: Received) -> list[PhoneOff]:
    """Tell of each phone whose clock was off, and of all it signed by such a clock."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        if off_ms(entry, received):
            found.setdefault(entry.device, []).append(entry)
    return [_phone(device, each, received) for device, each in found.items()]


def _phone(device: str, entries: list[Entry], received: Received) -> PhoneOff:
    worst = max(entries, key=lambda e: (_heard(e), abs(off_ms(e, received))))
    way = " of" if off_ms(worst, received) > 0 else ""
    told = f"{_off_told(worst, received)}{way} the office's"
    return PhoneOff(device=device, told=told, entries=tuple(entries))


def _off_told(entry: Entry, received: Received) -> str:
    off = off_ms(entry, received)
    least = "" if _heard(entry) else "at least "
    return f"clock {least}{span(off)} {'ahead' if off > 0 else 'behind'}"


def _heard(entry: Entry) -> bool:
    return entry.offset is not None and abs(entry.offset) > SLACK_MS
