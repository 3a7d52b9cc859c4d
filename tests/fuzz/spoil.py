"""Spoils good samples: what is nearly right finds more than what is plainly wrong.

`FIELDAPP_FUZZ=20` runs twenty times as many cases, `FIELDAPP_SEED` starts elsewhere.
"""

import copy
import json
import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from random import Random
from types import FrameType
from typing import Any

TIMES = int(os.environ.get("FIELDAPP_FUZZ", "1"))
FIRST_SEED = int(os.environ.get("FIELDAPP_SEED", "1"))
PATIENCE_S = 60
DEEP = 5_000
STRANGE: tuple[Any, ...] = (
    None, True, False, -1, 0, 1, 2**53, -(2**63), 10**40, 0.1, -0.0, 1e308, 5e-324,
    float("nan"), float("inf"), "", " ", "0", "-1", "1e400", "NaN", "\x00", "\ud800",
    "e\u0301", "\u202e", "\uff11", "x" * 3_000, "../../x", "'; --", "{}", "<b>", "%s",
    [], {}, [[]], [None], {"": 0}, {"__proto__": {}}, {"word": "form"},
)  # fmt: skip
TOKENS = (
    b"\x00", b"\xff", b"\xc3", b"\xed\xa0\x80", b"\xef\xbb\xbf", b"NaN", b"1e999",
    b"-", b'"', b"\\ud800", b"{", b"[" * DEEP, b"9" * 5_000, b"\r", b"\n", b",",
    b"null", b"0x1", b"true", b"[[", b'"""', b"=", b"\xe2\x80\xae",
)  # fmt: skip


class TooLong(AssertionError):
    """One case took longer than anybody would wait."""


def seeds(count: int) -> range:
    """Give the seeds of a run."""
    return range(FIRST_SEED, FIRST_SEED + count * TIMES)


def spoiled(document: Any, rng: Random) -> Any:
    """Give a document with one to three things in it spoiled."""
    found = copy.deepcopy(document)
    for _ in range(rng.randint(1, 3)):
        found = _spoil_once(found, rng)
    return found


def spoiled_bytes(raw: bytes, rng: Random) -> bytes:
    """Give bytes with one to three places spoiled."""
    for _ in range(rng.randint(1, 3)):
        raw = rng.choice((_turn, _cut, _put_in, _repeat, _leave_out))(raw, rng)
    return raw


def as_json(document: Any) -> bytes:
    """Write a spoiled document as a careless program would."""
    return json.dumps(document).encode()


@contextmanager
def bounded(seconds: int = PATIENCE_S) -> Iterator[None]:
    """Break off what never ends; far above what any case takes."""
    before = signal.signal(signal.SIGALRM, _break_off)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def _break_off(_number: int, _frame: FrameType | None) -> None:
    raise TooLong(f"more than {PATIENCE_S} s")


def _spoil_once(document: Any, rng: Random) -> Any:
    places = list(_places(document))
    if not places or rng.random() < 0.02:
        return rng.choice(STRANGE)
    holder, key = rng.choice(places)
    doing = rng.choice((_strange, _strange, _without, _nearly, _swapped, _nested))
    doing(holder, key, rng)
    return document


def _places(part: Any) -> Iterator[tuple[Any, Any]]:
    if isinstance(part, dict):
        for key in part:
            yield part, key
            yield from _places(part[key])
    elif isinstance(part, list):
        for place in range(len(part)):
            yield part, place
            yield from _places(part[place])


def _strange(holder: Any, key: Any, rng: Random) -> None:
    holder[key] = copy.deepcopy(rng.choice(STRANGE))


def _without(holder: Any, key: Any, _rng: Random) -> None:
    del holder[key]


def _nearly(holder: Any, key: Any, rng: Random) -> None:
    value = holder[key]
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        holder[key] = [value, value]
    elif isinstance(value, str):
        holder[key] = rng.choice((value + "x", value[:-1], value.upper(), value * 2))
    else:
        holder[key] = rng.choice((value + 1, -value, value * 10**6, str(value)))


def _swapped(holder: Any, key: Any, rng: Random) -> None:
    other = rng.choice(list(holder) if isinstance(holder, dict) else range(len(holder)))
    holder[key], holder[other] = holder[other], holder[key]


def _nested(holder: Any, key: Any, rng: Random) -> None:
    for _ in range(rng.choice((1, 50, 200))):
        holder[key] = [holder[key]]


def _turn(raw: bytes, rng: Random) -> bytes:
    copied = bytearray(raw)
    if copied:
        copied[rng.randrange(len(copied))] ^= 1 << rng.randrange(8)
    return bytes(copied)


def _cut(raw: bytes, rng: Random) -> bytes:
    return raw[: rng.randint(0, len(raw))]


def _put_in(raw: bytes, rng: Random) -> bytes:
    place = rng.randint(0, len(raw))
    return raw[:place] + rng.choice(TOKENS) + raw[place:]


def _repeat(raw: bytes, rng: Random) -> bytes:
    start = rng.randint(0, len(raw))
    end = rng.randint(start, min(len(raw), start + 60))
    return raw[:end] + raw[start:end] * rng.choice((1, 2, 50)) + raw[end:]


def _leave_out(raw: bytes, rng: Random) -> bytes:
    start = rng.randint(0, len(raw))
    return raw[:start] + raw[rng.randint(start, min(len(raw), start + 60)) :]
