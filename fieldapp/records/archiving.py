"""Archives the records of several subjects, one after another, and tells each result.

Every record is archived by itself, as one alone is: what was done when something
fails, or when the time is over, stays done, and asking again goes on with the rest.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from fieldapp.intake.archive import Archiver, Overtaken
from fieldapp.intake.door import Door
from fieldapp.lookups import Folded, Reader
from fieldapp.lookups.archive import CURRENT, Archived
from fieldapp.records.archive import archive
from fieldapp.records.pdf import PaperUnavailable
from fieldapp.store.archive import Revision
from fieldapp.store.database import StoreUnavailable

COMPLETE = ("complete", "concession")
"""Verdicts of work that is done and stands."""
STOPPING = (PaperUnavailable, StoreUnavailable)
"""What the next record would meet as well."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What came of one subject: the revision that stands now, or why there is none."""

    subject: str
    revision: Revision | None = None
    made: bool = False
    fault: str = ""

    @property
    def told(self) -> str:
        """Give the result in words."""
        if self.revision is None:
            return f"not archived: {self.fault}"
        number = self.revision.revision
        if self.made:
            return f"archived as revision {number}"
        return f"nothing came since revision {number}, which stands"


def archive_each(
    door: Door,
    reader: Reader,
    subjects: Iterable[str],
    clock: Callable[[], int],
    *,
    by: Archiver,
    size: str = "",
) -> Iterator[Result]:
    """Archive each subject as of its turn; ends after a fault the next would meet.

    Nothing is done before a result is asked for. Errors: `UnknownSize`.
    """
    for subject in subjects:
        try:
            done = archive(door, reader, subject, clock(), by=by, size=size)
        except Overtaken:
            yield Result(subject=subject, fault="others archive it at this moment")
        except STOPPING as fault:
            yield Result(subject=subject, fault=str(fault))
            return
        else:
            if done is None:
                yield Result(subject=subject, fault="it has no sheet")
            else:
                yield Result(subject=subject, revision=done.revision, made=done.made)


def complete_and_wanting(
    begun: Iterable[Folded], known: dict[str, Archived]
) -> list[str]:
    """Give the subjects that are complete and not archived as they stand."""
    return [
        found.sheet.subject
        for found in begun
        if found.state["verdict"] in COMPLETE
        and known[found.sheet.subject].status != CURRENT
    ]
