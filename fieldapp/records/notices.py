"""What must be read first: nonconformances in full, and every entry out of the usual.

Page 1 tells the late, the copied, the corrected and the flagged, every refusal and
every STOP, or says that there was none. Nothing here is left out to save space.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from fieldapp.core.entries import Entry, adds_photo
from fieldapp.core.kinds import READINGS
from fieldapp.records.acts import Act, act, beside, flag_told, line_label
from fieldapp.records.figures import short
from fieldapp.records.gates import shut_by
from fieldapp.records.lapsed import LAPSED, lapse_told
from fieldapp.records.marks import Mark, mark
from fieldapp.records.opened import Opened
from fieldapp.records.points import lapsed_after_use, open_conditions

INCIDENTS = ("refusal", "call_withdrawn", "stopped", "made_safe", "discarded", "note",
             "sighting", "condition_closed", "spoken", "acknowledged")  # fmt: skip
READ = ("correction", *READINGS)
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
class Nonconformance:
    """A nonconformance in full; `acts` are what people proposed, decided, closed.

    reading: the entry that raised it, if a reading did; said: the acts without it.
    """

    id: str
    words: str
    place: str
    raised: str
    source: str
    shuts: str
    passed: str
    mark: Mark
    acts: tuple[Act, ...]
    step: str = ""
    line: str = ""
    reading: str = ""

    @property
    def said(self) -> tuple[Act, ...]:
        """Give what people said of it, without the reading that raised it."""
        return tuple(each for each in self.acts if each.entry != self.reading)


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """An entry out of the usual: why, and the entry itself.

    alike: all of a sheet of paper copied in one go, told together; their readings
    stand among the steps, and `act` is the first of them with the rest it says.
    """

    words: tuple[str, ...]
    act: Act
    alike: tuple[Act, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How many entries of a sort there are, and which, for the head of page 1."""

    label: str
    number: int
    named: tuple[str, ...] = ()


def nonconformances(opened: Opened) -> tuple[Nonconformance, ...]:
    """Tell every nonconformance, those that still shut a gate first."""
    order = {"open": 0, "proposed": 1, "disposed": 2, "closed": 3}
    told = sorted(
        opened.state["nonconformances"],
        key=lambda each: (order.get(each["status"], 0), _index(opened, each)),
    )
    return tuple(_nonconformance(opened, each) for each in told)


def notices(opened: Opened) -> tuple[Notice, ...]:
    """Tell every flagged entry once, with all its flags."""
    flags: dict[str, list[str]] = {}
    used = lapsed_after_use(opened)
    for each in opened.state["flags"]:
        after = each["code"] == LAPSED and each["entry"] in used
        text = _flag(opened, each)
        flags.setdefault(each["entry"], []).append(f"{text} {USED}" if after else text)
    found = [entry for entry in opened.entries if entry.id in flags]
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


def incidents(opened: Opened) -> tuple[Act, ...]:
    """Tell refusals, withdrawn calls, STOPs, discarded batches and notes."""
    return acts_of(opened, INCIDENTS)


def acts_of(opened: Opened, kinds: Iterable[str]) -> tuple[Act, ...]:
    """Tell the entries of some kinds by ledger index."""
    wanted = frozenset(kinds)
    return tuple(act(opened, each) for each in opened.entries if each.kind in wanted)


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
        _counted(opened, "refusals", _of_kind(opened, "refusal")),
        _counted(opened, "spoken releases", _of_kind(opened, "spoken")),
        Count(label="conditions open", number=open_conditions(opened)),
        _cautions(opened),
    )


def _cautions(opened: Opened) -> Count:
    """Count what checks warn of and refuse nothing for, by its step."""
    told: dict[str, int] = {}
    for name, now in opened.state["steps"].items():
        lines = [e for e in now["lines"].values() if e["status"] != "discarded"]
        found = sum(len(each["cautions"]) for each in (now, *lines))
        if found:
            told[opened.words.fact("step", name)] = found
    named = tuple(f"{title} ({n})" if n > 1 else title for title, n in told.items())
    return Count(label="cautions that stand", number=sum(told.values()), named=named)


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
    apart = _photos_added(opened) if code == "correction" else ()
    return [each for each in found if each not in apart]


def _photos_added(opened: Opened) -> list[str]:
    return [entry.id for entry in opened.entries if adds_photo(entry)]


def _of_kind(opened: Opened, kind: str) -> list[str]:
    return [entry.id for entry in opened.entries if entry.kind == kind]


def _counted(opened: Opened, label: str, ids: list[str]) -> Count:
    acts = [act(opened, opened.by_id[each]) for each in dict.fromkeys(ids)]
    named = [f"{a.place or a.kind}, {a.when}, {a.who.name} ({a.entry})" for a in acts]
    if len(named) > NAMED:
        named = [*named[:NAMED], f"and {len(named) - NAMED} more, told below"]
    return Count(label=label, number=len(acts), named=tuple(named))


def _nonconformance(opened: Opened, told: dict[str, Any]) -> Nonconformance:
    entry = opened.by_id.get(told.get("entry", ""))
    raised = "by the rules, from what was recorded"
    if entry is not None and entry.kind == "nonconformance":
        raised = "by a person"
    shut, passed = shut_by(opened.raw, opened.state, told)
    return Nonconformance(
        id=short(told["id"]),
        words=opened.words.fault(told, entry),
        place=", ".join(text for text in _place(opened, told) if text),
        step=_place(opened, told)[0],
        line=_place(opened, told)[1],
        raised=raised,
        source=_source(opened, told),
        shuts=", ".join(opened.words.fact("point", name) for name in shut),
        passed=", ".join(opened.words.fact("point", name) for name in passed),
        mark=_mark(opened, told),
        acts=_about(opened, told, entry),
        reading=short(entry.id) if entry is not None and entry.kind in READ else "",
    )


def _mark(opened: Opened, told: dict[str, Any]) -> Mark:
    plain = mark(told["status"], "nonconformance")
    if "verdict" not in told:
        return plain
    word = f"{plain.word}: {opened.words.verdict(told['verdict'])}"
    tone = "red" if told["verdict"] == "reject" else plain.tone
    return Mark(tone=tone, icon=plain.icon, word=word)


def _place(opened: Opened, told: dict[str, Any]) -> tuple[str, str]:
    """Give the step's title and the line's label, each empty where there is none."""
    step = told.get("step", "")
    title = opened.words.fact("step", step)
    return title, line_label(opened, step, told.get("line", ""))


def _source(opened: Opened, told: dict[str, Any]) -> str:
    step, check = told.get("step", ""), told.get("check", "")
    if told["code"] == "clock_over":
        rules = [
            ratio
            for clock in opened.raw.get("clocks", ())
            if clock["start"] == step
            for ratio in clock["ratios"]
        ]
    else:
        rules = opened.part(step).get("checks", ())
    found = [each.get("source", "") for each in rules if each["id"] == check]
    return str(found[0]) if found else ""


def _about(
    opened: Opened, told: dict[str, Any], entry: Entry | None
) -> tuple[Act, ...]:
    """Tell what raised it, and all that people proposed, decided or closed."""
    ids = [] if entry is None else [entry.id]
    ids += [e.id for e in opened.entries if e.about.get("target") == told["id"]]
    # Rework ordered for one failure ends the others of its attempt too.
    ids += [told["disposition"]] if "disposition" in told else []
    return tuple(act(opened, opened.by_id[each]) for each in dict.fromkeys(ids))


def _index(opened: Opened, told: dict[str, Any]) -> int:
    row = opened.rows.get(told.get("entry", ""))
    return row.index if row is not None else 0
