"""The machine: phones that a restored office has not heard of come back by proof."""

from pathlib import Path
from random import Random

import pytest

from tests.javascript import JavaScript
from tests.people import FOREMAN, NOON
from tests.phone.office import free_port
from tests.simulation.account import Tally
from tests.simulation.books import SHEET_HASH
from tests.simulation.house import build
from tests.simulation.machine import Handset, Machine

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
