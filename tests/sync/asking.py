"""Asks the phone's API as a phone does."""

import json
from typing import Any

from werkzeug.test import TestResponse

from fieldapp.play.phone import Phone
from fieldapp.signatures import new_key, sign
from fieldapp.store.database import connected, writing
from fieldapp.store.devices import issue_code
from tests.desk import Desk
from tests.people import FOREMAN, INSPECTOR, NOON


def code_for(api: Desk, person: str = FOREMAN) -> str:
    store = api.site.wired.door.store
    with connected(store), writing(store):
        return issue_code(store, person=person, issued_by="o", now=NOON)


def request_of(code: str, device: str = "gang", public: str = "") -> dict[str, str]:
    key = new_key()
    public = public or key.public
    claim = f"enrol:{code}:{device}:{public}".encode()
    return {
        "code": code, "device": device, "public": public, "proof": sign(key, claim),
    }  # fmt: skip


def send(api: Desk, path: str, body: Any, token: str | None = None) -> TestResponse:
    raw = body if isinstance(body, bytes) else json.dumps(body).encode()
    return api.client.post(
        path, data=raw, content_type="application/json", headers=bearer(token)
    )


def bearer(token: str | None) -> dict[str, str]:
    return {"Authorization": f"Bearer {token}"} if token else {}


def enrolled(api: Desk) -> Phone:
    phone = api.site.phone("gang", FOREMAN, INSPECTOR)
    assert phone.token
    return phone


def waiting(phone: Phone) -> dict[str, Any]:
    return {"entries": [{"bytes": s.body, "sig": s.sig} for s in phone.outbox]}


def pull(api: Desk, phone: Phone, query: str = "") -> TestResponse:
    return api.client.get(f"/api/pull{query}", headers=bearer(phone.token))
