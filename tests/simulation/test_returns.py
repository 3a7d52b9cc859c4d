"""The machine: phones that a restored office has not heard of come back by proof."""

from pathlib import Path
from random import Random

import pytest

from fieldapp.clock import utc_now_ms
from tests.javascript import JavaScript
from tests.people import FOREMAN, NOON
from tests.phone.office import free_port
from tests.simulation.account import Tally
from tests.simulation.books import SHEET_HASH
from tests.simulation.house import build
from tests.simulation.machine import Handset, Machine
from tests.simulation.road import Refused
from tests.simulation.shell_phone import ShellPhone

SINCE = 3
"""Of four phones made the first and the last are the program's own."""


def wiped(machine: Machine, phone: Handset, temp: int) -> None:
    made = phone.record(
        "done", person=FOREMAN, now=NOON, subject="J1", sheet=SHEET_HASH["J1"],
        step="wipe", values={"temp": temp},
    )  # fmt: skip
    machine.tally.saved.add(made)


@pytest.mark.parametrize("told", [True, False], ids=["new disk", "in silence"])
def test_phones_enrolled_since_the_backup_come_back_with_all_they_had(
    told: bool, tmp_path: Path, javascript: JavaScript
) -> None:
    house, tally = build(tmp_path, free_port()), Tally(seed=1)
    machine = Machine(house=house, rng=Random(1), tally=tally, engine=javascript)
    try:
        machine.begin(phones=1)
        machine.phones[0].road.rate = 0
        machine.sync(machine.phones[0])
        house.office.kill()
        house.back_up()
        machine.serve()
        for _ in range(SINCE):
            machine.new_phone()
        since = machine.phones[1:]
        for number, phone in enumerate(since):
            phone.road.rate = 0
            wiped(machine, phone, 100 + number)
            machine.sync(phone)
        acknowledged = set(tally.acknowledged)
        assert len(acknowledged) == SINCE
        house.office.kill()
        house.bring_back(house.backups[0], told=told, new_disk=told)
        machine.serve()
        assert not house.books().kept & acknowledged
        for phone in since:
            machine.sync(phone)
        assert tally.returned == SINCE
        assert not any(each.startswith("not ") for each in tally.faults)
        assert acknowledged <= house.books().ids
        machine.settle()
        machine.compare()
        assert tally.losses == []
    finally:
        house.office.kill()


def test_a_return_refused_because_the_phone_was_lost_is_kept_on_its_flash(
    tmp_path: Path, javascript: JavaScript
) -> None:
    house = build(tmp_path, free_port())
    machine = Machine(
        house=house, rng=Random(2), tally=Tally(seed=2), engine=javascript
    )
    try:
        machine.begin(phones=1)
        (phone,) = machine.phones
        assert isinstance(phone, ShellPhone)
        phone.road.rate = 0
        phone.sync()
        phone.begin_shift(FOREMAN)
        house.revoke(phone.device, [], utc_now_ms())
        known = phone._call("have", "database", "getMeta", "identity")
        assert "ended" not in known
        unknown = {**known, "token": "of an office that is gone"}
        phone._call("have", "database", "putMeta", "identity", unknown)
        with pytest.raises(Refused, match="403"):
            phone.sync()
        assert phone._call("have", "database", "getMeta", "identity")["ended"] is True
    finally:
        house.office.kill()
