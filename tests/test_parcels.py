"""Codes and parcels on the phone against whatever a screen, a print or a file may hold.

The phone's modules run in Node; what they must agree with (deflate, hashes, base 45)
is worked out by Python's own libraries.
"""

import base64
import json
import random
import zlib
from hashlib import sha256
from typing import Any

import pytest

from tests.javascript import JavaScript

CALLS = "tests/js/parcel_calls.js"
SITE = "tarn"
SIG = "A" * 86
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"


def deflated(raw: bytes) -> bytes:
    made = zlib.compressobj(9, zlib.DEFLATED, -15)
    return made.compress(raw) + made.flush()


def parcel(entries: Any, **changes: Any) -> bytes:
    return json.dumps(
        {"format": 1, "site": SITE, "entries": entries} | changes
    ).encode()


def row(body: str = "{}", sig: str = SIG) -> dict[str, str]:
    return {"bytes": body, "sig": sig}


@pytest.mark.parametrize(
    ("raw", "text"),
    # The examples of RFC 9285, sections 4.3 and 4.4.
    [(b"AB", "BB8"), (b"Hello!!", "%69 VD92EX0"), (b"base-45", "UJCLQE7W581"),
     (b"ietf!", "QED8WEX0")],
)  # fmt: skip
def test_base_45_is_that_of_the_standard(
    javascript: JavaScript, raw: bytes, text: str
) -> None:
    assert javascript.call(CALLS, "toBase45", raw) == text
    assert javascript.call(CALLS, "base45Read", text) == raw


@pytest.mark.parametrize("text", ["GGW", ":::", "::", "A", "ab", "é0A", "\ud83d0"])
def test_what_is_no_base_45_is_refused(javascript: JavaScript, text: str) -> None:
    # GGW is 65,536 (RFC 9285, section 6); :: is 2,024, more than a byte.
    assert javascript.call(CALLS, "base45Read", text) == "damaged"


def test_frames_read_in_any_order_and_among_others_lose_nothing(
    javascript: JavaScript,
) -> None:
    raw, other = random.randbytes(9_000), random.randbytes(3_000)
    frames = javascript.call(CALLS, "framesOf", raw)
    strangers = javascript.call(CALLS, "framesOf", other)
    assert len(frames) == 19  # 13,500 letters, 720 a frame
    assert all(set(frame) <= set(ALPHABET) for frame in frames)
    seen = frames + frames[:5] + strangers[:-1]
    random.shuffle(seen)
    answers = javascript.call(CALLS, "gathered", seen)
    whole = [each["bytes"] for each in answers if "bytes" in each]
    assert whole
    assert set(whole) == {raw}
    assert answers[-1]["missing"] in ([], [len(strangers)])


def test_what_fits_one_code_of_version_22_is_one_frame(
    javascript: JavaScript,
) -> None:
    # ISO/IEC 18004, table 7: 1134 letters in version 22 at level M (as the
    # independent library says too).
    import segno

    frames = javascript.call(CALLS, "framesOf", random.randbytes(716))
    assert len(frames) == 1
    assert segno.make(frames[0], error="m", boost_error=False).version == 22
    assert len(javascript.call(CALLS, "framesOf", random.randbytes(717))) == 2


def test_a_lying_frame_is_found_by_the_hash_and_spoils_nothing_for_good(
    javascript: JavaScript,
) -> None:
    raw = random.randbytes(1_500)
    frames = javascript.call(CALLS, "framesOf", raw)
    lie = frames[0][:-1] + ("A" if frames[0][-1] != "A" else "B")
    answers = javascript.call(CALLS, "gathered", [lie, *frames[1:], *frames])
    assert answers[len(frames) - 1] == "damaged"
    assert answers[-1]["bytes"] == raw


@pytest.mark.parametrize(
    ("frame", "code"),
    [
        ("", "not_a_frame"), ("FR1:P", "not_a_frame"), ("FR1:PX", "not_a_frame"),
        ("FR1:P" + "0" * 60, "not_a_frame"), ("FR1:P002001" + "0" * 60, "not_a_frame"),
        ("FR1:P999999" + "0" * 60, "too_large"),
        ("FR1:P201201" + "0" * 60, "too_large"),
        ("FR1:P001001" + "0" * 5_000, "not_a_frame"),
        ("FR1:P001001" + "0" * 60, "damaged"),
        ("FR1:P-01001" + "0" * 60, "not_a_frame"),
        ("FR1:P001001" + "é" * 60, "damaged"),
    ],
)  # fmt: skip
def test_what_is_no_frame_is_refused_in_a_word(
    javascript: JavaScript, frame: str, code: str
) -> None:
    assert javascript.call(CALLS, "gathered", [frame]) == [code]


def test_many_parcels_begun_keep_little(javascript: JavaScript) -> None:
    raws = [random.randbytes(1_500) for _ in range(8)]
    frames = [javascript.call(CALLS, "framesOf", raw) for raw in raws]
    firsts = [each[0] for each in frames]
    answers = javascript.call(CALLS, "gathered", [*firsts, *frames[0][1:]])
    assert answers[-1]["have"] < answers[-1]["of"], "the first was let go"


def test_a_parcel_comes_out_as_it_went_in(javascript: JavaScript) -> None:
    rows = [row(f'{{"n":{n},"text":"Grüße"}}') for n in range(40)]
    raw = javascript.call(CALLS, "packed", SITE, rows)
    assert json.loads(zlib.decompress(raw, -15)) == json.loads(parcel(rows))
    assert javascript.call(CALLS, "opened", raw, SITE) == rows


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        (b"", "unreadable"),
        (b"\x00\xff\x17not deflated", "unreadable"),
        (deflated(b"x" * 100)[:-3], "unreadable"),
        (deflated(b""), "unreadable"),
        (deflated(b"\xff\xfe{}"), "unreadable"),
        (deflated(b"[" * 1_000_000), "unreadable"),
        (deflated(b'{"a":' * 200_000), "unreadable"),
        # A bomb: 64 MiB of nothing in 64 KiB.
        (deflated(b" " * (64 * 2**20)), "too_large"),
        (b"\x00" * 200_000, "too_large"),
        (deflated(b"null"), "unreadable"),
        (deflated(parcel([], format=2)), "unreadable"),
        (deflated(parcel({"0": row()})), "unreadable"),
        (deflated(parcel([row()], site="elsewhere")), "other_site"),
        (deflated(parcel([row()], site=["tarn"])), "other_site"),
        (deflated(parcel([row()] * 501)), "too_large"),
        (deflated(parcel([row("x" * 70_000)])), "unreadable"),
        (deflated(parcel([row(sig="A" * 85)])), "unreadable"),
        (deflated(parcel([None, 1, "x"])), "unreadable"),
        (deflated(parcel([{"bytes": {}, "sig": SIG}])), "unreadable"),
    ],
    ids=range(19),
)
def test_hostile_parcels_are_refused_in_a_word(
    javascript: JavaScript, raw: bytes, code: str
) -> None:
    assert javascript.call(CALLS, "opened", raw, SITE) == code


def test_hostile_files_are_refused_in_a_word(javascript: JavaScript) -> None:
    good = parcel([row()])
    assert javascript.call(CALLS, "fileRead", good, SITE) == [row()]
    for raw, code in (
        (b"", "unreadable"), (b"PK\x03\x04", "unreadable"), (b"\xff", "unreadable"),
        (b"[" * 500_000, "unreadable"), (good + b"x", "unreadable"),
        (parcel([row()] * 20_001), "too_large"), (b" " * (2**24 + 1), "too_large"),
    ):  # fmt: skip
        assert javascript.call(CALLS, "fileRead", raw, SITE) == code


def test_marks_of_the_site_are_known_and_foreign_or_damaged_ones_are_told(
    javascript: JavaScript,
) -> None:
    def mark(sort: str, site: str, name: str) -> str:
        return (
            f"FR1:{sort}:{site}:{name}:"
            + sha256(f"{site}/{name}".encode()).hexdigest()[:8]
        )

    good = mark("ITEM", SITE, "jack-a")
    letters = "".join(chr(n) for n in range(32, 127))
    noise = base64.b64encode(random.randbytes(300)).decode()
    for text, wanted in (
        (good, {"kind": "item", "id": "jack-a"}),
        (f" {good}\n", {"kind": "item", "id": "jack-a"}),
        (mark("SUBJECT", SITE, "j-w1"), {"kind": "subject", "id": "j-w1"}),
        (mark("ITEM", "other", "jack-a"), {"fault": "foreign_site"}),
        (good.replace("jack-a", "jack-b"), {"fault": "damaged"}),
        (good[:-1], {"fault": "damaged"}),
        (mark("CRANE", SITE, "x"), {"fault": "damaged"}),
        (mark("ITEM", SITE, "../x"), {"fault": "damaged"}),
        ("", {"fault": "stranger"}), (letters, {"fault": "stranger"}),
        (noise, {"fault": "stranger"}), ("\ud83d", {"fault": "stranger"}),
    ):  # fmt: skip
        assert javascript.call(CALLS, "readMark", text, SITE) == wanted, text
