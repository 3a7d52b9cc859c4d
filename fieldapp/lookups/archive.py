"""What of a subject is archived, and what has come since its last revision.

Two records say the same if entries, sheet, photographs and what they add up to are
the same; the moment they are of does not count, nor a clock that only runs on.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.core.canonical import fingerprint
from fieldapp.lookups.folding import Folded
from fieldapp.lookups.reading import Reader
from fieldapp.store.archive import Revision, latest_revisions, revisions_of
from fieldapp.store.photos import photos_kept

NONE, CURRENT, OUTDATED = "none", "current", "outdated"
ENDED = ("released", "expired", "lapsed")
"""Of a point: what a record says that no entry need have changed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Since:
    """What has come since a revision: how many entries and photographs, a new sheet.

    otherwise: nothing of these, but it adds up to something else now (a certificate,
    another subject, a release that ran out).
    """

    entries: int
    photos: int
    sheet: bool
    otherwise: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Archived:
    """A subject's last revision if any, and what came since; None if nothing did."""

    last: Revision | None
    since: Since | None

    @property
    def status(self) -> str:
        """Give "none", "current" or "outdated"."""
        if self.last is None:
            return NONE
        return OUTDATED if self.since else CURRENT


def photos_carried(reader: Reader, found: Folded) -> frozenset[str]:
    """Give the photographs that entries name and that are here, by their hashes."""
    return _here(reader, [found])


def basis_of(found: Folded, here: frozenset[str]) -> str:
    """Give the hash of what a record of this state says; here: photographs kept."""
    state = found.state
    points = {name: each["status"] for name, each in state["points"].items()}
    return fingerprint(
        {
            "sheet": found.sheet.hash,
            "entries": sorted(entry.id for entry in found.entries),
            "photos": sorted(_named(found) & here),
            "verdict": state["verdict"],
            "points": {n: s for n, s in points.items() if s in ENDED},
            "faults": sorted([f["id"], f["status"]] for f in state["nonconformances"]),
        }
    )


def archived(reader: Reader, found: Folded) -> Archived:
    """Give how one subject stands in the archive."""
    last = next(reversed(revisions_of(reader.store, found.sheet.subject)), None)
    return _archived(last, found, _here(reader, [found]))


def all_archived(reader: Reader, every: Iterable[Folded]) -> dict[str, Archived]:
    """Give, by subject, how each stands in the archive."""
    told = list(every)
    last, here = latest_revisions(reader.store), _here(reader, told)
    names = {each.sheet.subject: each for each in told}
    return {name: _archived(last.get(name), each, here) for name, each in names.items()}


def _archived(last: Revision | None, found: Folded, here: frozenset[str]) -> Archived:
    if last is None or last.basis == basis_of(found, here):
        return Archived(last=last, since=None)
    entries = sum(row.place > last.said["last"] for row in found.rows)
    photos = len(_named(found) & here) - last.said["photos"]
    sheet = found.sheet.hash != last.said["sheet"]
    return Archived(
        last=last,
        since=Since(
            entries=entries,
            photos=max(photos, 0),
            sheet=sheet,
            otherwise=not (entries or photos > 0 or sheet),
        ),
    )


def _named(found: Folded) -> set[str]:
    return {name for entry in found.entries for name in entry.photos}


def _here(reader: Reader, every: Iterable[Folded]) -> frozenset[str]:
    names = {name for found in every for name in _named(found)}
    return frozenset(photos_kept(reader.store, names)) if names else frozenset()
