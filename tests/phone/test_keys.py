"""Keys on the phone: wrapped twice, proven, slow after wrong PINs, never wiped."""

from typing import Any

import pytest

from fieldapp.signatures import verify
from tests.phone.handset import Handset

MADE = """async (pin) => {
  const keys = await import("/phone/device/keys.js");
  const row = await keys.makeKey(pin);
  await keys.keepKey(row, pin);
  await keys.nameKey(row.key, { person: "ida" });
  return { key: row.key, public: row.public };
}"""
UNLOCK = """async ([key, pin, text]) => {
  const keys = await import("/phone/device/keys.js");
  try {
    const signer = await keys.unlock(key, pin);
    return { sig: await keys.sign(signer.privateKey, text),
             extractable: signer.privateKey.extractable };
  } catch (fault) {
    return { fault: fault.constructor.name, wait: fault.waitMs };
  }
}"""


@pytest.fixture
def phone(emptied: Handset) -> Handset:
    return emptied


def test_a_key_signs_what_the_server_verifies(phone: Handset) -> None:
    made = phone.page.evaluate(MADE, "274951")
    signed = phone.page.evaluate(UNLOCK, [made["key"], "274951", "Grüße"])
    assert signed["extractable"] is False
    # The server's own check uses an independent library.
    assert verify(made["public"], "Grüße".encode(), signed["sig"])
    assert not verify(made["public"], b"other", signed["sig"])


def test_wrong_pins_wait_longer_and_survive_a_kill(
    phone: Handset,
) -> None:
    made = phone.page.evaluate(MADE, "274951")
    answers = [_try(phone, made, f"00000{n}") for n in (1, 2, 3)]
    assert [answer["fault"] for answer in answers] == ["PinRefused"] * 3
    assert answers[0]["wait"] == answers[1]["wait"] == 0
    assert 29_000 < answers[2]["wait"] <= 30_000
    phone.kill()
    phone.start("/phone/manifest.webmanifest")
    right_but_early = _try(phone, made, "274951")
    assert right_but_early["fault"] == "PinRefused"
    assert right_but_early["wait"] > 20_000


def test_a_wrong_pin_holds_up_nobody_else_and_wipes_nothing(phone: Handset) -> None:
    first = phone.page.evaluate(MADE, "274951")
    second = phone.page.evaluate(MADE, "830264")
    for n in range(3):
        _try(phone, first, f"11111{n}")
    assert "sig" in _try(phone, second, "830264")
    assert len(phone.storage("keys")) == 2


def test_what_is_stored_opens_neither_by_pin_alone_nor_in_clear(
    phone: Handset,
) -> None:
    made = phone.page.evaluate(MADE, "274951")
    opened = phone.page.evaluate(_WITHOUT_DEVICE_SECRET, [made["key"], "274951"])
    assert opened == "OperationError"


def _try(phone: Handset, made: Any, pin: str) -> Any:
    return phone.page.evaluate(UNLOCK, [made["key"], pin, "text"])


# The PIN stretched as the phone does it, but without the phone's own secret.
_WITHOUT_DEVICE_SECRET = """async ([key, pin]) => {
  const { transact } = await import("/phone/device/database.js");
  const row = await transact(["keys"], "readonly", (store) => store("keys").get(key));
  const text = new TextEncoder();
  const base = await crypto.subtle.importKey(
    "raw", text.encode(pin), "PBKDF2", false, ["deriveBits"]);
  const bits = await crypto.subtle.deriveBits(
    { name: "PBKDF2", hash: "SHA-256", salt: row.salt, iterations: 600000 }, base, 256);
  const wrap = await crypto.subtle.importKey(
    "raw", bits, "AES-GCM", false, ["decrypt"]);
  try {
    await crypto.subtle.decrypt(
      { name: "AES-GCM", iv: row.iv, additionalData: text.encode(key) },
      wrap, row.wrapped);
    return "opened";
  } catch (fault) {
    return fault.name;
  }
}"""
