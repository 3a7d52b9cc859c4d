"""What an archived record says of itself and of the revisions it takes the place of.

Why there is another revision is told from the evidence: the entries that the ledger
took in after the one before. Only what no entry of the subject shows is as stated.
"""

from dataclasses import dataclass

from fieldapp.lookups.archive import Archived
from fieldapp.records.acts import Act, act, local
from fieldapp.records.evidence import Earlier
from fieldapp.records.figures import grouped
from fieldapp.records.opened import Opened

MOST_TOLD = 8
"""So many entries are told on page 1; all of them stand in their places further on."""
_WHY = {
    "photos": "Photographs have arrived that were missing then.",
    "sheet": "The sheet was issued anew.",
    "otherwise": "No entry of this subject came since; what it rests on stands"
    " otherwise now (the register, another subject, or a release that ran out).",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Former:
    """A revision that was replaced: its number, moments, archiver, whole SHA-256."""

    revision: int
    as_of: str
    archived: str
    by: str
    hash: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionPart:
    """How the record came into the archive, what it replaces, what came since."""

    archived: str
    former: tuple[Former, ...]
    since: tuple[Act, ...]
    more: int
    notes: tuple[str, ...]


def revision_part(opened: Opened) -> RevisionPart | None:
    """Tell an archived record's revisions; None for a print."""
    told = opened.evidence.archive
    if told is None:
        return None
    came = []
    if told.earlier:
        last = told.earlier[-1].last
        came = [e for e in opened.entries if opened.rows[e.id].index > last]
    who = opened.words.fact("person", told.person)
    return RevisionPart(
        archived=f"{local(opened, told.at, opened.zone)} by {who}, account"
        f" {told.account}, session {told.session}",
        former=tuple(_former(opened, each) for each in reversed(told.earlier)),
        since=tuple(act(opened, each) for each in came[:MOST_TOLD]),
        more=max(0, len(came) - MOST_TOLD),
        notes=tuple(_WHY.get(each, each) for each in told.why),
    )


def since_told(known: Archived) -> str:
    """Tell how a subject stands in the archive, for lists and pages."""
    if known.last is None:
        return "not archived"
    revision, since = known.last.revision, known.since
    if since is None:
        return f"revision {revision} says all there is"
    told = [
        f"{count} {noun if count == 1 else nouns}"
        for count, noun, nouns in (
            (since.entries, "entry", "entries"),
            (since.photos, "photograph", "photographs"),
        )
        if count
    ]
    told += ["a new sheet"] if since.sheet else []
    told += ["what it rests on has changed"] if since.otherwise else []
    return f"out of date: {', '.join(told)} since revision {revision}"


def _former(opened: Opened, earlier: Earlier) -> Former:
    return Former(
        revision=earlier.revision,
        as_of=local(opened, earlier.as_of, opened.zone),
        archived=local(opened, earlier.at, opened.zone),
        by=earlier.by,
        hash=grouped(earlier.hash),
    )
