"""`fieldapp demo`: the sample site, loaded and served, with people to try it as.

It works in a folder of its own and goes on where it was left; `--fresh` starts over.
On the first run the sample site's history is played into it, with people's keys made
up for it and thrown away, dated to the days just past. Passwords are made at random on
the first run and kept in that folder only.
"""

import argparse
import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.commands.load import compiled_site, put_in_force
from fieldapp.commands.person import new_account, new_code
from fieldapp.commands.serve import (
    make_server,
    serve_until_interrupted,
    shown_host,
)
from fieldapp.config import running
from fieldapp.intake.door import Door
from fieldapp.lookups import person_of_plan
from fieldapp.plan.compile import Compiled
from fieldapp.play.history import brought_to, read_history, replay
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.world import PlayFault, World
from fieldapp.signatures import write_secret
from fieldapp.store.accounts import Account
from fieldapp.store.database import connected
from fieldapp.store.ledger import ledger_head

MARK = "demo.json"
"""Holds the sign-ins; only a folder with it is ever cleared."""
SAMPLE = Path(__file__).resolve().parents[2] / "sample_site"
PEOPLE = "demo.toml"
HISTORY = "history"
HOUR_MS = 3_600_000


def add_parser(commands: Any) -> None:
    """Say what `demo` takes."""
    parser = commands.add_parser("demo", help="load and serve the sample site")
    parser.add_argument("--port", type=int, default=8080)
    parser.add_argument("--host", default="127.0.0.1")
    parser.add_argument("--data", type=Path, default=Path(".demo"))
    parser.add_argument("--site", type=Path, default=SAMPLE)
    parser.add_argument("--fresh", action="store_true", help="start over")
    parser.add_argument(
        "--only-load", action="store_true", help="print the sign-ins, serve nothing"
    )
    parser.add_argument(
        "--no-history", action="store_true", help="begin with nothing recorded"
    )
    parser.set_defaults(run=run, tls_cert=None, tls_key=None, name=[])


def run(chosen: argparse.Namespace) -> int:
    """Load and serve the sample site until interrupted; gives 0."""
    site = compiled_site(chosen.site)
    people = _demo_people(chosen.site)
    if chosen.fresh:
        _clear(chosen.data)
    door = open_data(chosen.data)
    server = None if chosen.only_load else make_server(chosen)
    with connected(door.store):
        _begin(door, site, chosen, utc_now_ms())
        sign_ins = _sign_ins(door, chosen.data, people["desk"])
        _introduce(chosen, door, sign_ins, people["phones"])
    if server:
        serve_until_interrupted(server)
    return 0


def _begin(door: Door, site: Compiled, chosen: argparse.Namespace, now: int) -> None:
    """Put the site in force; into an empty ledger, play its history before now."""
    told = chosen.site / HISTORY
    wanted = ledger_head(door.store).place == 0 and not chosen.no_history
    try:
        stories = brought_to(read_history(told), now) if wanted else []
        began = min((story.start for story in stories), default=now) - HOUR_MS
        began = began if stories else now
        say(put_in_force(door, site, began)[0])
        # A revision loaded later waits for people at their phones, as it should.
        if ledger_head(door.store).place == 0:
            for text in sign_waiting_plan(World(door=door), began):
                say(text)
        reader = running(door, utc_now_ms).reader
        for number, title in enumerate(replay(World(door=door), reader, stories), 1):
            say(f"history, {number} of {len(stories)}: {title}")
    except PlayFault as fault:
        raise CommandFault(f"{told}: {fault}") from fault


def _introduce(
    chosen: argparse.Namespace,
    door: Door,
    sign_ins: dict[str, str],
    phones: list[str],
) -> None:
    address = f"http://{shown_host(chosen.host)}:{chosen.port}"
    say()
    say(f"Desk:  {address}/")
    for person, password in sign_ins.items():
        say(f"  {_called(door, person)}: sign in as {person} with {password}")
    say(f"Phone: {address}/phone/   (codes work once, for 30 minutes)")
    for person in phones:
        say(f"  {_called(door, person)}: code {new_code(door, person)}")
    say()
    say("Ctrl-C stops the server; started again it goes on where it was left.")


def _called(door: Door, person: str) -> str:
    found = person_of_plan(door.store, person)
    if found is None:
        raise CommandFault(f"{PEOPLE}: {person}: the plan names no such person")
    return f"{found['name']} ({', '.join(found['roles'])})"


def _sign_ins(door: Door, data: Path, desk: list[str]) -> dict[str, str]:
    kept = data / MARK
    if kept.exists():
        known: dict[str, str] = json.loads(kept.read_text("utf-8"))
        return known
    made = {
        person: new_account(door, Account(name=person, person=person, office=True))
        for person in desk
    }
    write_secret(kept, json.dumps(made).encode("utf-8"))
    return made


def _demo_people(folder: Path) -> dict[str, list[str]]:
    try:
        told = tomllib.loads((folder / PEOPLE).read_text("utf-8"))
        return {name: [str(each) for each in told[name]] for name in ("desk", "phones")}
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise CommandFault(f"{folder / PEOPLE}: {fault}") from fault


def _clear(data: Path) -> None:
    if data.exists() and not (data / MARK).is_file():
        raise CommandFault(f"{data}: not made by demo, so it is not cleared")
    if data.exists():
        shutil.rmtree(data)
