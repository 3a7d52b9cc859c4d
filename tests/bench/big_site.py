"""A made-up site of 320 glued joints on fifteen piers, much of it recorded.

The sample site is given thirteen piers more. Joint W1 is played from the sample's own
history; the joints after it on many arms get its entries again, signed anew.
"""

import csv
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.commands.load import compiled_site, put_in_force
from fieldapp.core.entries import Entry, read_entry
from fieldapp.lookups import Reader, folded, sheet_of
from fieldapp.play.history import brought_to, read_history, replay
from fieldapp.play.phone import Phone
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.world import World
from fieldapp.store.ledger import rows_of_subject

SAMPLE = Path(__file__).resolve().parents[2] / "sample_site"
FIRST, BAR = "j-w1", "bar-0"
PIERS = {**{f"b{n}": 11 for n in range(1, 13)}, "b13": 6}
FINISHED_A_ARM, ARMS_AT_WORK = 1, 12
BEGUN_ENTRIES = 20
JOINTS = 320


@dataclass(slots=True, kw_only=True)
class BigSite:
    """The site's world; `recorded` counts the joints with entries."""

    world: World
    reader: Reader
    now: int
    register: dict[str, Any]
    rests: set[str]
    recorded: int = 0


def big_folder(folder: Path) -> Path:
    """Write the site's files: the sample's, with piers of its third pier's make."""
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("history"))
    (folder / "history").mkdir()
    for story in ("00-stores.toml", "01-w1.toml"):
        shutil.copy(SAMPLE / "history" / story, folder / "history")
    for name in ("segments.csv", "joints.csv"):
        _grow(folder / name)
    _more_bars(folder / "items.csv")
    with (folder / "site.toml").open("a", encoding="utf-8") as site:
        for number, pier in enumerate(PIERS, 1):
            site.write(
                f'\n[[piers]]\nid = "{pier}"\ntitle = "Pier {number + 3}"\n'
                f'arms = ["west", "east"]\nhalf_length_m = 2.5\n'
                f"at_m = {190.4 + 90 * number}\nlevel_m = 45.0\n"
            )
    return folder


def big_site(world: World, reader: Reader, folder: Path, now: int) -> BigSite:
    """Put the site in force and record on it; connected to the store by the caller."""
    stories = brought_to(read_history(folder / "history"), now)
    began = min(story.start for story in stories) - 3_600_000
    put_in_force(world.door, compiled_site(folder), began)
    list(sign_waiting_plan(world, began))
    list(replay(world, reader, stories))
    first = folded(reader, FIRST, now)
    assert first is not None
    site = BigSite(
        world=world,
        reader=reader,
        now=now,
        register=first.register,
        rests={m["entry"] for m in first.state["milestones"].values()},
    )
    rows = rows_of_subject(world.door.store, FIRST)
    told = [read_entry(row.body.encode("utf-8")) for row in rows]
    for number, arm in enumerate(_arms()):
        _work(site, arm, told, at_work=number < ARMS_AT_WORK)
    return site


def _arms() -> Iterator[list[str]]:
    for pier, count in PIERS.items():
        for side in "we":
            yield [f"{pier}-{side}{number}" for number in range(1, count + 1)]


def _grow(path: Path) -> None:
    """Add the piers' segments or joints, every one made like the first."""
    with path.open(encoding="utf-8", newline="") as file:
        first = next(csv.DictReader(file))
    with path.open("a", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(first))
        for arm in _arms():
            writer.writerows(_like(first, name, n) for n, name in enumerate(arm, 1))


def _like(first: dict[str, str], name: str, order: int) -> dict[str, str]:
    if "segment" in first:
        return first | {"id": name, "segment": f"s-{name}", "title": f"Joint {name}"}
    pier, _, place = name.partition("-")
    return first | {
        "id": f"s-{name}",
        "title": f"segment {name}",
        "pier": pier,
        "arm": "west" if place[0] == "w" else "east",
        "order": str(order),
    }


def _more_bars(path: Path) -> None:
    """Give every arm at work bars of its own: the first joint's wear out."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    bars = [row for row in rows if row["id"].startswith(BAR)]
    with path.open("a", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(rows[0]))
        for arm in _arms():
            for joint in arm[: FINISHED_A_ARM + 1]:
                writer.writerows(b | {"id": f"{b['id']}-{joint}"} for b in bars)


def _work(site: BigSite, arm: list[str], told: list[Entry], *, at_work: bool) -> None:
    """Record the first joint of an arm to its end; where at work, begin one more."""
    people = sorted({entry.person for entry in told})
    phone = site.world.phone(f"phone-{arm[0]}", now=told[0].made - 1, zone=60)
    for person in people:
        site.world.enrol(phone, person, told[0].made - 1)
    site.world.sync(phone, told[0].made - 1)
    before: list[str] = []
    for joint in arm[:FINISHED_A_ARM]:
        before = _again(site, phone, joint, told, before)
    if at_work:
        _again(site, phone, arm[FINISHED_A_ARM], told[:BEGUN_ENTRIES], before)
    site.world.push(phone, site.now)


def _own_bar(value: Any, joint: str) -> Any:
    is_bar = isinstance(value, str) and value.startswith(BAR)
    return f"{value}-{joint}" if is_bar else value


def _again(
    site: BigSite, phone: Phone, joint: str, told: list[Entry], before: list[str]
) -> list[str]:
    """Sign a joint's entries for another joint; gives those that others rest on.

    before: those of the joint this one waits for.
    """
    sheet = sheet_of(site.reader, joint)
    assert sheet is not None
    site.recorded += 1
    named: dict[str, str] = {}
    for entry in told:
        about: dict[str, Any] = {
            name: named.get(value, value) if isinstance(value, str) else value
            for name, value in entry.about.items()
        }
        values = {n: _own_bar(v, joint) for n, v in entry.values.items()}
        bars = [
            site.register[v]["entry"] for v in values.values() if v in site.register
        ]
        made = phone.write(
            entry.kind, person=entry.person, now=entry.made, subject=joint,
            sheet=sheet.hash, step=entry.step, line=entry.line or None,
            point=entry.point, values=values, about=about,
            needs=sorted({*(named.get(e, e) for e in entry.needs), *before, *bars}),
            photos=list(entry.photos) or None,
        )  # fmt: skip
        named[entry.id] = made.id
    return [named[each] for each in site.rests if each in named]
