"""Real browsers and a real server, killed at random moments: the books compared.

What the phones in Node cannot show is shown here, small: Chromium's own storage under
SIGKILL, its own road cut off, the server killed under it. What a page called saved is
told by the page as it happens, so that what a kill interrupts is not counted as told.
"""

import os
import signal
import threading
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from playwright.sync_api import ConsoleMessage, Playwright
from playwright.sync_api import Error as BrowserGone

from fieldapp.cli import main
from fieldapp.clock import utc_now_ms
from fieldapp.core.entries import Entry, read_entry
from tests.people import FOREMAN
from tests.phone.handset import Handset
from tests.phone.office import free_port
from tests.simulation.account import Tally
from tests.simulation.books import SUBJECTS, Books, faults_of, state_bytes
from tests.simulation.house import House, build

PIN = "274951"
BURST = 5
LONGEST_MS = 250
TOLD = "saved "
_READY = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return Boolean(model.shift);
}"""
_RECORD = """async ({ subject, texts, told }) => {
  const { model } = await import("/phone/screens/model.js");
  const { record } = await import("/phone/device/journal.js");
  const { kick } = await import("/phone/device/sync.js");
  for (const text of texts) {
    const draft = { kind: "note", subject, about: { text } };
    console.log(told + (await record(draft, model.shift)).id);
    kick();
  }
}"""
_SETTLED = """async () => {
  const { kick } = await import("/phone/device/sync.js");
  const { waitingForOffice } = await import("/phone/device/book.js");
  const { count } = await waitingForOffice();
  if (count > 0) kick();
  return count === 0;
}"""
_PULLED = """async () => {
  const { getMeta } = await import("/phone/device/database.js");
  const { kick } = await import("/phone/device/sync.js");
  kick();
  return (await getMeta("cursor"))?.last ?? 0;
}"""


@dataclass(slots=True, kw_only=True)
class Yard:
    """The office and the browsers round it, with the account of what they said."""

    house: House
    rng: Random
    tally: Tally
    phones: list[Handset] = field(default_factory=list)
    timers: list[threading.Timer] = field(default_factory=list)

    def open(self, playwright: Playwright, folder: Path, phones: int) -> None:
        """Start the office and enrol the foreman on each phone."""
        self.house.office.start()
        for number in range(phones):
            profile = folder / f"phone-{number}"
            profile.mkdir()
            phone = Handset(
                playwright=playwright, profile=profile, url=self.house.office.url
            )
            self.phones.append(phone)
            phone.start().enrol(self.house.code(FOREMAN, utc_now_ms()), PIN)
            phone.start_shift(FOREMAN, PIN)
            phone.until("() => navigator.serviceWorker.controller !== null")
            self._listen(phone)

    def step(self) -> None:
        """Let somebody record, and perhaps something go wrong meanwhile."""
        number = self.rng.randrange(len(self.phones))
        phone = self.phones[number]
        name = self.rng.choice(list(_MISHAPS))
        self.tally.faults[name] += 1
        texts = [f"{self.rng.random()}" for _ in range(self.rng.randint(1, BURST))]
        given = {"subject": self.rng.choice(SUBJECTS), "texts": texts, "told": TOLD}
        try:
            _MISHAPS[name](self, number)
            phone.page.evaluate(_RECORD, given)
        except BrowserGone:
            self._on_again(phone)

    def settle(self) -> None:
        """Let the weather clear, and everybody bring and take what there is."""
        for timer in self.timers:
            timer.join()
        _server_back(self, 0)
        for number, phone in enumerate(self.phones):
            try:
                _cut_off(self, number, off=False)
            except BrowserGone:
                self._on_again(phone)
        for phone in self.phones:
            phone.until(_SETTLED)
        last = len(self.house.books().rows)
        for phone in self.phones:
            phone.until(f"async () => (await ({_PULLED})()) >= {last}")

    def compare(self) -> None:
        """Hold what was told against the books, and every phone against the office."""
        books, losses = self.house.books(), self.tally.losses
        losses += faults_of(books)
        gone = self.tally.saved - books.ids
        losses += [f"saved and nowhere: {each}" for each in sorted(gone)]
        for phone in self.phones:
            losses += _differs(phone, books)
            losses += phone.faults

    def dying(self, phone: Handset) -> None:
        """Kill a browser in a moment, whatever it does then."""
        assert phone.process is not None
        pid = phone.process.pid

        def kill() -> None:
            # It may have been killed, and found dead, before its time.
            with suppress(ProcessLookupError):
                os.killpg(pid, signal.SIGKILL)

        self._in_a_moment(kill)

    def cut_power(self) -> None:
        """Kill the server in a moment."""
        if self.house.office.process is not None:
            self._in_a_moment(self.house.office.process.kill)

    def _in_a_moment(self, act: Callable[[], None]) -> None:
        timer = threading.Timer(self.rng.random() * LONGEST_MS / 1_000, act)
        timer.start()
        self.timers.append(timer)

    def _on_again(self, phone: Handset) -> None:
        """Switch a dead browser on: what it had called saved must be there."""
        phone.restart()
        phone.until(_READY)
        self._listen(phone)

    def _listen(self, phone: Handset) -> None:
        def hear(message: ConsoleMessage) -> None:
            if message.text.startswith(TOLD):
                self.tally.saved.add(message.text.removeprefix(TOLD))

        phone.page.on("console", hear)


def simulate(
    playwright: Playwright, folder: Path, seed: int, *, phones: int, steps: int
) -> Tally:
    """Run one seed: so many things happen, then all settles and is compared."""
    tally = Tally(seed=seed, faults=Counter())
    house = build(folder, free_port())
    yard = Yard(house=house, rng=Random(seed), tally=tally)
    with _ending(yard):
        yard.open(playwright, folder, phones)
        for _ in range(steps):
            yard.step()
        yard.settle()
        yard.compare()
    if main(["check", "--data", str(house.office.data)]):
        tally.losses.append("`fieldapp check` found something")
    return tally


@contextmanager
def _ending(yard: Yard) -> Iterator[None]:
    try:
        yield
    finally:
        for phone in yard.phones:
            phone.kill()
        yard.house.office.kill()


def _differs(phone: Handset, books: Books) -> list[str]:
    rows = {row["id"]: row for row in phone.storage("entries")}
    found = [f"{phone.profile.name} lacks {each}" for each in books.ids - rows.keys()]
    found += [f"{phone.profile.name} doubts {each}" for each, row in rows.items()
              if row.get("fault")]  # fmt: skip
    here: list[Entry] = [read_entry(row["bytes"].encode()) for row in rows.values()]
    for subject in SUBJECTS:
        if state_bytes(subject, here) != state_bytes(subject, books.entries()):
            found.append(f"{phone.profile.name} folds {subject} to another state")
    return found


def _browser_killed(yard: Yard, number: int) -> None:
    yard.dying(yard.phones[number])


def _server_killed(yard: Yard, _number: int) -> None:
    yard.cut_power()


def _server_back(yard: Yard, _number: int) -> None:
    yard.house.office.kill()
    yard.house.office.start()


def _cut_off(yard: Yard, number: int, *, off: bool = True) -> None:
    yard.phones[number].page.context.set_offline(off)


_MISHAPS: dict[str, Callable[[Yard, int], None]] = {
    "browser killed": _browser_killed,
    "server killed": _server_killed,
    "server on again": _server_back,
    "no network": _cut_off,
    "network again": lambda yard, number: _cut_off(yard, number, off=False),
    "nothing": lambda _yard, _number: None,
}
