"""A small site served to a test client, with an account to sign in with."""

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from flask import Flask
from flask.testing import FlaskClient
from jinja2.bccache import Bucket, BytecodeCache
from werkzeug.test import TestResponse

from fieldapp.app import create_app
from fieldapp.config import Settings
from fieldapp.store.accounts import find_account
from fieldapp.store.database import connected, writing
from tests.people import FOREMAN, NOON, Stage, stage

OFFICE_NAME, READER_NAME = "odalys", "ida"
ACCOUNTS = {OFFICE_NAME: True, READER_NAME: False}
"""Sign-in names, and whether they may make enrolment codes."""
PASSWORD = "granite and lime"
# The PDF library leaves its colour profile's file to the garbage collector.
PAPER = pytest.mark.filterwarnings("ignore:unclosed file.*sRGB2014:ResourceWarning")
TOKEN = re.compile(r'name="csrf_token"[^>]*value="([^"]+)"')


@dataclass(slots=True, kw_only=True)
class Desk:
    """The app, a client of it, and the stage behind both (same data folder)."""

    app: Flask
    client: FlaskClient
    site: Stage

    def sign_in(self, name: str = OFFICE_NAME, password: str = PASSWORD) -> int:
        """Sign in through the form, the account made if need be; gives the status."""
        self.make_account(name)
        fields = {"name": name, "password": password}
        return self.post("/sign-in", fields, form="/sign-in").status_code

    def make_account(self, name: str) -> None:
        """Make one of the two accounts: hashing is slow, so once for all desks."""
        store = self.site.wired.door.store
        with connected(store):
            if name not in ACCOUNTS or find_account(store, name):
                return
            row = {"name": name, "person": FOREMAN, "office": int(ACCOUNTS[name]),
                   "made": NOON, "password": _kept_password()}  # fmt: skip
            with writing(store):
                store.tables["accounts"].insert(**row).execute()

    def post(self, path: str, fields: dict[str, str], form: str) -> TestResponse:
        """Send a form with the token its page carries."""
        found = TOKEN.search(self.client.get(form).text)
        token = found[1] if found else ""
        return self.client.post(path, data={"csrf_token": token, **fields})


@cache
def _kept_password() -> str:
    """Give what is kept of the password: hashed as in earnest, with less work.

    What was kept tells how it was hashed, so that signing in is quick as well; the
    tests of accounts hash as the program does.
    """
    return PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(PASSWORD)


class _Compiled(BytecodeCache):
    """Templates compiled once for all desks, as long as their text is the same."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Take over what an earlier desk compiled; its checksum is compared."""
        if bucket.key in self.kept:
            bucket.bytecode_from_string(self.kept[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what was just compiled."""
        self.kept[bucket.key] = bucket.bytecode_to_string()


_COMPILED = _Compiled()


def desk(data: Path) -> Desk:
    """Serve the small site to a client."""
    site = stage(data)
    app = create_app(Settings(data=data), clock=lambda: site.now)
    app.jinja_env.bytecode_cache = _COMPILED
    return Desk(app=app, client=app.test_client(), site=site)
