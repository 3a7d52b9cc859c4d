"""One point with everything it rests on: what an inspector reads before signing.

Readings stand beside their limits and sources; who did the work is told, since they
may not sign; what lapsed, was refused or is missing is told in full. Signing needs a
person's own key, which lives on a phone.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.entries import Entry, adds_photo
from fieldapp.lookups import Folded
from fieldapp.lookups.photos import missing_photos, photos_of
from fieldapp.records.hours import off_told
from fieldapp.records.plan import terms_of
from fieldapp.web.aged import met_until
from fieldapp.web.concerning import concerns
from fieldapp.web.desk import Desk
from fieldapp.web.faults_page import faults_of
from fieldapp.web.flags import received_of
from fieldapp.web.joint_parts import label_of, parts, values_told
from fieldapp.web.out_of_use import out_of_use
from fieldapp.web.plan_page import limits_of
from fieldapp.web.stages import still_wanted, title_of
from fieldapp.web.wording import Wording

READING = ("done", "copied", "anyway", "correction", "discarded")
HISTORY = ("called", "call_withdrawn", "notice", "release", "spoken", "refusal",
           "condition_closed")  # fmt: skip
Row = dict[str, Any]


def evidence_page(here: Desk, found: Folded, point: str) -> Row:
    """Give all a point rests on, by the template's names."""
    raw, words = found.sheet.raw["points"][point], here.words(found)
    told = {part["id"]: part for part in parts(found, words, here.names)}
    covers = [told[step] for step in raw.get("covers", ())]
    work = _work(found, raw)
    return {
        "sheet": found.sheet.raw,
        "id": found.sheet.subject,
        "part": told[point],
        "missing": list(_missing(here, found, told[point], work)),
        "out": out_of_use(here, found, raw.get("covers", ())),
        "unmet": _unmet(found, point),
        "requires": raw.get("requires", ()),
        "met_until": met_until(found, point, here.now),
        "facts": [
            each for each in found.sheet.raw["facts"] if each.get("point") == point
        ],
        "terms": list(terms_of(found.sheet.raw, raw)),
        "shuts": [title_of(found.sheet.raw, each) for each in raw.get("shuts", ())],
        "wanted": [here.names.signer(each) for each in still_wanted(found, point)],
        "did": _did(here, raw, work),
        "covers": [
            {**part, "limits": _once(limits_of(part["step"]))}
            for part in covers
            if not part["idle"]
        ],
        "idle": [
            part["step"]["title"]
            for part in covers
            if part["idle"] and not part["untold"]
        ],
        "corrections": list(corrections_of(here, found, work)),
        "faults": list(_faults(here, found, point)),
        "history": list(_history(here, found, words, point)),
        "kept": {p.hash for p in photos_of(here.reader, work) if p.kept},
        "words": words,
    }


def _once(limits: Iterator[Row]) -> list[Row]:
    """Keep one of the limits that say the same: what two checks raise is one fault."""
    return list({(each["text"], each["source"]): each for each in limits}.values())


def corrections_of(here: Desk, found: Folded, entries: list[Entry]) -> Iterator[Row]:
    """Yield each correction among entries with what was read before and after."""
    by_id, received = {e.id: e for e in found.entries}, received_of(found)
    for entry in entries:
        old = by_id.get(entry.about.get("target", ""))
        if entry.kind != "correction" or old is None or adds_photo(entry):
            continue
        step = found.sheet.raw["steps"].get(entry.step or "", {})
        label = label_of(step, entry.line)
        yield {
            "where": f"{step.get('title', '')} {label}".strip(),
            "before": _changed(found, step, old, entry),
            "after": _changed(found, step, entry, old),
            "who": here.names.person(entry.person),
            "entry": entry,
            "clock": off_told(entry, received),
            "reason": entry.about.get("reason", ""),
        }


def _changed(found: Folded, step: Row, entry: Entry, other: Entry) -> list[Row]:
    values = {n: v for n, v in entry.values.items() if other.values.get(n) != v}
    return list(values_told(step, values, found.sheet.raw, found.register))


def _work(found: Folded, raw: Row) -> list[Entry]:
    covered = set(raw.get("covers", ()))
    return [e for e in found.entries if e.step in covered and e.kind in READING]


def _did(here: Desk, raw: Row, work: list[Entry]) -> list[str]:
    """Name who did part of the work, where the plan forbids them to sign."""
    if not raw.get("independent", True):
        return []
    return [here.names.person(p) for p in dict.fromkeys(e.person for e in work)]


def _faults(here: Desk, found: Folded, point: str) -> Iterator[Row]:
    """Yield the nonconformances of what a point rests on, decided or not."""
    by_id = {entry.id: entry for entry in found.entries}
    for row in faults_of(here, found):
        raised = by_id.get(row["fault"].get("entry", ""))
        if concerns(found, row["fault"], point, raised):
            yield row


def _unmet(found: Folded, point: str) -> set[str]:
    refusals = found.state["points"][point]["refusals"]
    return {r["facts"].get("requirement", "") for r in refusals}


def _missing(here: Desk, found: Folded, part: Row, work: list[Entry]) -> Iterator[str]:
    if part["status"] not in ("released", "waived"):
        yield from part["refusals"]
    for photo in missing_photos(here.reader, work):
        who = here.names.person(photo.entry.person)
        yield f"Photo {photo.hash[:10]} by {who} has not arrived."
    for each in part["conditions"]:
        if each["open"]:
            yield f"Condition open, before {each['where']}: {each['text']}"
    for entry in found.state["missing"]:
        yield f"Entry {entry[:10]}, named by others, has not arrived."


def _history(here: Desk, found: Folded, words: Wording, point: str) -> Iterator[Row]:
    """Yield what was done at the point, with the flags that say what it is worth."""
    flags: dict[str, list[str]] = {}
    received = received_of(found)
    for each in found.state["flags"]:
        flags.setdefault(each["entry"], []).append(words.say(each))
    for entry in found.entries:
        if entry.point == point and entry.kind in HISTORY:
            yield {
                "kind": entry.kind.replace("_", " "),
                "entry": entry,
                "clock": off_told(entry, received),
                "who": here.names.person(entry.about.get("said_by", entry.person)),
                "text": entry.about.get("reason") or entry.about.get("text", ""),
                "conditions": [c["text"] for c in entry.about.get("conditions", ())],
                "flags": flags.get(entry.id, []),
                "unseen": len(entry.about.get("unseen", ())),
            }
