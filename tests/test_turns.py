"""Batches that wait together are written together, each with its own answer."""

import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from fieldapp.intake import batch as door_module
from fieldapp.intake.batch import Accepted, QuotaReached, accept
from fieldapp.intake.turns import MOST_TOGETHER, Turns
from fieldapp.store.database import StoreUnavailable, connected
from fieldapp.store.devices import Device
from fieldapp.store.ledger import Signed, ledger_head
from tests.people import NOON, Stage, stage, wiped

PATIENCE_S = 60


@dataclass(slots=True)
class Wish:
    """A job of the tests: done once somebody worked on it."""

    name: int
    done: bool = False


@dataclass(slots=True)
class Desk:
    """Works on wishes; the first group is held until so many have come in all."""

    until: int
    queue: Turns[Wish] = field(default_factory=Turns)
    groups: list[list[int]] = field(default_factory=list)
    spoilt: frozenset[int] = frozenset()

    def work(self, group: Sequence[Wish]) -> None:
        if not self.groups:
            wait_for(lambda: len(group) + len(self.queue._waiting) >= self.until)
        self.groups.append([wish.name for wish in group])
        if self.spoilt & {wish.name for wish in group}:
            raise ZeroDivisionError
        for wish in group:
            wish.done = True

    def ask(self, name: int) -> bool:
        wish = Wish(name)
        self.queue.take(wish, self.work)
        return wish.done


def wait_for(come: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE_S
    while not come():
        assert time.monotonic() < until, "nobody came"
        time.sleep(0.001)


def test_those_who_wait_together_are_worked_on_together() -> None:
    desk = Desk(until=8)
    with ThreadPoolExecutor(8) as pool:
        assert all(pool.map(desk.ask, range(8)))
    assert len(desk.groups) <= 2
    assert sorted(name for group in desk.groups for name in group) == list(range(8))


def test_a_group_is_never_larger_than_allowed() -> None:
    desk = Desk(until=MOST_TOGETHER + 4)
    with ThreadPoolExecutor(MOST_TOGETHER + 4) as pool:
        assert all(pool.map(desk.ask, range(MOST_TOGETHER + 4)))
    assert max(len(group) for group in desk.groups) <= MOST_TOGETHER
    assert len(desk.groups) in (2, 3)


def test_what_one_spoils_is_done_for_the_others_at_their_own_turn() -> None:
    desk = Desk(until=6, spoilt=frozenset({3}))

    def ask(name: int) -> bool:
        try:
            return desk.ask(name)
        except ZeroDivisionError:
            return False

    with ThreadPoolExecutor(6) as pool:
        done = list(pool.map(ask, range(6)))
    # The one who led a spoilt group is told so, and 3 when it leads its own.
    assert done[3] is False
    asked = {name for group in desk.groups for name in group}
    assert asked == set(range(6))
    assert not desk.queue._waiting


@pytest.fixture
def site(tmp_path: Path) -> Stage:
    return stage(tmp_path)


def pushed(site: Stage, count: int, **pushers: Device) -> list[Accepted | Exception]:
    """Let phones push one entry each at the same time."""
    offers: list[tuple[Device, Signed]] = []
    for number in range(count):
        name = f"p{number}"
        phone = site.phone(name)
        wiped(phone)
        device = pushers.get(name, Device(device=name, revoked=False))
        offers.append((device, phone.outbox[-1]))

    def push(offer: tuple[Device, Signed]) -> Accepted | Exception:
        pusher, signed = offer
        try:
            return accept(site.wired.door, [signed], pusher=pusher, now=NOON)
        except (StoreUnavailable, QuotaReached) as fault:
            return fault

    with ThreadPoolExecutor(count) as pool:
        return list(pool.map(push, offers))


def test_phones_at_once_get_each_their_own_answer_and_receipt(site: Stage) -> None:
    answers = pushed(site, 12)
    assert all(isinstance(each, Accepted) for each in answers)
    results = [each.results[0] for each in answers if isinstance(each, Accepted)]
    assert {each.result for each in results} == {"stored"}
    assert sorted(each.index or 0 for each in results) == list(range(14, 26))
    numbers = [
        each.receipt.body.split('"number":')[1].split(",")[0]
        for each in answers
        if isinstance(each, Accepted)
    ]
    assert sorted(map(int, numbers)) == list(range(1, 13))


def test_a_phone_over_its_quota_holds_up_nobody(
    site: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(door_module, "REVOKED_QUOTA", 0)
    answers = pushed(site, 6, p2=Device(device="p2", revoked=True))
    assert isinstance(answers[2], QuotaReached)
    assert sum(isinstance(each, Accepted) for each in answers) == 5


def test_when_the_disk_fails_nobody_of_the_group_is_told_stored(
    site: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_args: object, **_kwargs: object) -> None:
        raise StoreUnavailable("disk")

    monkeypatch.setattr(door_module, "make_receipt", fail)
    answers = pushed(site, 6)
    assert all(isinstance(each, StoreUnavailable) for each in answers)
    with connected(site.wired.door.store):
        assert ledger_head(site.wired.door.store).place == 7
