"""The office on a disk that is really full: a small filesystem, filled to the brim."""

import subprocess
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from fieldapp.cli import main
from fieldapp.clock import utc_now_ms
from fieldapp.play.phone import Phone
from fieldapp.store.room import SPARE_BYTES
from tests.people import FOREMAN, NOON, SITE
from tests.phone.office import free_port
from tests.simulation.house import House, build
from tests.simulation.road import Refused, Road
from tests.simulation.stranger import Stranger

DISK_BYTES = SPARE_BYTES + 16 * 1024 * 1024
CHUNK = b"\0" * 65_536


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    place = tmp_path / "disk"
    place.mkdir()
    size = f"size={DISK_BYTES}"
    done = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", size, "tmpfs", place],
        check=False, capture_output=True,
    )  # fmt: skip
    if done.returncode:
        pytest.skip("nobody here may make a small filesystem")
    yield place
    subprocess.run(["umount", place], check=True)


@pytest.fixture
def house(disk: Path) -> Iterator[House]:
    made = build(disk, free_port())
    made.office.start()
    yield made
    made.office.kill()


@pytest.fixture
def gang(house: House) -> Stranger:
    road = Road(port=house.office.port, rng=Random(1))
    pen = Phone(device="gang", site=SITE, started_ms=NOON)
    phone = Stranger(name="gang", site=SITE, road=road, pen=pen)
    phone.enrol(FOREMAN, house.code(FOREMAN, utc_now_ms()))
    return phone


def notes(phone: Stranger, count: int) -> set[str]:
    return {
        phone.record(
            "note", person=FOREMAN, now=NOON, subject="J1",
            about={"text": f"{number} " + "x" * 1_900},
        )
        for number in range(count)
    }  # fmt: skip


def fill(disk: Path, *, leave: int) -> Path:
    """Fill a disk but for some bytes, or until it takes nothing more."""
    file = disk / "somebody-elses-films"
    left = DISK_BYTES
    with file.open("wb", buffering=0) as films:
        try:
            while left > leave:
                films.write(CHUNK)
                left = DISK_BYTES - used(disk)
        except OSError:
            assert leave == 0, "only a full disk takes nothing more"
    return file


def used(disk: Path) -> int:
    return sum(each.stat().st_blocks * 512 for each in disk.rglob("*"))


@pytest.mark.parametrize("leave", [SPARE_BYTES // 2, 0], ids=["guarded", "to the brim"])
def test_a_full_disk_acknowledges_nothing_loses_nothing_and_recovers(
    disk: Path, house: House, gang: Stranger, leave: int
) -> None:
    before = notes(gang, 20)
    gang.sync()
    films = fill(disk, leave=leave)
    made = notes(gang, 30)
    for _ in range(3):
        with pytest.raises(Refused) as told:
            gang.sync()
        assert told.value.status == 503
    assert gang.waiting() == made
    assert made.isdisjoint(house.books().kept)
    # What is there can still be read, and the phone goes on.
    assert gang.road.ask("/api/pull?after=0", token=gang.pen.token)["last"] > 20
    more = notes(gang, 1)
    films.unlink()
    gang.sync()
    assert gang.waiting() == set()
    assert before | made | more <= house.books().ids
    assert main(["check", "--data", str(house.office.data)]) == 0


def test_a_disk_that_fills_while_phones_push_keeps_what_it_answered_for(
    disk: Path, house: House, gang: Stranger
) -> None:
    """Filled behind the guard's back, and the server killed on top of it."""
    films = None
    acknowledged: set[str] = set()
    answers = []
    for turn in range(6):
        notes(gang, 40)
        waiting = gang.waiting()
        if turn == 2:
            films = fill(disk, leave=0)
        try:
            gang.sync()
        except Refused as no:
            answers.append(no.status)
        acknowledged |= waiting - gang.waiting()
        if turn == 4:
            house.office.kill()
            assert films is not None
            films.unlink()
            house.office.start()
    assert answers == [503, 503, 503]
    assert gang.waiting() == set()
    assert acknowledged <= house.books().ids
    assert main(["check", "--data", str(house.office.data)]) == 0
