"""A small site served to a test client, with an account to sign in with."""

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from fieldapp.app import create_app
from fieldapp.config import Settings, open_door
from fieldapp.store.accounts import Account, find_account, set_account
from fieldapp.store.database import connected, disconnect, writing
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
    """Give what is kept of the password, as an account made in earnest keeps it."""
    with TemporaryDirectory() as folder:
        store = open_door(Path(folder)).store
        with connected(store), writing(store):
            account = Account(name=OFFICE_NAME, person=FOREMAN, office=True)
            set_account(store, account, PASSWORD, NOON)
            kept: str = store.tables["accounts"].select().first()["password"]
        disconnect(store)
    return kept


def desk(data: Path) -> Desk:
    """Serve the small site to a client."""
    site = stage(data)
    app = create_app(Settings(data=data), clock=lambda: site.now)
    return Desk(app=app, client=app.test_client(), site=site)
