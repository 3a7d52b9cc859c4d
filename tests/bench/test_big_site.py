"""The desk over a site of 320 glued joints: times printed, the site page judged.

Medians of seven askings, each after one entry more, as on a working day, in processor
time, since the machine may be shared, and by turns, so that a slow minute falls on all
pages. The reading in the background after a start is printed apart.
"""

import time
from pathlib import Path
from statistics import median
from threading import Event

from fieldapp.app import create_app
from fieldapp.clock import utc_now_ms
from fieldapp.commands.warm import begin_warming
from fieldapp.config import Settings, open_door, running
from fieldapp.play.world import World
from fieldapp.store.database import connected
from tests.bench.big_site import JOINTS, BigSite, big_folder, big_site
from tests.desk import Desk
from tests.people import Stage

LIMIT_MS = 300
PATHS = ("/", "/today", "/queue", "/nonconformances", "/missing", "/register/",
         "/plan/", "/archive", "/joints/b1-w1")  # fmt: skip


def test_pages_of_a_site_with_320_joints(tmp_path: Path) -> None:
    now = utc_now_ms()
    data = tmp_path / "data"
    door = open_door(data)
    wired = running(door, lambda: now)
    world = World(door=door)
    began = time.process_time()
    with connected(door.store):
        site = big_site(world, wired.reader, big_folder(tmp_path / "site"), now)
    print(f"\n{site.recorded} joints recorded in {time.process_time() - began:.0f} s")
    app = create_app(Settings(data=data), clock=lambda: now)
    stage = Stage(data=data, wired=wired, world=world)
    desk = Desk(app=app, client=app.test_client(), site=stage)
    desk.sign_in()
    read = time.process_time()
    begin_warming(app.extensions["fieldapp"], Event()).join()
    print(f"read after a start: {time.process_time() - read:.1f} s")
    first, text = asked(desk, "/")
    assert text.count('class="seg ') >= JOINTS
    print(f"first page once it is read: {first:.0f} ms, {len(text) // 1_000} kB")
    assert first <= LIMIT_MS
    took = {path: median(times) for path, times in _by_turns(desk, site).items()}
    for path, median_ms in took.items():
        print(f"{path}: {median_ms:.0f} ms")
    assert max(took.values()) <= LIMIT_MS, took
    after = asked_after_an_enrolment(desk, site)
    print(f"/today after somebody was put on a further phone: {after:.0f} ms")
    assert after <= LIMIT_MS


def asked_after_an_enrolment(desk: Desk, site: BigSite) -> float:
    """Ask for a page of the whole site once one more phone is enrolled."""
    known = site.world.phones["phone-b1-w1"]
    with connected(site.world.door.store):
        phone = site.world.phone("one-more", now=site.now, zone=60)
        site.world.enrol(phone, next(iter(known.keys)), site.now)
    return asked(desk, "/today")[0]


def asked(desk: Desk, path: str) -> tuple[float, str]:
    """Ask for a page; gives the milliseconds and its text."""
    began = time.process_time()
    answer = desk.client.get(path)
    assert answer.status_code == 200, path
    return (time.process_time() - began) * 1_000, answer.text


def _by_turns(desk: Desk, site: BigSite) -> dict[str, list[float]]:
    """Ask for every page seven times, by turns, with an entry more each time."""
    phone = site.world.phones["phone-b1-w1"]
    took: dict[str, list[float]] = {path: [] for path in PATHS}
    for number in range(7):
        for path in PATHS:
            about = {"text": f"looked at {path} for the {number + 1}. time"}
            with connected(site.world.door.store):
                phone.write(
                    "note", person=next(iter(phone.keys)), now=site.now, about=about,
                    subject="b1-w2",
                )  # fmt: skip
                site.world.push(phone, site.now)
            took[path].append(asked(desk, path)[0])
    return took
