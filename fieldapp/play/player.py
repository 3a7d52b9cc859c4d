"""Plays a story line by line and says what each entry led to.

The phones' own rules are asked before anything is signed, as on a real phone; the
office then folds what arrived. An expectation that does not hold is a fault of the
play, told with what was found instead.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.words import say
from fieldapp.intake.batch import Result
from fieldapp.lookups import Folded, Reader, folded
from fieldapp.play.asking import refusals_for
from fieldapp.play.changes import changes, differences
from fieldapp.play.phone import Phone
from fieldapp.play.phones import change_phone
from fieldapp.play.sight import Sight
from fieldapp.play.story import Line, Story
from fieldapp.play.world import PlayFault, World
from fieldapp.play.writing import line_values, sign_line


@dataclass(slots=True, kw_only=True)
class Player:
    """A story being played: the world, entries by name, and what went wrong."""

    world: World
    reader: Reader
    story: Story
    named: dict[str, Entry] = field(default_factory=dict)
    shown: dict[str, dict[str, Any]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def play(self) -> Iterator[str]:
        """Play every line; gives what to print. Faults gather in `faults`."""
        self._enrol_all()
        for line in self.story.lines:
            if "do" in line.said:
                yield from self._entry(line)
            elif "expect" in line.said:
                yield from self._expect(line)
            else:
                yield from self._phone(line)

    def _enrol_all(self) -> None:
        for actor in self.story.people.values():
            phone = self._phone_of(actor.phone, self.story.start)
            self.world.enrol(phone, actor.person, self.story.start)
        for phone in self.world.phones.values():
            self.world.sync(phone, self.story.start)
        list(self._office_changes(self.story.subject, self.story.start, []))

    def _entry(self, line: Line) -> Iterator[str]:
        said, actor = line.said, self.story.people[line.said["who"]]
        sight = self._sight(line, said.get("phone", actor.phone))
        yield self._head(line, f"{said['who']} on {sight.phone.device}: {_deed(said)}")
        refusals = self._refusals(line, actor.person, sight)
        if not self._goes_on(line, refusals):
            yield from (f"        no: {say(r['code'], r['facts'])}" for r in refusals)
            return
        entry = sign_line(self.story, line, actor.person, sight, self.named)
        if "name" in said:
            self.named[said["name"]] = entry
        results = self._sync_all(line.at)
        yield f"        {_landed(results.get(entry.id))}"
        self._check_result(line, results.get(entry.id))
        mine = self._sight(line, sight.phone.device).folded
        told = list(changes(sight.folded.state, mine.state))
        yield from (f"        {text}" for text in told)
        yield from self._office_changes(sight.subject, line.at, told)
        if entry.subject is None:
            yield from self._elsewhere(sight.subject, line.at)

    def _elsewhere(self, subject: str, now: int) -> Iterator[str]:
        """Say what an entry of the site's own led to at the other subjects."""
        for other in list(self.shown):
            if other != subject:
                for text in self._office_changes(other, now, []):
                    yield text.replace("office:", f"office, {other}:")

    def _office_changes(self, subject: str, now: int, told: list[str]) -> Iterator[str]:
        """Say what is new at the office since it was last asked (time may have run)."""
        seen = folded(self.reader, subject, now)
        if seen is None:
            return
        before, self.shown[subject] = self.shown.get(subject), seen.state
        found = list(changes(before, seen.state)) if before else []
        yield from (f"        office: {text}" for text in found if text not in told)

    def _refusals(self, line: Line, person: str, sight: Sight) -> list[dict[str, Any]]:
        asked = {**line.said, "person": person}
        values = line_values(line, sight)
        return refusals_for(sight.folded, asked, values, at=sight.wall)

    def _goes_on(self, line: Line, refusals: list[dict[str, Any]]) -> bool:
        wanted, codes = line.said.get("refused"), [each["code"] for each in refusals]
        if wanted is not None:
            if wanted not in codes:
                self._fault(line, f"expected a no ({wanted}), found {codes or 'none'}")
            return False
        if refusals and not line.said.get("force"):
            self._fault(line, f"the phone says no: {', '.join(codes)}")
            return False
        return True

    def _expect(self, line: Line) -> Iterator[str]:
        subject = line.said.get("subject", self.story.subject)
        if "phone" in line.said:
            found: Folded | None = self._sight(line, line.said["phone"]).folded
        else:
            found = folded(self.reader, subject, line.at)
        if found is None:
            raise PlayFault(f"line {line.number}: {subject} has no sheet")
        wrong = differences(found.state, line.said["expect"])
        for text in wrong:
            self._fault(line, text)
        yield self._head(line, "as expected" if not wrong else "NOT as expected")
        yield from (f"        {text}" for text in wrong)

    def _phone(self, line: Line) -> Iterator[str]:
        said = line.said
        change_phone(self.world, self.story, line)
        self._sync_all(line.at)
        rest = {name: said[name] for name in said if name not in ("at", "phone")}
        told = ", ".join(f"{name} {value}" for name, value in rest.items())
        yield self._head(line, f"{said['phone']}: {told}")
        yield from self._office_changes(self.story.subject, line.at, [])

    def _phone_of(self, device: str, now: int) -> Phone:
        return self.world.phone(device, now=now, zone=self.story.zone)

    def _sight(self, line: Line, device: str) -> Sight:
        return Sight(
            reader=self.reader,
            phone=self._phone_of(device, line.at),
            subject=line.said.get("subject", self.story.subject),
            now=line.at,
        )

    def _sync_all(self, now: int) -> dict[str | None, Result]:
        return {result.id: result for result in self.world.sync_all(now)}

    def _check_result(self, line: Line, result: Result | None) -> None:
        wanted = line.said.get("result")
        found = result.result if result else "waiting"
        if wanted is not None and wanted != found:
            self._fault(line, f"expected the answer {wanted}, found {found}")

    def _fault(self, line: Line, text: str) -> None:
        self.faults.append(f"line {line.number}: {text}")

    def _head(self, line: Line, text: str) -> str:
        minutes, seconds = divmod((line.at - self.story.start) // 1_000, 60)
        return f"{minutes // 60:>3}:{minutes % 60:02d}:{seconds:02d}  {text}"


def _deed(said: Any) -> str:
    places = [said[name] for name in ("step", "point", "line") if said.get(name)]
    values = said.get("values", {})
    told = " ".join(f"{name}={value}" for name, value in values.items())
    return " ".join([said["do"], *places, told]).strip()


def _landed(result: Result | None) -> str:
    if result is None:
        return "kept on the phone: no road to the office"
    if result.index is None:
        return f"{result.result}: {result.reason}"
    return f"{result.result} at index {result.index}"
