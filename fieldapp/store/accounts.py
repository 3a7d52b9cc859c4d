"""Office accounts, their sessions, and failed sign-ins.

Passwords are kept as Argon2id, session tokens as SHA-256: a copy of the database
signs nobody in. Nothing here ever locks an account; a failed try only makes the next
one from the same source wait.
"""

import secrets
from dataclasses import dataclass
from functools import cache
from typing import Any

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from fieldapp.core.canonical import sha256_hex
from fieldapp.store.database import Store

SESSION_IDLE_MS = 12 * 3_600_000
SESSION_LIFE_MS = 30 * 24 * 3_600_000
SEEN_STEP_MS = 5 * 60_000
"""A session's last use is written down at most this often."""
FREE_TRIES = 5
LONGEST_WAIT_MS = 30_000
FAILURES_KEPT_MS = 15 * 60_000
SESSION_ID_LENGTH = 16
_HASHER = PasswordHasher(time_cost=3, memory_cost=32_768, parallelism=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """Who may sign in at the desk; `office` may also issue enrolment codes."""

    name: str
    person: str
    office: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """One running session as it is listed; its `id` lets nobody in. Times in ms UTC."""

    id: str
    account: str
    made: int
    seen: int


def set_account(store: Store, account: Account, password: str, now: int) -> None:
    """Make an account or give it a new password (inside `writing`).

    A new password ends the account's sessions.
    """
    end_sessions(store, account.name)
    table = store.tables["accounts"]
    fields = {
        "person": account.person,
        "password": _HASHER.hash(password),
        "office": int(account.office),
        "made": now,
    }
    if find_account(store, account.name) is None:
        table.insert(name=account.name, **fields).execute()
    else:
        table.update(**fields).where(table.name == account.name).execute()


def find_account(store: Store, name: str) -> Account | None:
    """Give an account by its name, or None."""
    table = store.tables["accounts"]
    row = table.select().where(table.name == name).first()
    return _account(row) if row else None


def all_accounts(store: Store) -> list[Account]:
    """Give every account, by name."""
    table = store.tables["accounts"]
    return [_account(row) for row in table.select().order_by(table.name)]


def check_password(store: Store, name: str, password: str) -> Account | None:
    """Give the account if the password is right, else None, in the same time."""
    table = store.tables["accounts"]
    row = table.select().where(table.name == name).first()
    # Made for known names too: how long an answer takes tells nobody who is known.
    nobody = _nobody()
    try:
        _HASHER.verify(row["password"] if row else nobody, password)
    except (VerificationError, InvalidHashError):
        return None
    return _account(row) if row else None


@cache
def _nobody() -> str:
    return _HASHER.hash(secrets.token_hex())


def begin_session(store: Store, name: str, now: int) -> str:
    """Start a session (inside `writing`); gives its token, which is kept hashed."""
    token = secrets.token_urlsafe(32)
    table = store.tables["sessions"]
    table.delete().where(_over(table, now)).execute()
    table.insert(token=_hashed(token), account=name, made=now, seen=now).execute()
    return token


def session_account(store: Store, token: str, now: int) -> tuple[Account, bool] | None:
    """Give the account of a running session and whether it wants `touch_session`."""
    table = store.tables["sessions"]
    which = (table.token == _hashed(token)) & ~_over(table, now)
    row = table.select().where(which).first()
    account = find_account(store, row["account"]) if row else None
    return (account, bool(now - row["seen"] > SEEN_STEP_MS)) if account else None


def touch_session(store: Store, token: str, now: int) -> None:
    """Write down that a session is in use (inside `writing`)."""
    table = store.tables["sessions"]
    table.update(seen=now).where(table.token == _hashed(token)).execute()


def end_session(store: Store, token: str) -> None:
    """End one session (inside `writing`)."""
    table = store.tables["sessions"]
    table.delete().where(table.token == _hashed(token)).execute()


def all_sessions(store: Store, now: int) -> list[Session]:
    """Give the running sessions, last used first."""
    table = store.tables["sessions"]
    query = table.select().where(~_over(table, now)).order_by(table.seen.desc())
    return [
        Session(
            id=row["token"][:SESSION_ID_LENGTH],
            account=row["account"],
            made=row["made"],
            seen=row["seen"],
        )
        for row in query
    ]


def session_id(token: str) -> str:
    """Give the id under which a session is listed."""
    return _hashed(token)[:SESSION_ID_LENGTH]


def end_listed(store: Store, session: str, *, of: str | None = None) -> bool:
    """End one session by its listed id (inside `writing`), of one account or of any."""
    table = store.tables["sessions"]
    which = table.token.startswith(session)
    if len(session) != SESSION_ID_LENGTH or not session.isalnum():
        return False
    if of is not None:
        which &= table.account == of
    return bool(table.delete().where(which).execute())


def end_sessions(store: Store, name: str) -> int:
    """End all sessions of an account (inside `writing`); gives how many."""
    table = store.tables["sessions"]
    ended: int = table.delete().where(table.account == name).execute()
    return ended


def wait_before_try(
    store: Store, source: str, now: int, *, free: int = FREE_TRIES
) -> int:
    """Give how long this source must wait before its next try, in ms (0: none).

    `free` failed tries cost nothing; each further one doubles the wait, to 30 s.
    """
    table = store.tables["failures"]
    row = table.select().where(table.source == source).first()
    if row is None or row["tries"] < free:
        return 0
    tries, last = int(row["tries"]), int(row["last"])
    wait: int = min(LONGEST_WAIT_MS, 1_000 * 2 ** min(tries - free, 10))
    return max(0, min(wait, last + wait - now))


def note_failure(store: Store, source: str, now: int) -> None:
    """Count a failed try of a source (inside `writing`)."""
    table = store.tables["failures"]
    table.delete().where(table.last < now - FAILURES_KEPT_MS).execute()
    again = table.update(tries=table.tries + 1, last=now)
    if again.where(table.source == source).execute() == 0:
        table.insert(source=source, tries=1, last=now).execute()


def forget_failures(store: Store, source: str) -> None:
    """Forget a source's failed tries after a right one (inside `writing`)."""
    table = store.tables["failures"]
    table.delete().where(table.source == source).execute()


def _account(row: dict[str, object]) -> Account:
    return Account(
        name=str(row["name"]), person=str(row["person"]), office=bool(row["office"])
    )


def _over(table: Any, now: int) -> Any:
    idle, made = now - SESSION_IDLE_MS, now - SESSION_LIFE_MS
    return (table.seen < idle) | (table.made < made)


def _hashed(token: str) -> str:
    return sha256_hex(token.encode("utf-8"))
