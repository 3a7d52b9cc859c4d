"""What must be read first: nonconformances in full, and every entry out of the usual.

Page 1 tells the late, the copied, the corrected and the flagged, every refusal and
every STOP, or says that there was none. Nothing here is left out to save space.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from fieldapp.core.entries import Entry, adds_photo
from fieldapp.core.words import say
from fieldapp.records.acts import (
    Act,
    act,
    beside,
    flag_told,
    with_reading,
)
from fieldapp.records.disputes import contradictions
from fieldapp.records.figures import short
from fieldapp.records.hours import phones_off
from fieldapp.records.lapsed import LAPSED, lapse_told
from fieldapp.records.opened import Opened
from fieldapp.records.points import lapsed_after_use, left_open, open_conditions

OUT_OF_ORDER = say("out_of_order", {})
"""What a file from a phone that was offline says of all its readings, told once."""
COPIED = "copied"
TOGETHER = 3
"""So many entries copied from one sheet, one after another, are told together."""
NAMED = 12
"""So many entries of a sort are named at the head; the tables tell all of them."""
USED = "What was done through it before stands."
COUNTED = (
    ("late", "recorded late"),
    ("copied", "copied from paper"),
    ("correction", "corrections"),
    ("anyway", "happened anyway"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """An entry out of the usual: why, and the entry itself.

    alike: all of a sheet of paper copied in one go, told together; their readings
    stand among the steps, and `act` is the first of them with the rest it says.
    """

    words: tuple[str, ...]
    act: Act
    alike: tuple[Act, ...] = ()

    @property
    def names_it(self) -> bool:
        """Say whether the words name the entry already, as those of a lapse do."""
        said, act = " ".join(self.words), self.act
        return bool(act.place) and act.place in said and act.kind in said


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How many entries of a sort there are, and which, for the head of page 1."""

    label: str
    number: int
    named: tuple[str, ...] = ()


def notices(opened: Opened) -> tuple[Notice, ...]:
    """Tell every flagged entry once, with all its flags."""
    flags: dict[str, list[str]] = {}
    used = lapsed_after_use(opened)
    for each in opened.state["flags"]:
        after = each["code"] == LAPSED and each["entry"] in used
        text = _flag(opened, each)
        flags.setdefault(each["entry"], []).append(f"{text} {USED}" if after else text)
    found = [
        entry
        for entry in opened.entries
        if entry.id in flags and not with_reading(entry, opened.by_id)
    ]
    runs = groupby(found, lambda each: _sheet_of(opened, each, tuple(flags[each.id])))
    return tuple(
        each
        for key, entries in runs
        for each in _told(opened, tuple(entries), flags, key[-1])
    )


def _flag(opened: Opened, flag: Mapping[str, Any]) -> str:
    """Give a flag in words; of a release that lapsed, when and by what."""
    entry = opened.by_id[flag["entry"]]
    lapsed = flag["code"] == LAPSED and lapse_told(opened.scene, entry, opened.zone)
    return lapsed or flag_told(flag, entry, opened.words.say(flag))


def _sheet_of(opened: Opened, entry: Entry, words: tuple[str, ...]) -> tuple[str, ...]:
    """Give what entries copied from one sheet share; any other entry is by itself."""
    if words == (OUT_OF_ORDER,):
        return (*words, entry.person, entry.key, "")
    if entry.kind != COPIED:
        return (entry.id, "")
    return (*words, entry.person, entry.key, beside(opened, entry))


def _told(
    opened: Opened,
    entries: tuple[Entry, ...],
    flags: Mapping[str, list[str]],
    said: str,
) -> Iterator[Notice]:
    acts = tuple(act(opened, each) for each in entries)
    words = [tuple(flags[each.id]) for each in entries]
    if len(acts) >= TOGETHER:
        yield Notice(words=words[0], act=replace(acts[0], text=said), alike=acts)
    else:
        yield from map(lambda said, each: Notice(words=said, act=each), words, acts)


def counts(opened: Opened) -> tuple[Count, ...]:
    """Count what page 1 promises to tell, zero included, and name every entry."""
    flags = opened.state["flags"]
    told, used = {code for code, _ in COUNTED}, lapsed_after_use(opened)
    lapsed = [f["entry"] for f in flags if f["code"] == LAPSED]
    after = [each for each in lapsed if each in used]
    other = [
        f["entry"]
        for f in flags
        if f["code"] not in told and not (f["code"] == LAPSED and f["entry"] in used)
    ]
    return (
        Count(label="nonconformances", number=len(opened.state["nonconformances"])),
        *(_counted(opened, label, _told_as(opened, code)) for code, label in COUNTED),
        _counted(opened, "photographs added later", _photos_added(opened)),
        _counted(opened, "otherwise flagged", other),
        _counted(opened, "releases lapsed after use", after),
        _contradicted(opened),
        _counted(opened, "refusals", _of_kind(opened, "refusal")),
        _counted(opened, "spoken releases", _of_kind(opened, "spoken")),
        Count(label="conditions open", number=open_conditions(opened)),
        *_conditions_left(opened),
        _cautions(opened),
        *_wrong_clocks(opened),
    )


def _conditions_left(opened: Opened) -> Iterator[Count]:
    """Count what a release of an ended attempt left open, if anything was left."""
    left = left_open(opened.state, opened.entries)
    if left:
        label = "conditions open when their attempt ended"
        yield _counted(opened, label, [each.id for each in left])


def _wrong_clocks(opened: Opened) -> Iterator[Count]:
    """Count what was signed by a clock that was off, if anything was, by its phone."""
    received = {name: row.received for name, row in opened.rows.items()}
    found = phones_off(opened.entries, received)
    named = tuple(
        f"phone {each.device}, {each.told}, {_ends(each.entries)}: {each.hours}"
        for each in found
    )
    if found:
        number = sum(len(each.entries) for each in found)
        yield Count(label="signed by a wrong clock", number=number, named=named)


def _ends(entries: tuple[Entry, ...]) -> str:
    first, last = short(entries[0].id), short(entries[-1].id)
    more = f" to {last}, {len(entries)} entries" if len(entries) > 1 else ""
    return f"entry {first}{more}"


def _contradicted(opened: Opened) -> Count:
    """Count the lines that two phones read otherwise, settled since or not."""
    found = list(contradictions(opened))
    named = tuple(
        place if settled else f"{place} (not settled)" for place, settled in found
    )
    return Count(label="contradicted lines", number=len(found), named=named)


def _cautions(opened: Opened) -> Count:
    """Count what checks warn of and refuse nothing for, by its step."""
    told: dict[str, int] = {}
    for name, now in opened.state["steps"].items():
        lines = [e for e in now["lines"].values() if e["status"] != "discarded"]
        found = sum(len(each["cautions"]) for each in (now, *lines))
        if found:
            told[opened.words.fact("step", name)] = found
    named = tuple(f"{title} ({n})" if n > 1 else title for title, n in told.items())
    return Count(label="cautions", number=sum(told.values()), named=named)


def _told_as(opened: Opened, code: str) -> list[str]:
    """Give the entries of a sort: what a gate forbade happened anyway, however it came
    to be written down.
    """
    found = _flagged(opened, code)
    if code != "anyway":
        return found
    faults = opened.state["nonconformances"]
    forbidden = {f["entry"] for f in faults if f["code"] == "gate_shut"}
    return [e.id for e in opened.entries if e.id in forbidden or e.id in found]


def _flagged(opened: Opened, code: str) -> list[str]:
    """Give the entries with a flag; a picture that was added is counted apart."""
    found = [f["entry"] for f in opened.state["flags"] if f["code"] == code]
    if code != "correction":
        return found
    return [each for each in found if not adds_photo(opened.by_id[each])]


def _photos_added(opened: Opened) -> list[str]:
    """Give the pictures added by somebody else, or long after."""
    return [
        entry.id
        for entry in opened.entries
        if adds_photo(entry) and not with_reading(entry, opened.by_id)
    ]


def _of_kind(opened: Opened, kind: str) -> list[str]:
    return [entry.id for entry in opened.entries if entry.kind == kind]


def _counted(opened: Opened, label: str, ids: list[str]) -> Count:
    acts = [act(opened, opened.by_id[each]) for each in dict.fromkeys(ids)]
    named = [f"{a.place or a.kind}, {a.when}, {a.who.name} ({a.entry})" for a in acts]
    flags = opened.state["flags"]
    odd = {f["entry"] for f in flags if f["code"] == "out_of_order"}
    if len(odd & set(ids)) >= TOGETHER:
        named = [n for n, each in zip(named, dict.fromkeys(ids), strict=True)
                 if each not in odd]  # fmt: skip
        named.append(f"{len(odd & set(ids))} recorded out of order, told below")
    if len(named) > NAMED:
        named = [*named[:NAMED], f"and {len(named) - NAMED} more, told below"]
    return Count(label=label, number=len(acts), named=tuple(named))
