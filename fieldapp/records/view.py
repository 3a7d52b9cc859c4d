"""The pure data a record's template loops over: everything worded, nothing to compute.

Page 1 holds the facts a reader must have first; then come the points, the pictures,
the steps in order, earlier attempts, the people, and where the ledger stood.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fieldapp.records.acts import Act, local
from fieldapp.records.annex import Annex, limits_annex
from fieldapp.records.attempts import Attempt, attempts
from fieldapp.records.certificates import Used, used_things
from fieldapp.records.clocks import ClockPart, HoldPart, clock_parts, hold_parts
from fieldapp.records.evidence import Evidence
from fieldapp.records.figures import grouped, moment, zone
from fieldapp.records.files import NAMES
from fieldapp.records.gates import OPENED, SHUT_SINCE
from fieldapp.records.incidents import incidents
from fieldapp.records.marks import (
    Mark,
    mark,
    outcome,
    steps_counted,
    verdict_mark,
)
from fieldapp.records.nonconformances import Nonconformance, nonconformances
from fieldapp.records.notices import Count, Notice, counts, notices
from fieldapp.records.opened import Opened, open_evidence, state_hash
from fieldapp.records.photos import PhotoPart, photo_parts
from fieldapp.records.pictures import drawings
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.elevation import elevation
from fieldapp.records.pictures.layout import Groups, clock_drawings, in_columns
from fieldapp.records.points import PointPart, point_parts, point_status
from fieldapp.records.reasons import Reason, by_reason
from fieldapp.records.revisions import RevisionPart, revision_part
from fieldapp.records.signers import Person, signers
from fieldapp.records.steps import (
    Block,
    StepPart,
    not_called_for,
    recorder_of,
    step_blocks,
    step_parts,
)

Pairs = tuple[tuple[str, str], ...]
_VERDICTS = {
    "complete": "Every step called for is recorded and every hold point is passed."
    " No nonconformance was accepted as it is or repaired.",
    "concession": "Every step called for is recorded and every hold point is passed."
    " At least one nonconformance was accepted as it is, or repaired, by disposition.",
    "rejected": "A disposition rejects this work, and it stands.",
    "incomplete": "Something is still missing; it is listed on this page.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordView:
    """A record as its template sets it."""

    site: str
    subject: str
    title: str
    document: str
    revision: str
    footer: str
    revisions: RevisionPart | None
    as_of: str
    created: int
    times: str
    sheet: str
    elevation: Drawing | None
    verdict: Mark
    verdict_text: str
    stopped: str
    summary: Pairs
    counts: tuple[Count, ...]
    missing: tuple[tuple[str, tuple[str, ...]], ...]
    nonconformances: tuple[Nonconformance, ...]
    notices: tuple[Notice, ...]
    incidents: tuple[Act, ...]
    points: tuple[PointPart, ...]
    clocks: tuple[ClockPart, ...]
    holds: tuple[HoldPart, ...]
    halves: Groups
    wholes: tuple[Drawing, ...]
    steps: tuple[StepPart, ...]
    blocks: tuple[Block, ...]
    recorder: str
    used: tuple[Used, ...]
    photos: tuple[PhotoPart, ...]
    limits: Annex
    not_called_for: tuple[str, ...]
    attempts: tuple[Attempt, ...]
    facts: tuple[dict[str, str], ...]
    people: tuple[Person, ...]
    ledger: Pairs
    fingerprints: Pairs
    site_key: str
    files: tuple[str, ...]
    state: dict[str, Any]

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Give the nonconformances gathered by what they say."""
        return by_reason(self.nonconformances)

    @property
    def drawings(self) -> tuple[Drawing, ...]:
        """Give every drawing of the record."""
        laid = [self.halves, *(each.drawings for each in self.attempts)]
        halves = [
            d for groups in laid for group in groups for col in group for d in col
        ]
        head = (self.elevation,) if self.elevation else ()
        return (*head, *halves, *self.wholes)


def record_view(evidence: Evidence) -> RecordView:
    """Work a record's pages out of its evidence. Errors: as `open_evidence`."""
    opened = open_evidence(evidence)
    state = opened.state
    clocks = tuple(clock_parts(opened, state))
    steps = tuple(step_parts(opened, state))
    drawn = (*drawings(opened), *clock_drawings(opened, clocks))
    return RecordView(
        **_heading(opened),
        elevation=elevation(opened),
        verdict=verdict_mark(state),
        verdict_text=_VERDICTS.get(state["verdict"], ""),
        stopped=_stopped(opened),
        summary=tuple(_summary(opened)),
        counts=counts(opened),
        missing=tuple(_missing(opened)),
        nonconformances=nonconformances(opened),
        notices=notices(opened),
        incidents=incidents(opened),
        points=tuple(point_parts(opened)),
        clocks=clocks,
        holds=tuple(hold_parts(opened)),
        halves=in_columns(drawn),
        wholes=tuple(each for each in drawn if each.wide),
        steps=steps,
        blocks=step_blocks(steps),
        recorder=recorder_of(steps),
        used=used_things(opened),
        photos=tuple(photo_parts(opened)),
        limits=limits_annex(opened, steps),
        not_called_for=tuple(not_called_for(opened)),
        attempts=tuple(attempts(opened)),
        facts=tuple(_facts(opened)),
        people=tuple(signers(opened)),
        ledger=tuple(_ledger(opened)),
        fingerprints=tuple(_fingerprints(opened)),
        site_key=grouped(opened.site_key),
        files=NAMES,
        state=state,
    )


def _heading(opened: Opened) -> dict[str, Any]:
    evidence, raw = opened.evidence, opened.raw
    return {
        "site": str(evidence.site["title"]),
        "subject": opened.sheet.subject,
        "title": str(raw["title"]),
        "document": evidence.title.document,
        "revision": _revision(evidence),
        "footer": _footer(evidence),
        "revisions": revision_part(opened),
        "as_of": moment(evidence.as_of, opened.zone),
        "created": evidence.as_of,
        "times": f"local, {zone(opened.zone)} unless told",
        "sheet": f"revision {raw['revision']}",
    }


def _facts(opened: Opened) -> Iterator[dict[str, str]]:
    """Give what the sheet rests on; ids of subjects become their titles."""
    titles = {
        s["id"]: str(s["title"]) for s in opened.evidence.site.get("subjects", ())
    }
    for fact in opened.raw.get("facts", ()):
        value = str(fact["value"]) if "value" in fact else ""
        named = value.split()
        if named and all(each in titles for each in named):
            value = ", ".join(titles[each] for each in named)
        source = str(fact.get("source", ""))
        yield {"label": str(fact["label"]), "value": value, "source": source}


def _revision(evidence: Evidence) -> str:
    title = evidence.title
    if title.revision == 0:
        return "print, not archived"
    if title.supersedes:
        return f"{title.revision}, archived, in place of {title.supersedes}"
    return f"{title.revision}, archived"


def _footer(evidence: Evidence) -> str:
    """Give what names the document on every page."""
    title = evidence.title
    revision = f"revision {title.revision}" if title.revision else "print"
    return f"{title.document}, {revision}"


def _stopped(opened: Opened) -> str:
    stop = opened.state.get("stopped")
    if stop is None:
        return ""
    reason = opened.words.fact("reason", stop["reason"])
    return f"{reason}, since {local(opened, stop['at'], opened.zone)}"


def _summary(opened: Opened) -> Iterator[tuple[str, str]]:
    entries, state = opened.entries, opened.state
    if entries:
        first = min(entries, key=lambda entry: entry.at)
        last = max(entries, key=lambda entry: entry.at)
        yield "First act", local(opened, first.at, first.zone)
        yield "Last act", local(opened, last.at, last.zone)
    recorded, asked = steps_counted(state)
    yield "Steps called for", f"{recorded} of {asked} recorded"
    holds = [
        point_status(opened, name)
        for name, point in opened.raw["points"].items()
        if point["class"] == "hold"
    ]
    told = [f"{sum(each in OPENED for each in holds)} of {len(holds)} released"]
    for odd in (SHUT_SINCE, "unreleased"):
        count = holds.count(odd)
        told += [f"{count} {mark(odd, 'point').word}"] if count else []
    yield "Hold points", ", ".join(told)
    yield "Attempts", str(state["attempts"])
    yield "Entries", str(len(entries))


def _missing(opened: Opened) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Tell what stands between the work and complete, in the order of the work."""
    for name in opened.raw["flow"]:
        step, point = (
            opened.state["steps"].get(name),
            opened.state["points"].get(name),
        )
        title = opened.words.fact("name", name)
        if step is not None and step["status"] not in ("done", "off"):
            yield title, (_step_missing(step),)
        elif point is not None and _wanting(opened, name, point):
            # A step that is not recorded has its own line here already.
            rest = [r for r in point["refusals"] if not r["code"].startswith("step_")]
            told = opened.words.say_all(rest)
            status = point_status(opened, name)
            yield title, (f"{mark(status, 'point').word}.", *told)


def _wanting(opened: Opened, name: str, point: dict[str, Any]) -> bool:
    """Say whether a point is missing: as in the verdict, surveillance never is."""
    sort = opened.raw["points"][name]["class"]
    return bool(point["status"] != "released" and sort != "surveillance")


def _step_missing(step: dict[str, Any]) -> str:
    word = outcome(step).word
    missing = step["missing"]
    return f"{word}, {missing} to record" if missing and step["lines"] else word


def _ledger(opened: Opened) -> Iterator[tuple[str, str]]:
    evidence = opened.evidence
    rows = evidence.entries
    if rows:
        receipts = f"receipts attached: {len(evidence.receipts)}"
        yield "Entries", f"{len(rows)}, index {_range(opened)}; {receipts}"
        yield f"Head of the ledger at {rows[-1].index}", grouped(rows[-1].head)
    else:
        yield "Entries", "none"
    if evidence.head and not (rows and rows[-1].index == evidence.last):
        yield f"Head when printed, at {evidence.last}", grouped(evidence.head)


def _range(opened: Opened) -> str:
    first, last = opened.evidence.entries[0].index, opened.evidence.entries[-1].index
    return str(first) if first == last else f"{first} to {last}"


def _fingerprints(opened: Opened) -> Iterator[tuple[str, str]]:
    yield "Site key", grouped(opened.site_key)
    yield "Sheet in force", grouped(opened.sheet.hash)
    yield "State printed here", grouped(state_hash(opened))
