"""`fieldapp person`: who the plan names, their desk accounts and enrolment codes."""

import argparse
import getpass
import secrets
import sys
from pathlib import Path
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.config import default_data, running
from fieldapp.core.entries import ID
from fieldapp.intake.door import Door
from fieldapp.intake.endings import EndingRefused, lose_phone, retire_key
from fieldapp.lookups import people_of_plan, person_of_plan, roster_of
from fieldapp.records.figures import iso_utc
from fieldapp.store.accounts import (
    Account,
    all_accounts,
    all_sessions,
    end_sessions,
    find_account,
    set_account,
)
from fieldapp.store.database import connected, writing
from fieldapp.store.devices import CODE_LIFE_MS, issue_code
from fieldapp.store.ledger import last_heard

SHORTEST_PASSWORD = 10
SHORT_KEY = 10
GENERATED_BYTES = 12


def add_parser(commands: Any) -> None:
    """Say what `person` takes."""
    parser = commands.add_parser("person", help="people, desk accounts, phone codes")
    inner = parser.add_subparsers(required=True, metavar="ACTION")
    _action(inner, "list", "who the plan names, their accounts and keys", _list)
    account = _action(inner, "add-account", "a desk account, or a new password", _add)
    account.add_argument("person")
    account.add_argument("--name", help="to sign in with (default: the person's id)")
    account.add_argument(
        "--office", action="store_true", help="may make enrolment codes"
    )
    account.add_argument(
        "--password", choices=("make", "ask", "stdin"), default="make",
        help="make one and print it, ask for it, or read a line",
    )  # fmt: skip
    code = _action(inner, "code", "an enrolment code for a person's phone", _code)
    code.add_argument("person")
    _action(inner, "sessions", "who is signed in at the desk", _sessions)
    end = _action(inner, "end-sessions", "sign an account out everywhere", _end)
    end.add_argument("name")
    retire = _action(
        inner, "retire-key", "a PIN was forgotten: the key's entries stand", _retire
    )
    retire.add_argument("person")
    retire.add_argument("key", help="the first signs of its id, as `list` shows it")
    lost = _action(inner, "lose-phone", "a phone was lost: revoke its keys", _lose)
    lost.add_argument("device")
    for ending in (retire, lost):
        ending.add_argument("--reason", required=True)


def new_account(door: Door, account: Account, *, password: str | None = None) -> str:
    """Make an account (connected to the store); gives its password."""
    made = password or secrets.token_urlsafe(GENERATED_BYTES)
    with writing(door.store):
        set_account(door.store, account, made, utc_now_ms())
    return made


def new_code(door: Door, person: str) -> str:
    """Make an enrolment code (connected to the store)."""
    with writing(door.store):
        return issue_code(
            door.store, person=person, issued_by="command", now=utc_now_ms()
        )


def _action(inner: Any, name: str, text: str, act: Any) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = inner.add_parser(name, help=text)
    parser.add_argument("--data", type=Path, default=default_data())
    parser.set_defaults(run=_connected, act=act)
    return parser


def _connected(chosen: argparse.Namespace) -> int:
    door = open_data(chosen.data)
    with connected(door.store):
        chosen.act(chosen, door)
    return 0


def _list(_chosen: argparse.Namespace, door: Door) -> None:
    reader = running(door, utc_now_ms).reader
    roster, accounts = roster_of(reader), all_accounts(door.store)
    heard = last_heard(door.store)
    for person in people_of_plan(door.store):
        keys = roster.get(person["id"], {}).get("keys", {})
        names = ", ".join(each.name for each in accounts if each.person == person["id"])
        say(
            f"{person['id']:<20} {person['name']:<24} {', '.join(person['roles']):<28}"
            f" account: {names or '-'}  keys: {len(keys) or '-'}"
        )
        for name, key in keys.items():
            say(
                f"    {name[:SHORT_KEY]} on {key['device']} ({key['status']},"
                f" {_heard(heard.get(key['device']))})"
            )


def _heard(at: int | None) -> str:
    return "no entry of it yet" if at is None else f"last heard {iso_utc(at)}"


def _add(chosen: argparse.Namespace, door: Door) -> None:
    person = _known(door, chosen.person)
    name = chosen.name or chosen.person
    if not ID.fullmatch(name):
        raise CommandFault(f"--name {name}: letters, digits, . _ - (1 to 64)")
    account = Account(name=name, person=person["id"], office=chosen.office)
    made = new_account(door, account, password=_password(chosen.password))
    if chosen.password == "make":  # a choice, not a password
        say(f"account {name}, password {made}")
    else:
        say(f"account {name}")


def _password(how: str) -> str | None:
    if how == "make":
        return None
    ask = getpass.getpass if how == "ask" else _line
    password = ask("Password: ")
    if len(password) < SHORTEST_PASSWORD:
        raise CommandFault(f"a password has at least {SHORTEST_PASSWORD} characters")
    return password


def _line(_prompt: str) -> str:
    return sys.stdin.readline().rstrip("\n")


def _code(chosen: argparse.Namespace, door: Door) -> None:
    person = _known(door, chosen.person)
    code = new_code(door, person["id"])
    say(f"{code}  for {person['name']}, once, within {CODE_LIFE_MS // 60_000} minutes")


def _end(chosen: argparse.Namespace, door: Door) -> None:
    if find_account(door.store, chosen.name) is None:
        names = ", ".join(each.name for each in all_accounts(door.store))
        raise CommandFault(f"account {chosen.name} not found; known: {names or 'none'}")
    with writing(door.store):
        ended = end_sessions(door.store, chosen.name)
    say(f"{ended} sessions of {chosen.name} ended")


def _sessions(_chosen: argparse.Namespace, door: Door) -> None:
    for each in all_sessions(door.store, utc_now_ms()):
        since, last = iso_utc(each.made), iso_utc(each.seen)
        say(f"{each.id}  {each.account:<20} since {since}, last used {last}")


def _retire(chosen: argparse.Namespace, door: Door) -> None:
    keys = _keys_of(door, chosen.person)
    found = [key for key in keys if key.startswith(chosen.key)]
    if len(found) != 1:
        known = ", ".join(key[:SHORT_KEY] for key in keys) or "-"
        raise CommandFault(f"key {chosen.key} not found; of {chosen.person}: {known}")
    try:
        retire_key(
            door, person=chosen.person, key=found[0], reason=chosen.reason,
            now=utc_now_ms(),
        )  # fmt: skip
    except EndingRefused as fault:
        raise CommandFault(str(fault)) from fault
    say(f"key {found[0][:SHORT_KEY]} of {chosen.person} retired; its entries stand")


def _lose(chosen: argparse.Namespace, door: Door) -> None:
    try:
        whose = lose_phone(
            door, device=chosen.device, reason=chosen.reason, now=utc_now_ms()
        )
    except EndingRefused as fault:
        raise CommandFault(str(fault)) from fault
    say(f"{chosen.device} given up; revoked keys of: {', '.join(whose) or 'nobody'}")


def _keys_of(door: Door, person: str) -> dict[str, Any]:
    keys: dict[str, Any] = (
        roster_of(running(door, utc_now_ms).reader).get(person, {}).get("keys", {})
    )
    return keys


def _known(door: Door, person: str) -> dict[str, Any]:
    found = person_of_plan(door.store, person)
    if found is None:
        known = ", ".join(each["id"] for each in people_of_plan(door.store))
        raise CommandFault(f"person {person} not found; the plan names: {known or '-'}")
    return found
