"""Enrolment codes, and the phones that may talk to this server.

A code is short, runs out, works once and is kept as its SHA-256, as is a device's
token. A revoked device may still bring entries (they are set apart) but gets none.
"""

import secrets
from dataclasses import dataclass

from fieldapp.core.canonical import sha256_hex
from fieldapp.store.database import Store

CODE_LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
"""No letter that is read as another: no 0 O, 1 I L, U V."""
CODE_LENGTH = 8
CODE_LIFE_MS = 30 * 60_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """An enrolment code as kept: for whom, until when, and what used it."""

    person: str
    expires: int
    used: int | None
    device: str | None
    public: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A phone known to this server."""

    device: str
    revoked: bool


def issue_code(store: Store, *, person: str, issued_by: str, now: int) -> str:
    """Make a code for a person (inside `writing`); gives it as AAAA-BBBB."""
    code = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
    store.tables["codes"].insert(
        code=_hashed(code),
        person=person,
        issued_by=issued_by,
        made=now,
        expires=now + CODE_LIFE_MS,
    ).execute()
    half = CODE_LENGTH // 2
    return f"{code[:half]}-{code[half:]}"


def find_code(store: Store, typed: str) -> Code | None:
    """Give a code as typed (case, spaces and dashes do not matter), or None."""
    table = store.tables["codes"]
    row = table.select().where(table.code == _hashed(_plain(typed))).first()
    return Code(**{name: row[name] for name in Code.__slots__}) if row else None


def use_code(store: Store, typed: str, *, device: str, public: str, now: int) -> None:
    """Mark a code as used by this key on this device (inside `writing`)."""
    table = store.tables["codes"]
    use = table.update(used=now, device=device, public=public)
    use.where(table.code == _hashed(_plain(typed))).execute()


def code_makers(store: Store) -> dict[str, str]:
    """Give who made the code of each public key: a desk account, or `command`."""
    table = store.tables["codes"]
    rows = table.select().where(table.public.is_null(False))
    return {row["public"]: row["issued_by"] for row in rows.dicts()}


def find_device(store: Store, device: str) -> Device | None:
    """Give a device by its id, or None."""
    table = store.tables["devices"]
    return _device(table.select().where(table.device == device).first())


def device_of_token(store: Store, token: str) -> Device | None:
    """Give the device that holds a token, or None."""
    table = store.tables["devices"]
    return _device(table.select().where(table.token == _hashed(token)).first())


def token_mark(store: Store, device: str) -> str:
    """Give what changes whenever a device gets a token; empty for one unknown."""
    table = store.tables["devices"]
    row = table.select().where(table.device == device).first()
    return str(row["token"]) if row else ""


def give_token(store: Store, device: str, now: int) -> str:
    """Make a device known, or give it a new token (inside `writing`)."""
    token = secrets.token_urlsafe(32)
    table = store.tables["devices"]
    renew = table.update(token=_hashed(token)).where(table.device == device)
    if renew.execute() == 0:
        table.insert(device=device, token=_hashed(token), made=now).execute()
    return token


def revoke_device(store: Store, device: str, now: int) -> bool:
    """Take a device's right to pull away (inside `writing`); False if unknown."""
    table = store.tables["devices"]
    changed = table.update(revoked=now).where(table.device == device).execute()
    return bool(changed)


def _device(row: dict[str, object] | None) -> Device | None:
    if row is None:
        return None
    return Device(device=str(row["device"]), revoked=row["revoked"] is not None)


def _plain(typed: str) -> str:
    return "".join(char for char in typed.upper() if char.isalnum())


def _hashed(secret: str) -> str:
    return sha256_hex(secret.encode("utf-8", "replace"))
