"""`fieldapp play FILE`: plays a scripted story and prints what each entry led to.

It always plays in a fresh database made for it (or a copy of a given one), with keys
made at random and thrown away: nothing it does can reach a site's own records. The
form of a story is told in `fieldapp/play/story.py`.
"""

import argparse
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from fieldapp.commands import CommandFault, open_data, say
from fieldapp.commands.load import compiled_site, put_in_force
from fieldapp.commands.record import write_record
from fieldapp.config import DATABASE, SITE_KEY, running
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.player import Player
from fieldapp.play.story import Story, read_story
from fieldapp.play.world import PlayFault, World
from fieldapp.store.database import connected

NOT_AS_EXPECTED = 1


def add_parser(commands: Any) -> None:
    """Say what `play` takes."""
    parser = commands.add_parser("play", help="play a scripted story of entries")
    parser.add_argument("file", type=Path, metavar="FILE")
    source = parser.add_mutually_exclusive_group()
    source.add_argument("--site", type=Path, metavar="DIR", help="a site's folder")
    source.add_argument(
        "--data", type=Path, help="a data folder; a copy of it is played in"
    )
    parser.add_argument(
        "--keep", type=Path, metavar="DIR", help="keep the played database here"
    )
    parser.add_argument("--pdf", type=Path, metavar="FILE", help="print the record")
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Play the story; gives 0, or 1 if something was not as expected."""
    try:
        return _run(chosen, read_story(chosen.file))
    except PlayFault as fault:
        raise CommandFault(f"{chosen.file}: {fault}") from fault


def _run(chosen: argparse.Namespace, story: Story) -> int:
    with _folder(chosen.keep) as data:
        if chosen.data:
            _copy(chosen.data, data)
        door = open_data(data)
        with connected(door.store):
            if not chosen.data:
                _load(door, chosen.site or story.site, story)
            wired = running(door, lambda: story.lines[-1].at)
            player = Player(world=World(door=door), reader=wired.reader, story=story)
            say(f"{story.title or chosen.file}")
            if story.shows:
                say(story.shows)
            say(f"Playing in a database of its own ({data}), with keys made for it.")
            for text in player.play():
                say(text)
            if chosen.pdf:
                write_record(wired, story.subject, chosen.pdf)
    for fault in player.faults:
        say(f"NOT AS EXPECTED: {fault}")
    return NOT_AS_EXPECTED if player.faults else 0


@contextmanager
def _folder(keep: Path | None) -> Iterator[Path]:
    if keep is None:
        with tempfile.TemporaryDirectory(prefix="fieldapp-play-") as folder:
            yield Path(folder)
    elif keep.exists():
        raise CommandFault(f"--keep {keep}: allowed: a folder that is not there yet")
    else:
        yield keep


def _load(door: Any, folder: Path | None, story: Story) -> None:
    if folder is None:
        raise CommandFault("no site: name one with --site, --data or in the story")
    put_in_force(door, compiled_site(folder), story.start)
    for text in sign_waiting_plan(World(door=door), story.start):
        say(text)


def _copy(source: Path, target: Path) -> None:
    """Copy a site's database and its key; a play must not write to the original."""
    if not (source / DATABASE).is_file():
        raise CommandFault(f"--data {source}: no database in it")
    target.mkdir(parents=True, exist_ok=True)
    (target / SITE_KEY).write_bytes((source / SITE_KEY).read_bytes())
    (target / SITE_KEY).chmod(0o600)
    with (
        closing(sqlite3.connect(f"file:{source / DATABASE}?mode=ro", uri=True)) as old,
        closing(sqlite3.connect(target / DATABASE)) as new,
    ):
        old.backup(new)
