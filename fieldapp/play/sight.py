"""What a phone sees of a subject at a moment, folded only if somebody asks for it.

Writing an entry mostly needs no more than the sheet; what rests on the state (which
attempt it is, which milestones a release relies on) folds once.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from fieldapp.core.fold import present
from fieldapp.core.sheet import Sheet
from fieldapp.lookups import Folded, Reader, folded_from, sheet_of
from fieldapp.lookups.folding import register_from
from fieldapp.lookups.rests import people_told
from fieldapp.play.phone import Phone
from fieldapp.play.world import PlayFault


@dataclass(kw_only=True)
class Sight:
    """A phone's view of one subject; `now` is the true time, ms UTC.

    `alone`: what other subjects used and how fast they were does not matter.
    """

    reader: Reader
    phone: Phone
    subject: str
    now: int
    alone: bool = False
    _sheet: Sheet = field(init=False)

    def __post_init__(self) -> None:
        found = sheet_of(self.reader, self.subject)
        if found is None:
            raise PlayFault(
                f"subject: found {self.subject!r}, allowed: one with a sheet"
            )
        self._sheet = found

    @property
    def sheet(self) -> Sheet:
        """Give the subject's sheet."""
        return self._sheet

    @property
    def wall(self) -> int:
        """Give the moment by the phone's own clock."""
        return self.now + self.phone.skew_ms

    @cached_property
    def register(self) -> dict[str, Any]:
        """Give the items as the phone knows them."""
        return register_from(self.reader, self.phone.of_subject(None))

    @cached_property
    def folded(self) -> Folded:
        """Give the subject as the phone folds it."""
        found = folded_from(
            self.reader,
            self.subject,
            self.wall,
            self.phone.of_subject,
            alone=self.alone,
        )
        assert found is not None, "its sheet is here"
        return found

    def attempt(self, name: str | None) -> str | None:
        """Give the attempt that counts for a step or point (None: the subject)."""
        told = self.phone.of_subject(self.subject)
        if not any(entry.kind == "disposition" for entry in told):
            return None
        # Which attempt it is rests on who may dispose, and on no other subject.
        people = {"people": people_told(self.reader)}
        view = present(self.sheet, told, people, {"at": self.wall}).view
        if name in self.sheet.flow:
            return view.attempt_of(name)
        return view.attempts()[-1][0]
