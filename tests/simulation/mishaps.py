"""What goes wrong in the simulation, each by the name under which it is counted."""

import contextlib
import io
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from random import Random
from time import sleep

from fieldapp.cli import main
from fieldapp.clock import utc_now_ms
from tests.javascript import JavaScript
from tests.phone.office import free_port
from tests.simulation.account import Tally
from tests.simulation.books import faults_of
from tests.simulation.house import House, build
from tests.simulation.machine import Handset, Machine, held_by
from tests.simulation.road import Road
from tests.simulation.stranger import YEAR_MS, Stranger

LONGEST_LOAD_S = 0.12
SPARE_BYTES = (0, 4_096, 16_384)
LEAST_PHONES = 3


def simulate(
    seed: int, folder: Path, *, steps: int, engine: JavaScript | None = None
) -> Tally:
    """Run one seed: so many things happen, then all settles and is compared."""
    house = build(folder, free_port())
    tally = Tally(seed=seed)
    machine = Machine(house=house, rng=Random(seed), tally=tally, engine=engine)
    try:
        machine.begin(phones=5)
        for _ in range(steps):
            _step(machine)
        machine.settle()
        machine.compare()
    finally:
        house.office.kill()
    tally.losses += _told_by_check(house)
    return tally


def _told_by_check(house: House) -> list[str]:
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        status = main(["check", "--data", str(house.office.data)])
    return said.getvalue().splitlines() if status else []


def _step(machine: Machine) -> None:
    doing: Callable[[], None] = machine.rng.choices(
        (machine.work, machine.carry, lambda: _mishap(machine)), (60, 30, 10)
    )[0]
    doing()


def _mishap(machine: Machine) -> None:
    name = machine.rng.choice(list(MISHAPS))
    machine.tally.faults[name] += 1
    MISHAPS[name](machine)
    machine.serve()


def _kill_under_load(machine: Machine) -> None:
    strangers = [each for each in machine.phones if isinstance(each, Stranger)]
    own = [each for each in machine.phones if not isinstance(each, Stranger)]
    after_s = machine.rng.random() * LONGEST_LOAD_S
    with ThreadPoolExecutor(len(strangers) + 1) as gang:
        work = [gang.submit(_hammer, machine, phone) for phone in strangers]
        work.append(gang.submit(_kill_after, machine, after_s))
        # The Node of the program's own phones does one thing at a time.
        for phone in own:
            machine.record(phone, machine.rng)
            machine.sync(phone)
        for each in work:
            each.result()
    _look_at_books(machine)


def _hammer(machine: Machine, phone: Handset) -> None:
    for _ in range(6):
        machine.record(phone, phone.road.rng)
        machine.sync(phone)


def _kill_after(machine: Machine, after_s: float) -> None:
    sleep(after_s)
    machine.house.office.kill()


def _look_at_books(machine: Machine) -> None:
    books, tally = machine.house.books(), machine.tally
    tally.losses += faults_of(books)
    held = set().union(
        *(each.waiting() | each.waiting_photos() for each in machine.everyone)
    )
    if machine.put_back:
        # A phone learns of that at its next round, and then offers all it has.
        held |= machine.held()
    told = tally.acknowledged | tally.photos
    gone = told - books.kept - books.photos - held - tally.beyond_reach
    tally.losses += [f"acknowledged, then gone: {each}" for each in gone]


def _go_away(machine: Machine) -> None:
    machine.house.office.kill()
    for _ in range(5):
        machine.work()
        machine.carry()


def _fill_disk(machine: Machine) -> None:
    machine.house.fill_disk(machine.rng.choice(SPARE_BYTES))
    for _ in range(8):
        machine.work()
        machine.carry()
    machine.house.free_disk()


def _clone(machine: Machine) -> None:
    _join(machine, machine.rng.choice(machine.phones))


def _set_back(machine: Machine) -> None:
    """Go on with an older copy; what was made since is in the original alone."""
    phone = machine.rng.choice(machine.phones)
    _join(machine, phone)
    for _ in range(3):
        machine.record(phone, machine.rng)
    machine.sync(phone)
    machine.lose(phone)


def _join(machine: Machine, phone: Handset) -> None:
    machine.made += 1
    rng = Random(f"{machine.tally.seed} copy {machine.made}")
    road = Road(port=phone.road.port, rng=rng, rate=phone.road.rate)
    other: Handset = phone.copy(road)
    other.name = f"{phone.name.partition('+')[0]}+{machine.made}"
    machine.phones.append(other)


def _wipe(machine: Machine) -> None:
    if len(machine.phones) >= LEAST_PHONES:
        machine.lose(machine.rng.choice(machine.phones))
    machine.new_phone()


def _shift_clock(machine: Machine) -> None:
    phone = machine.rng.choice(machine.phones)
    phone.shift_clock(machine.rng.choice((-5, -1, 1, 5)) * YEAR_MS, machine.now)


def _revoke(machine: Machine) -> None:
    if len(machine.phones) < LEAST_PHONES or len(machine.revoked) > 1:
        return
    phone = machine.rng.choice(machine.phones)
    _take_out_of_force(machine, phone)
    gone = [each for each in machine.phones if each.device == phone.device]
    machine.phones = [each for each in machine.phones if each not in gone]
    machine.revoked += gone
    while len(machine.phones) < LEAST_PHONES:
        machine.new_phone()


def _take_out_of_force(machine: Machine, phone: Handset) -> None:
    machine.house.revoke(phone.device, phone.key_ids(), utc_now_ms())


def _back_up(machine: Machine) -> None:
    machine.house.office.kill()
    machine.house.back_up()
    # Of this one the backup knows nothing: brought back, it is a stranger there.
    machine.serve()
    machine.new_phone()


def _bring_back(machine: Machine, *, told: bool) -> None:
    house = machine.house
    if not house.backups:
        return
    house.office.kill()
    machine.put_back = True
    before = house.books()
    # Drawn from nothing, so that seeds go on meaning what they meant.
    new_disk = told and machine.made % 2 == 1
    house.bring_back(machine.rng.choice(house.backups), told=told, new_disk=new_disk)
    after = house.books()
    held = machine.held()
    if not told:
        # A phone out of force is told nothing, and of this not even the epoch.
        held = held_by(machine.phones)
    lacking = (before.kept | before.photos) - after.kept - after.photos
    machine.tally.beyond_reach |= lacking - held
    for phone in machine.revoked:
        _take_out_of_force(machine, phone)


def _deliver(machine: Machine) -> None:
    for phone in machine.everyone:
        phone.road.deliver_late()


MISHAPS: dict[str, Callable[[Machine], None]] = {
    "killed under load": _kill_under_load,
    "server away for a while": _go_away,
    "disk full": _fill_disk,
    "phone cloned": _clone,
    "phone wiped": _wipe,
    "phone set back to its backup": _set_back,
    "clock set wrong": _shift_clock,
    "phone revoked": _revoke,
    "backup made": _back_up,
    "backup brought back": lambda machine: _bring_back(machine, told=True),
    "file put back in silence": lambda machine: _bring_back(machine, told=False),
    "what was held up arrives": _deliver,
}
