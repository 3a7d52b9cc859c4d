"""Signatures as browsers make them, and the site's key on disk."""

import hashlib
from pathlib import Path

import pytest

from fieldapp.signatures import (
    KeyFault,
    decode_base64url,
    encode_base64url,
    key_id,
    new_key,
    sign,
    site_key,
    verify,
)

# RFC 6979, appendix A.2.5: curve P-256, SHA-256, message "sample".
UX = "60FED4BA255A9D31C961EB74C6356D68C049B8923B61FA6CE669622E60F29FB6"
UY = "7903FE1008B8BC99A41AE9E95628BC64F2F1B20C2D7E9F5177A3C294D4462299"
R = "EFD48B2AACB6A8FD1140DD9CD45E81D69D2C877B56AAF991C34D0EA84EAF3716"
S = "F7CB1C942D657C41D436C7A1B6E29F65F3E900DBB9AFF4064DC4AB2F843ACDA8"
POINT = encode_base64url(bytes.fromhex("04" + UX + UY))
SIGNATURE = encode_base64url(bytes.fromhex(R + S))


def test_a_published_signature_holds() -> None:
    assert verify(POINT, b"sample", SIGNATURE)
    assert not verify(POINT, b"simple", SIGNATURE)


def test_what_is_signed_here_holds_and_has_64_bytes() -> None:
    key = new_key()
    made = sign(key, b"a fact")
    assert len(decode_base64url(made)) == 64
    assert verify(key.public, b"a fact", made)
    assert not verify(key.public, b"a fact ", made)
    assert not verify(new_key().public, b"a fact", made)


def test_a_key_id_is_the_hash_of_the_raw_point() -> None:
    raw = bytes.fromhex("04" + UX + UY)
    assert key_id(POINT) == hashlib.sha256(raw).hexdigest()


@pytest.mark.parametrize(
    "signature",
    ["", "!", SIGNATURE + "=", SIGNATURE[:-1], SIGNATURE + "A", "B" * 200_000,
     encode_base64url(bytes(64)), encode_base64url(b"\xff" * 64), "é", "\ud800"],
)  # fmt: skip
def test_what_is_no_signature_does_not_hold(signature: str) -> None:
    assert not verify(POINT, b"sample", signature)


@pytest.mark.parametrize(
    "public",
    ["", POINT[:-1], POINT + "A", encode_base64url(bytes(65)),
     encode_base64url(bytes.fromhex("02" + UX)),
     encode_base64url(bytes.fromhex("04" + UX + UX))],
)  # fmt: skip
def test_what_is_no_key_is_refused(public: str) -> None:
    assert not verify(public, b"sample", SIGNATURE)
    with pytest.raises(KeyFault):
        key_id(public)


def test_base64url_has_one_form_only() -> None:
    assert decode_base64url("AQ") == b"\x01"
    with pytest.raises(KeyFault, match="stray"):
        decode_base64url("AR")


def test_the_sites_key_is_made_once_and_readable_by_its_owner_only(
    tmp_path: Path,
) -> None:
    path = tmp_path / "site.key"
    made = site_key(path)
    assert site_key(path).id == made.id
    assert path.stat().st_mode & 0o777 == 0o600


def test_a_key_others_may_read_is_not_used(tmp_path: Path) -> None:
    path = tmp_path / "site.key"
    site_key(path)
    path.chmod(0o640)
    with pytest.raises(KeyFault, match="600"):
        site_key(path)


def test_a_file_that_is_no_key_is_said_to_be_none(tmp_path: Path) -> None:
    path = tmp_path / "site.key"
    path.write_text("not a key")
    path.chmod(0o600)
    with pytest.raises(KeyFault, match="PEM"):
        site_key(path)
