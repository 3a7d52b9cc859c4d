"""Takes the record of a subject into the archive, as its next revision.

What says nothing new is not archived again: the revision there is given. What is in
the archive is never set again; a later entry makes another revision, which names those
before it.
"""

from dataclasses import dataclass, replace

from fieldapp.core.canonical import fingerprint
from fieldapp.intake.archive import Archiver, Kept, Overtaken, take_into_archive
from fieldapp.intake.door import Door
from fieldapp.lookups import Reader, folded
from fieldapp.lookups.archive import Since, archived, basis_of, photos_carried
from fieldapp.records.evidence import Archive, Earlier, Evidence
from fieldapp.records.gather import evidence_of
from fieldapp.records.record import record_pdf
from fieldapp.store.archive import Revision, revisions_of
from fieldapp.store.database import reading

TRIES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """The revision that stands now, and whether this made it."""

    revision: Revision
    made: bool


def archive(
    door: Door, reader: Reader, subject: str, now: int, *, by: Archiver, size: str = ""
) -> Outcome | None:
    """Archive the record of a subject as of `now` (ms UTC); None if it has no sheet.

    Errors: `UnknownSize`, `NoRoom`, `Overtaken` where others archive it all the time,
    and those of `record_pdf`.
    """
    for _ in range(TRIES):
        try:
            return _archive(door, reader, subject, now, by=by, size=size)
        except Overtaken:
            # Somebody else's revision is there now: it may say all of this.
            continue
    raise Overtaken(subject)


def _archive(
    door: Door, reader: Reader, subject: str, now: int, *, by: Archiver, size: str
) -> Outcome | None:
    with reading(reader.store):
        found = folded(reader, subject, now)
        if found is None:
            return None
        known = archived(reader, found)
        if known.last is not None and known.since is None:
            return Outcome(revision=known.last, made=False)
        evidence = evidence_of(reader, found, now, size)
        basis = basis_of(found, photos_carried(reader, found))
        earlier = tuple(_earlier(each) for each in revisions_of(reader.store, subject))
    told = Archive(
        at=now,
        account=by.account,
        person=by.person,
        session=by.session,
        earlier=earlier,
        why=tuple(_why(known.since)),
    )
    kept = _kept(evidence, told, found.state["verdict"], basis)
    return Outcome(revision=take_into_archive(door, kept, by, now), made=True)


def _kept(evidence: Evidence, told: Archive, verdict: str, basis: str) -> Kept:
    revision = len(told.earlier) + 1
    supersedes = f"revision {revision - 1}" if told.earlier else ""
    title = replace(evidence.title, revision=revision, supersedes=supersedes)
    whole = replace(evidence, title=title, archive=told)
    return Kept(
        subject=str(evidence.sheet["subject"]),
        revision=revision,
        document=title.document,
        verdict=verdict,
        as_of=evidence.as_of,
        entries=len(evidence.entries),
        last=evidence.last,
        head=evidence.head,
        sheet=fingerprint(evidence.sheet),
        photos=len(evidence.photos),
        basis=basis,
        pdf=record_pdf(whole),
    )


def _earlier(revision: Revision) -> Earlier:
    said = revision.said
    return Earlier(
        revision=revision.revision,
        hash=revision.hash,
        as_of=said["as_of"],
        at=said["at"],
        by=said["account"],
        last=said["last"],
    )


def _why(since: Since | None) -> list[str]:
    if since is None:
        return []
    told = {
        "photos": since.photos,
        "sheet": since.sheet,
        "otherwise": since.otherwise,
    }
    return [name for name, is_so in told.items() if is_so]
