"""The story of a subject beside its steps: its pictures, and the turns it took.

Pictures are those of the record, drawn from the same state; nothing is judged here.
Turns are the acts that changed the course: refusals, stops, corrections, dispositions,
what happened although a gate forbade it.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.entries import Entry, adds_photo
from fieldapp.core.fold import present
from fieldapp.core.kernel import Kernel
from fieldapp.lookups import Folded, Reader, roster_of, site_picture
from fieldapp.records.clocks import clock_parts
from fieldapp.records.evidence import Evidence, Title
from fieldapp.records.foreign import foreign
from fieldapp.records.hours import clocks_off
from fieldapp.records.lapsed import LAPSED, lapse_cause, lapse_told
from fieldapp.records.opened import Opened
from fieldapp.records.pictures import drawings
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.layout import clock_drawings
from fieldapp.records.unrecorded import unrecorded
from fieldapp.records.wording import wording
from fieldapp.web.flags import received_of
from fieldapp.web.joint_parts import label_of, values_told
from fieldapp.web.names import SiteNames
from fieldapp.web.wording import Wording

TURNS = {
    "refusal": ("red", "✕", "refused"),
    "stopped": ("red", "■", "STOP"),
    "made_safe": ("blue", "▣", "made safe"),
    "anyway": ("yellow", "!", "happened although it was shut"),
    "correction": ("yellow", "≠", "corrected"),
    "discarded": ("grey", "·", "discarded"),
    "call_withdrawn": ("grey", "·", "call withdrawn"),
    "spoken": ("yellow", "△", "spoken release"),
    "condition_closed": ("green", "✓", "condition closed"),
    "nonconformance": ("red", "✕", "nonconformance raised"),
    "proposal": ("yellow", "△", "proposed"),
    "disposition": ("blue", "▷", "decided"),
    "closing": ("green", "✓", "closed"),
    "copied": ("yellow", "△", "copied from paper"),
}
"""Kinds of entry that are turns, with the tone, icon and word of each."""
AGAIN = ("green", "✓", "released anew")
TAKEN_OFF = ("blue", "▣", "recorded")
"""What a later attempt begins with (parted and cleaned), and a segment set down."""
LAPSING = ("yellow", "↺", "recorded after a release")
PHOTO_ADDED = ("grey", "·", "photograph added")
Row = dict[str, Any]


def pictures_of(opened: Opened) -> list[Drawing]:
    """Draw a subject's pictures: those of the plan, then its clocks."""
    if not opened.entries:
        return []
    clocks = tuple(clock_parts(opened, opened.state))
    drawn = [*drawings(opened, apart=True), *clock_drawings(opened, clocks)]
    # Wide ones first, then those of one height beside one another.
    return sorted(drawn, key=lambda each: (not each.wide, -each.height_mm))


def turns(opened: Opened, found: Folded, names: SiteNames, words: Wording) -> list[Row]:
    """Give the turns of a subject in the ledger's order."""
    clocks = clocks_off(found.entries, received_of(found))
    lapses, untold = _lapses(opened), unrecorded(opened.scene.view)
    marks = _marks(opened, {release for told in lapses.values() for release, _ in told})
    marks = {**dict.fromkeys(lapses, LAPSING), **marks}
    return [
        {
            **_turn(found, entry, words, marks[entry.id]),
            "clock": clocks.get(entry.id, ""),
            "what": [
                *_what(found, entry, opened.by_id, words),
                *_untold(untold, entry, words),
                *(said for _, said in lapses.get(entry.id, ())),
            ],
            "who": names.person(entry.about.get("said_by", entry.person)),
            "place": row.place,
        }
        for row, entry in zip(found.rows, found.entries, strict=True)
        if entry.id in marks
    ]


def _lapses(opened: Opened) -> dict[str, list[tuple[str, str]]]:
    """Give by what made them lapse the releases that did, each with what is said."""
    found: dict[str, list[tuple[str, str]]] = {}
    for flag in opened.state.get("flags", ()):
        release = opened.by_id.get(flag["entry"]) if flag["code"] == LAPSED else None
        cause = None if release is None else lapse_cause(opened.scene, release)
        if release is not None and cause is not None:
            said = lapse_told(opened.scene, release, opened.zone)
            found.setdefault(cause.id, []).append((release.id, said))
    return found


def _marks(opened: Opened, lapsed: set[str]) -> dict[str, tuple[str, str, str]]:
    """Give tone, icon and word of each entry that is a turn, by its id."""
    steps = opened.raw["steps"]
    anew: set[tuple[str | None, str]] = set()
    found = {}
    for entry in opened.entries:
        step = steps.get(entry.step or "", {})
        if adds_photo(entry):
            found[entry.id] = PHOTO_ADDED
        elif entry.kind in TURNS:
            found[entry.id] = TURNS[entry.kind]
        elif entry.about.get("conditions"):
            found[entry.id] = ("yellow", "△", "released on conditions")
        elif entry.kind == "done" and (
            step.get("again") or step.get("class") == "make_safe"
        ):
            found[entry.id] = TAKEN_OFF
        if entry.kind == "release":
            if (entry.point, entry.person) in anew and entry.id not in found:
                found[entry.id] = AGAIN
            anew.add((entry.point, entry.person))
            if entry.id in lapsed:
                anew |= {(entry.point, person) for person in opened.people}
    return found


def opened_of(reader: Reader, found: Folded, now: int) -> Opened:
    """Give the folded subject as the record reads it, without photographs."""
    site, people = site_picture(reader.store) or {}, roster_of(reader)
    raw, sheet = found.sheet.raw, found.sheet
    by_id = {entry.id: entry for entry in found.entries}
    known = {name: found.standing[name] for name in ("subjects", "items")}
    scene = present(sheet, found.entries, found.standing, {"at": now})
    return Opened(
        evidence=Evidence(
            site=site,
            sheet=raw,
            tables=sheet.tables,
            entries=(),
            office=(),
            site_public=reader.office_public,
            as_of=now,
            title=Title(document=""),
            standing=known,
        ),
        site_key=reader.office_key,
        sheet=sheet,
        entries=found.entries,
        by_id=by_id,
        rows={},
        people=people,
        scene=scene,
        kernel=Kernel(raw, sheet.tables),
        state=found.state,
        words=wording(
            raw, found.state, site, people, by_id, foreign=foreign(scene, found.state)
        ),
    )


def _turn(
    found: Folded, entry: Entry, words: Wording, mark: tuple[str, str, str]
) -> Row:
    tone, icon, word = mark
    return {
        "mark": {"tone": tone, "icon": icon, "word": word},
        "entry": entry,
        "where": _where(found, entry),
        "reason": _reason(entry, words),
        "conditions": [each["text"] for each in entry.about.get("conditions", ())],
    }


def _reason(entry: Entry, words: Wording) -> str:
    """Give what the signer wrote; a reason that names a card is told by its title."""
    reason = str(entry.about.get("reason") or entry.about.get("text", ""))
    return "" if reason in words.names["reason"] else reason


def _where(found: Folded, entry: Entry) -> str:
    parts = {**found.sheet.raw["steps"], **found.sheet.raw["points"]}
    part = parts.get(entry.step or entry.point or "", {})
    return f"{part.get('title', '')} {label_of(part, entry.line)}".strip()


def _what(
    found: Folded, entry: Entry, by_id: dict[str, Entry], words: Wording
) -> Iterator[str]:
    """Yield what a turn was about: what it decided, or how a reading changed."""
    about = entry.about
    target = about.get("target", "")
    if entry.kind == "correction" and target in by_id:
        yield from _change(found, by_id[target], entry)
    elif target in words.names["id"]:
        yield words.names["id"][target]
        yield from _decided_too(found, entry, words)
    if "verdict" in about:
        begins = words.names["step"].get(about.get("from", ""), "")
        verdict = about["verdict"].replace("_", " ")
        yield f"{verdict}, again from {begins}" if begins else verdict
    if entry.kind == "stopped":
        yield words.names["reason"].get(about.get("reason", ""), "")
    if "heard_by" in about:
        yield f"heard by {words.person(about['heard_by'])}"


def _untold(
    untold: dict[str, tuple[str, str]], stop: Entry, words: Wording
) -> Iterator[str]:
    step, said = untold.get(stop.id, ("", ""))
    if step:
        yield said.format(words.names["step"].get(step, step))


def _decided_too(found: Folded, entry: Entry, words: Wording) -> Iterator[str]:
    """Yield the other nonconformances that a disposition settled: rework ends all."""
    for each in found.state["nonconformances"]:
        mine = (
            each.get("disposition") == entry.id and each["id"] != entry.about["target"]
        )
        if mine:
            yield f"also {words.names['id'].get(each['id'], each['id'])}"


def _change(found: Folded, old: Entry, new: Entry) -> Iterator[str]:
    step = found.sheet.raw["steps"].get(new.step or "", {})
    read = [
        {each["id"]: each for each in values_told(step, entry.values, found.sheet.raw,
                                                  found.register)}
        for entry in (old, new)
    ]  # fmt: skip
    for name, after in read[1].items():
        before = read[0].get(name, {"text": "nothing"})
        if before["text"] != after["text"]:
            yield f"{after['label']}: {before['text']} → {after['text']}"
