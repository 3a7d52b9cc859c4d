"""The machine that looks for loss: one seed, many phones, one real server.

It draws what people do and what goes wrong, keeps its own account of everything that
was ever called saved or acknowledged, and in the end holds it against the books.
Same seed, same draws; what two threads do at once is not repeated exactly, so what
is asserted must hold however they meet.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from random import Random

from fieldapp.clock import utc_now_ms
from fieldapp.core.entries import Entry
from fieldapp.play.phone import Phone
from tests.javascript import JavaScript
from tests.people import FOREMAN, INSPECTOR, NOON, SITE
from tests.simulation.account import Tally
from tests.simulation.acts import act
from tests.simulation.books import (
    SUBJECTS,
    Books,
    circles,
    faults_of,
    groundless,
    state_bytes,
    unfounded,
)
from tests.simulation.house import House
from tests.simulation.road import Lost, Refused, Road
from tests.simulation.shell_phone import Killed, ShellPhone, StorageFull
from tests.simulation.stranger import YEAR_MS, Stranger

MINUTE_MS = 60_000
ROUNDS_TO_SETTLE = 12
FAULT_RATE = 0.3
SKEWS_MS = (0, 0, 90_000, -3 * YEAR_MS, 20 * YEAR_MS)
Handset = Stranger | ShellPhone


@dataclass(slots=True, kw_only=True)
class Machine:
    """A site in the simulation: its house, its phones, its account of what was said.

    With an `engine`, one phone in three is the program's own.
    """

    house: House
    rng: Random
    tally: Tally
    engine: JavaScript | None = None
    phones: list[Handset] = field(default_factory=list)
    revoked: list[Handset] = field(default_factory=list)
    now: int = NOON
    made: int = 0
    put_back: bool = False

    @property
    def everyone(self) -> list[Handset]:
        """Give every phone there is, in force or not."""
        return [*self.phones, *self.revoked]

    def begin(self, phones: int) -> None:
        """Open the office and enrol the first phones."""
        self.serve()
        for _ in range(phones):
            self.new_phone()

    def serve(self) -> None:
        """Start the server if it does not run."""
        if not self.house.serving:
            self.house.office.start()

    def new_phone(self) -> None:
        """Enrol a phone; its clock may be years out."""
        self.made += 1
        name = f"p{self.made}"
        rng = Random(f"{self.tally.seed} {name}")
        phone = self._make(name, rng)
        people = (FOREMAN, INSPECTOR) if self.made % 2 else (FOREMAN,)
        for person in people:
            phone.enrol(person, self.house.code(person, utc_now_ms()))
        phone.shift_clock(rng.choice(SKEWS_MS), self.now)
        phone.road.rate = FAULT_RATE
        self.phones.append(phone)

    def work(self) -> None:
        """Let somebody do something on a phone."""
        self.now += self.rng.randint(0, 5 * MINUTE_MS)
        self.record(self.rng.choice(self.phones), self.rng)

    def record(self, phone: Handset, rng: Random) -> None:
        """Let somebody do something on this phone."""
        try:
            made = act(phone, rng, self.now)
        except (Killed, StorageFull):
            return
        if made:
            self.tally.saved.add(made)

    def carry(self) -> None:
        """Let a phone try a round with the office, and look at what it then holds."""
        phone = self.rng.choice(self.everyone)
        self.sync(phone)
        if phone not in self.everyone:
            return  # the office does not know it any more, and it is out of force
        known = entries_on(phone)
        self.tally.losses += [f"{phone.name}: {each}" for each in groundless(known)]

    def sync(self, phone: Handset) -> None:
        """Let this phone try a round with the office."""
        before, unsent = phone.waiting(), phone.waiting_photos()
        if self._round(phone) == 401 and self._is_known_again(phone):
            self._round(phone)
        if phone in self.everyone:
            self.tally.acknowledged |= before - phone.waiting()
            self.tally.photos |= unsent - phone.waiting_photos()

    def lose(self, phone: Handset) -> None:
        """A phone drowns: what no other node has is beyond anybody's reach."""
        for group in (self.phones, self.revoked):
            if phone in group:
                group.remove(phone)
        books = self.house.books()
        kept = books.kept | books.photos | self.held()
        self.tally.beyond_reach |= (phone.holds().keys() | phone.photos()) - kept
        self._count(phone)
        phone.vanish()

    def held(self) -> set[str]:
        """Give what is on any phone, entries and photos."""
        return held_by(self.everyone)

    def settle(self) -> None:
        """Let the weather clear: everybody reaches the office until nothing waits."""
        self.serve()
        self.house.free_disk()
        for phone in self.everyone:
            phone.road.rate = 0.0
            phone.road.deliver_late()
        for _ in range(ROUNDS_TO_SETTLE):
            for phone in self.everyone:
                self.sync(phone)
            if self._settled():
                return
        self.tally.losses.append("the phones never came to rest")

    def compare(self) -> None:
        """Hold the account against the books and every phone against the office."""
        books, losses = self.house.books(), self.tally.losses
        losses += faults_of(books)
        gone = self.tally.saved - books.kept - self.tally.beyond_reach
        losses += [f"saved and nowhere: {each}" for each in sorted(gone)]
        entries = books.entries()
        losses += unseen(entries, books, self.tally)
        losses += unfounded(entries, self.tally.beyond_reach) + circles(entries)
        for phone in self.phones:
            losses += [f"{phone.name} {each}" for each in self._differs(phone, books)]
        for phone in self.everyone:
            self._count(phone)

    def _make(self, name: str, rng: Random) -> Handset:
        road = Road(port=self.house.office.port, rng=rng)
        if self.engine is not None and self.made % 3 == 1:
            own = ShellPhone(
                name=name, road=road, engine=self.engine,
                address=self.house.office.url, rng=rng,
            )  # fmt: skip
            own.switch_on()
            return own
        pen = Phone(device=name, site=SITE, zone=120, started_ms=self.now)
        return Stranger(name=name, site=SITE, road=road, pen=pen)

    def _round(self, phone: Handset) -> int:
        """Try a round; gives the status that ended it, or 0."""
        try:
            phone.sync()
        except (Lost, Killed, StorageFull):
            self.tally.faults["round broken off"] += 1
        except Refused as no:
            self.tally.faults[f"answered {no.status}"] += 1
            return no.status
        return 0

    def _is_known_again(self, phone: Handset) -> bool:
        """The office brought back does not know this phone: it proves itself, or not.

        So it is too when a copy of it came first: a device has one token.
        """
        if phone in self.revoked:
            self.lose(phone)
            return False
        try:
            if phone.come_back():
                self.tally.returned += 1
                return True
        except (Lost, Killed, StorageFull):
            self.tally.faults["return broken off"] += 1
            return False
        except Refused as no:
            self.tally.faults[f"not returned: {no.status}"] += 1
        return self._invite_again(phone)

    def _invite_again(self, phone: Handset) -> bool:
        """Nothing here makes a key of it known to this office: a new code does."""
        rate, phone.road.rate = phone.road.rate, 0.0
        try:
            phone.enrol(phone.people[0], self.house.code(phone.people[0], utc_now_ms()))
        except (Lost, Refused) as no:
            self.tally.faults[f"not enrolled: {str(no)[:3]}"] += 1
        phone.road.rate = rate
        return True

    def _count(self, phone: Handset) -> None:
        self.tally.faults.update(phone.road.met)
        self.tally.alarms.update(phone.alarms)
        phone.road.met.clear()
        phone.road.late.clear()

    def _differs(self, phone: Handset, books: Books) -> list[str]:
        """Say what a phone lacks, and where the same entries fold to something else."""
        lacking = (books.ids & self.tally.saved) - phone.holds().keys()
        found = [f"lacks {each}" for each in sorted(lacking)]
        entries = books.entries()
        for subject in SUBJECTS:
            there = {each.id for each in entries if each.subject == subject}
            here = phone.entries_of(subject)
            only_here = {each.id for each in here} - there
            if strange := only_here - books.apart:
                found.append(f"believes what the office never kept: {sorted(strange)}")
            elif not only_here and _unlike(subject, here, entries):
                found.append(f"folds {subject} to another state")
        return found

    def _settled(self) -> bool:
        # Copies of one phone, each invited anew, add enrolments for ever.
        ids = self.house.books().ids & self.tally.saved
        return not any(
            each.waiting()
            or each.waiting_photos()
            or (each in self.phones and ids - each.holds().keys())
            for each in self.everyone
        )


def held_by(phones: Iterable[Handset]) -> set[str]:
    """Give the ids of the entries and the hashes of the photos on some phones."""
    return set().union(*(each.holds().keys() | each.photos() for each in phones))


def unseen(entries: Iterable[Entry], books: Books, tally: Tally) -> list[str]:
    """Give the photos that entries here name, or that were answered for, and are gone.

    Only a phone that drowned before its photo was sent may take it along.
    """
    named = {photo for entry in entries for photo in entry.photos}
    gone = (named | tally.photos) - books.photos - tally.beyond_reach
    return [f"a photo is gone: {each}" for each in sorted(gone)]


def entries_on(phone: Handset) -> list[Entry]:
    """Give what a phone trusts of all subjects."""
    return [each for subject in SUBJECTS for each in phone.entries_of(subject)]


def _unlike(subject: str, here: list[Entry], there: list[Entry]) -> bool:
    return state_bytes(subject, here) != state_bytes(subject, there)
