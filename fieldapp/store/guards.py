"""The triggers that keep the ledger as it was written, and whether they stand.

A trigger dropped by hand is the first thing a forger would do, so a database without
one is not served. Nothing here puts one back: what happened meanwhile must be looked
at first (`fieldapp check`).
"""

import re
from collections.abc import Callable, Iterable
from typing import Any

from fieldapp.store.migrations import MIGRATIONS

Ask = Callable[[str], Iterable[Any]]
_TRIGGER = re.compile(r"\s*CREATE TRIGGER (\w+)")


def guards(schema: int | None = None) -> dict[str, str]:
    """Give the statement that makes each guard of a schema (this one), by its name."""
    return _named(each for step in MIGRATIONS[:schema] for each in step)


def missing_guards(ask: Ask, schema: int | None = None) -> list[str]:
    """Give the names of guards that are gone or not as they were made.

    ask: puts a statement to the database and gives its rows.
    """
    asked = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
    found = {name: _plain(sql) for name, sql in ask(asked)}
    wanted = guards(schema).items()
    return [name for name, sql in wanted if found.get(name) != _plain(sql)]


def _named(statements: Iterable[str]) -> dict[str, str]:
    found = ((_TRIGGER.match(each), each) for each in statements)
    return {match[1]: statement for match, statement in found if match}


def _plain(sql: str) -> str:
    return " ".join(sql.split())
