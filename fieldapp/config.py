"""What the program is told from outside, read once, and what wiring hands on.

Settings come from the command line and the environment and are never read anywhere
else. A data folder holds one site: its database, the site's key, the cookie secret.
"""

import fcntl
import os
import secrets
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from fieldapp.clock import Clock
from fieldapp.intake.door import Door
from fieldapp.lookups import Reader
from fieldapp.lookups.warming import Warming
from fieldapp.records.gather import print_record
from fieldapp.signatures import site_key, write_secret
from fieldapp.store.database import open_store

DATABASE = "site.db"
SITE_KEY = "site.key"
SECRET_FILE = "cookie.secret"
LOCK_FILE = "in.use"
LOCAL_HOSTS = ("localhost", "127.0.0.1", "[::1]")
Paper = Callable[[Reader, str, int], bytes | None]
"""Sets a subject's record at a moment (ms UTC) as a PDF; None if it has no sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Where the data lies, which host names are answered, whether TLS is in front."""

    data: Path
    hosts: tuple[str, ...] = LOCAL_HOSTS
    secure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """What every request needs: the door in, the door out, and the clock.

    `troubles`: what the last check of the books found wrong while they are served;
    `warming`: how far the first reading of the site is.
    """

    door: Door
    reader: Reader
    clock: Clock
    paper: Paper
    troubles: list[str] = field(default_factory=list)
    warming: Warming = field(default_factory=Warming)


def default_data(environment: Mapping[str, str] = os.environ) -> Path:
    """Give the data folder: `FIELDAPP_DATA`, else `.fieldapp` here."""
    return Path(environment.get("FIELDAPP_DATA") or ".fieldapp")


def open_door(data: Path) -> Door:
    """Open a data folder, made on first use.

    Errors: `StoreFault`, `StoreUnavailable`, `KeyFault`, `OSError`.
    """
    data.mkdir(mode=0o700, parents=True, exist_ok=True)
    office = site_key(data / SITE_KEY)
    return Door(store=open_store(data / DATABASE), office=office)


def running(door: Door, clock: Clock) -> Running:
    """Put together what requests and commands need."""
    return Running(door=door, reader=reader_of(door), clock=clock, paper=print_record)


def reader_of(door: Door) -> Reader:
    """Give the door out that belongs to a door in."""
    office = door.office
    return Reader(store=door.store, office_key=office.id, office_public=office.public)


class InUse(OSError):
    """A data folder that is being served and cannot be exchanged now."""


def hold(data: Path) -> int:
    """Say that a data folder is being served, until the process ends; gives the file.

    Errors: `InUse` while a backup is being restored into it.
    """
    return _lock(data, fcntl.LOCK_SH, "a backup is being restored into it")


@contextmanager
def held_alone(data: Path) -> Iterator[None]:
    """Keep a data folder from being served. Errors: `InUse` if it is."""
    handle = _lock(data, fcntl.LOCK_EX, "it is being served: stop the server first")
    try:
        yield
    finally:
        os.close(handle)


def in_use(data: Path) -> bool:
    """Say whether a data folder is being served now."""
    if not (data / LOCK_FILE).exists():
        return False
    try:
        with held_alone(data):
            return False
    except InUse:
        return True


def _lock(data: Path, how: int, why: str) -> int:
    handle = os.open(data / LOCK_FILE, os.O_CREAT | os.O_RDWR, 0o600)
    try:
        fcntl.flock(handle, how | fcntl.LOCK_NB)
    except BlockingIOError as busy:
        os.close(handle)
        raise InUse(f"{data}: {why}") from busy
    return handle


def cookie_secret(data: Path) -> str:
    """Give the secret that signs cookies, kept so that a restart signs nobody out."""
    path = data / SECRET_FILE
    if not path.exists():
        write_secret(path, secrets.token_hex(32).encode("ascii"))
    return path.read_text("ascii")
