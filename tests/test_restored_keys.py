"""Lost phones after a restore: what stands is the same in whatever order it returns.

The office goes back to a copy from before the revocation; entries and revocation come
back from other phones in every sort of order.
"""

import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import permutations
from pathlib import Path
from random import Random

import pytest

from fieldapp.config import open_door
from fieldapp.core.canonical import sha256_hex
from fieldapp.intake import lost
from fieldapp.intake.batch import accept
from fieldapp.intake.door import Door
from fieldapp.intake.office import end_key
from fieldapp.lookups.audit import Report, audit
from fieldapp.play.phone import Phone
from fieldapp.signatures import SigningKey, new_key
from fieldapp.store.database import connected, disconnect
from fieldapp.store.devices import Device
from fieldapp.store.ledger import Row, Signed, all_apart, rows_after, rows_of_subject
from fieldapp.store.roster import people_of
from fieldapp.store.struck import struck_ids
from tests.people import FOREMAN, INSPECTOR, NOON, SUBJECT, Stage, stage, wiped

OTHER = Device(device="other", revoked=False)
LATER = NOON + 3_600_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """What was sent before and after a loss, and the office's copy from before it."""

    before: tuple[Signed, ...]
    after: tuple[Signed, ...]
    revocation: Signed
    old: Path

    @property
    def all(self) -> tuple[Signed, ...]:
        """Give everything, in the order in which it was made."""
        return (*self.before, self.revocation, *self.after)


@pytest.fixture
def site(tmp_path: Path) -> Stage:
    return stage(tmp_path / "first")


@pytest.fixture
def story(site: Stage, tmp_path: Path) -> Story:
    """Two the office had, one it had heard of, a witness of it, and two too late."""
    gone, other = site.phone("gone"), site.phone("other", INSPECTOR)
    door = site.wired.door
    disconnect(door.store)
    old = tmp_path / "old"
    shutil.copytree(site.data, old)
    made = [wiped(gone, temp=200 + number) for number in range(3)]
    other.entries[made[2].id] = made[2]
    other.write(
        "note", person=INSPECTOR, now=NOON, subject=SUBJECT, about={"text": "seen"}
    )
    for number in range(2):
        wiped(gone, temp=220 + number)
    sent = gone.outbox
    with connected(door.store):
        accept(door, [*sent[:2], other.outbox[-1]], pusher=OTHER, now=LATER)
        end_key(
            door, person=FOREMAN, key=gone.key_of(FOREMAN).id, reason="lost",
            revoked=True, now=LATER,
        )  # fmt: skip
        accept(door, sent, pusher=OTHER, now=LATER)
        revocation = next(
            Signed(body=row.body, sig=row.sig)
            for row in rows_after(door.store, 0, 100)
            if '"kind":"key_revoked"' in row.body
        )
    return Story(
        before=(sent[0], sent[1], other.outbox[-1], sent[2]),
        after=tuple(sent[3:]),
        revocation=revocation,
        old=old,
    )


@contextmanager
def office(story: Story, folder: Path) -> Iterator[Door]:
    data = folder / "again"
    shutil.rmtree(data, ignore_errors=True)
    shutil.copytree(story.old, data)
    door = open_door(data)
    with connected(door.store):
        yield door
    disconnect(door.store)


def bring(door: Door, order: Sequence[Signed], size: int = 1) -> None:
    for start in range(0, len(order), size):
        accept(door, order[start : start + size], pusher=OTHER, now=LATER)


def ids(entries: Sequence[Signed]) -> set[str]:
    return {sha256_hex(each.body.encode()) for each in entries}


def standing(door: Door) -> set[str]:
    return {row.id for row in rows_of_subject(door.store, SUBJECT)}


def checked(door: Door) -> Report:
    own = door.office
    return audit(door.store, office_key=own.id, office_public=own.public)


def test_what_stands_after_a_restore_does_not_hang_on_the_order(
    story: Story, tmp_path: Path
) -> None:
    rng, orders = Random(4), list(permutations(story.all))
    for order in rng.sample(orders, 12):
        for size in (1, 3):
            with office(story, tmp_path) as door:
                bring(door, order, size)
                assert standing(door) == ids(story.before), order
                apart = {each.id for each in all_apart(door.store)}
                assert apart | struck_ids(door.store) == ids(story.after)
                assert checked(door).faults == ()


def test_what_came_in_before_the_revocation_came_back_is_struck(
    story: Story, tmp_path: Path
) -> None:
    with office(story, tmp_path) as door:
        bring(door, [*story.before, *story.after])
        assert standing(door) == ids(story.before) | ids(story.after)
        bring(door, [story.revocation])
        assert standing(door) == ids(story.before)
        assert struck_ids(door.store) == ids(story.after)
        notes = [str(each) for each in checked(door).notes]
        assert sum("struck" in each for each in notes) == len(story.after)


@pytest.mark.parametrize("which", ["before", "after"])
def test_a_hand_that_strikes_or_unstrikes_is_found(
    story: Story, tmp_path: Path, which: str
) -> None:
    with office(story, tmp_path) as door:
        bring(door, [*story.before, *story.after, story.revocation])
        (chosen, *_) = sorted(ids(getattr(story, which)))
        act = (
            "DELETE FROM struck WHERE id = ?"
            if which == "after"
            else "INSERT INTO struck VALUES (?)"
        )
        door.store.database.execute_sql(act, (chosen,))
        assert len(checked(door).faults) == 1


def test_a_second_revocation_takes_nothing_from_the_first(
    story: Story, tmp_path: Path
) -> None:
    """The office that went back revokes again before the first revocation returns."""
    with office(story, tmp_path) as door:
        key = story.revocation.body.split('"key":"')[1][:64]
        end_key(
            door, person=FOREMAN, key=key, reason="lost", revoked=True, now=LATER + 9
        )
        bring(door, [*story.before, *story.after])
        assert standing(door) & ids(story.before) == ids(story.before[2:3])
        bring(door, [story.revocation])
        assert standing(door) == ids(story.before)
        assert checked(door).faults == ()


def test_a_revocation_that_could_not_name_all_is_judged_by_its_place(
    site: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lost, "MOST_NAMED", 1)
    gone = site.phone("gone")
    wiped(gone)
    door = site.wired.door
    with connected(door.store):
        accept(door, gone.outbox, pusher=OTHER, now=LATER)
        key = gone.key_of(FOREMAN).id
        end_key(door, person=FOREMAN, key=key, reason="r", revoked=True, now=LATER)
        assert '"needs"' not in rows_after(door.store, 0, 99)[-1].body
        wiped(gone, temp=230)
        told = accept(door, gone.outbox, pusher=OTHER, now=LATER)
        assert [each.result for each in told.results] == ["duplicate", "quarantined"]
        assert checked(door).faults == ()


def added(phone: Phone, key: SigningKey, device: str) -> Signed:
    about = {"key": key.id, "public": key.public, "device": device}
    phone.write("key_added", person=FOREMAN, now=NOON, about=about)
    return phone.outbox[-1]


def signed(phone: Phone) -> Signed:
    wiped(phone)
    return phone.outbox[-1]


def lost_since(site: Stage, gone: Phone, old: Path) -> Row:
    """Copy the office, then report a phone lost; gives the revocation's row."""
    wiped(gone)
    door = site.wired.door
    with connected(door.store):
        bring(door, gone.outbox)
    shutil.copytree(site.data, old)
    with connected(door.store):
        end_key(
            door, person=FOREMAN, key=gone.key_of(FOREMAN).id, reason="lost",
            revoked=True, now=LATER,
        )  # fmt: skip
        return rows_after(door.store, 0, 100)[-1]


def theft(site: Stage, old: Path) -> tuple[Story, Signed]:
    """A thief with the PIN adds keys; gives the story and what an honest one noted."""
    gone, other = site.phone("gone"), site.phone("other", INSPECTOR)
    thief, further = site.phone("thief", INSPECTOR), site.phone("further", INSPECTOR)
    last, honest = lost_since(site, gone, old), gone.outbox[-1]
    thief.keys[FOREMAN], further.keys[FOREMAN] = new_key(), new_key()
    after = [added(gone, thief.keys[FOREMAN], "thief"), signed(thief)]
    after += [added(thief, further.keys[FOREMAN], "further"), signed(further)]
    # Somebody else's key, named as the foreman's own, takes nothing from them.
    after.append(added(gone, other.key_of(INSPECTOR), "other"))
    other.write(
        "note", person=INSPECTOR, now=NOON, subject=SUBJECT, about={"text": "seen"}
    )
    revocation = Signed(body=last.body, sig=last.sig)
    story = Story(before=(honest,), after=tuple(after), revocation=revocation, old=old)
    return story, other.outbox[-1]


def test_what_a_key_signed_that_only_a_struck_entry_added_is_struck_with_it(
    site: Stage, tmp_path: Path
) -> None:
    """Whenever the revocation returns; and a hand that unstrikes it is found."""
    story, note = theft(site, tmp_path / "old")
    sent = (*story.after, note)
    for at in range(len(sent) + 1):
        with office(story, tmp_path) as door:
            bring(door, [*sent[:at], story.revocation, *sent[at:]])
            assert standing(door) == ids([*story.before, note]), at
            apart = {each.id for each in all_apart(door.store)}
            assert apart | struck_ids(door.store) == ids(story.after)
            assert len(people_of(door.store, door.office.id)[FOREMAN]["keys"]) == 1
            assert checked(door).faults == ()
            door.store.database.execute_sql("DELETE FROM struck")
            assert len(checked(door).faults) == min(at, len(story.after))


def test_a_reading_worded_like_a_key_added_keeps_no_revocation_out(
    site: Stage, tmp_path: Path
) -> None:
    """A thief may name a reading as they like: it adds no key, and is struck."""
    gone, old = site.phone("gone"), tmp_path / "old"
    last = lost_since(site, gone, old)
    gone.write(
        "done", person=FOREMAN, now=NOON, subject=SUBJECT, step="wipe",
        values={"kind": "key_added"},
    )  # fmt: skip
    before, after = gone.outbox
    revocation = Signed(body=last.body, sig=last.sig)
    story = Story(before=(before,), after=(after,), revocation=revocation, old=old)
    with office(story, tmp_path) as again:
        bring(again, [after, revocation])
        assert struck_ids(again.store) == ids([after])
        assert checked(again).faults == ()
