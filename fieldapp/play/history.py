"""Plays a folder of stories quickly, to give a demonstration something to show.

Their dates are moved by whole days, so that the last of them lies in the days just
past; a story that says `live` is moved so that its last line is now. Nothing is judged
and nothing is told line by line: that is what playing a single story is for. Lines
that expect something, or a no, are passed over.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from fieldapp.core.entries import Entry
from fieldapp.lookups import Reader
from fieldapp.play.phones import change_phone
from fieldapp.play.sight import Sight
from fieldapp.play.story import Line, Story, read_story
from fieldapp.play.world import PlayFault, World
from fieldapp.play.writing import sign_line

DAY_MS = 24 * 3_600_000


def read_history(folder: Path) -> list[Story]:
    """Read every story of a folder, by the names of the files. Errors: `PlayFault`."""
    return [_read(path) for path in sorted(folder.glob("*.toml"))]


def brought_to(stories: Sequence[Story], now: int) -> list[Story]:
    """Move stories to end in the days before `now` (ms UTC), in the order of time.

    Their distances and hours of the day stay; one that is `live` ends at `now`.
    """
    past = [story for story in stories if not story.live]
    last = max((story.lines[-1].at for story in past), default=now)
    days = (now - last) // DAY_MS
    moved = [
        _moved(s, now - s.lines[-1].at if s.live else days * DAY_MS) for s in stories
    ]
    return sorted(moved, key=lambda story: story.start)


def replay(world: World, reader: Reader, stories: Sequence[Story]) -> Iterator[str]:
    """Play stories one after another in one world; gives the title of each.

    Errors: `PlayFault`, and those of the store.
    """
    known: dict[str, set[str]] = {}
    for story in stories:
        _enrol(world, story, known)
        named: dict[str, Entry] = {}
        writing, before = "", story.start
        for line in story.lines:
            # Phones meet when another takes over: what one writes alone goes at once.
            if _phone_of(story, line) != writing:
                world.sync_all(before)
            writing, before = _phone_of(story, line), line.at
            try:
                _line(world, reader, story, line, named)
            except PlayFault as fault:
                raise PlayFault(f"{story.title}: {fault}") from fault
        for phone in world.phones.values():
            phone.online = True
        world.sync_all(story.lines[-1].at)
        yield story.title


def _read(path: Path) -> Story:
    try:
        return read_story(path)
    except PlayFault as fault:
        told = str(fault)
        named = told if path.name in told else f"{path.name}: {told}"
        raise PlayFault(named) from fault


def _moved(story: Story, by_ms: int) -> Story:
    lines = tuple(replace(line, at=line.at + by_ms) for line in story.lines)
    return replace(story, start=story.start + by_ms, lines=lines)


def _enrol(world: World, story: Story, known: dict[str, set[str]]) -> None:
    for actor in story.people.values():
        phone = world.phone(actor.phone, now=story.start, zone=story.zone)
        if actor.person not in known.setdefault(actor.phone, set()):
            world.enrol(phone, actor.person, story.start)
            known[actor.phone].add(actor.person)
        world.sync(phone, story.start)


def _phone_of(story: Story, line: Line) -> str:
    """Give the phone a line is written on; nothing where it does something else."""
    said = line.said
    if "do" not in said:
        return ""
    return str(said.get("phone", story.people[said["who"]].phone))


def _line(
    world: World, reader: Reader, story: Story, line: Line, named: dict[str, Entry]
) -> None:
    said = line.said
    if "do" in said and "refused" not in said:
        actor = story.people[said["who"]]
        device = _phone_of(story, line)
        phone = world.phone(device, now=line.at, zone=story.zone)
        subject = said.get("subject", story.subject)
        sight = Sight(
            reader=reader, phone=phone, subject=subject, now=line.at, alone=True
        )
        entry = sign_line(story, line, actor.person, sight, named)
        if "name" in said:
            named[said["name"]] = entry
    elif "phone" in said and "expect" not in said:
        change_phone(world, story, line)
