"""Pictures from outside, spoiled: whole and small enough, or refused and not kept."""

import struct
import tracemalloc
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from random import Random

import pytest
from PIL import Image

from fieldapp.core.canonical import sha256_hex
from fieldapp.play.phone import Phone
from fieldapp.store.images import ImageRefused, plain_copy, read_image
from tests.desk import Desk, desk
from tests.fuzz.spoil import bounded, seeds, spoiled_bytes
from tests.sync.asking import bearer, enrolled

MOST_BYTES = 260 * 1024 * 1024
FORMATS = ("JPEG", "PNG", "WEBP")


def picture(form: str, size: tuple[int, int] = (48, 32)) -> bytes:
    """Make a small picture with some detail in it."""
    image = Image.effect_noise(size, 60).convert("RGB")
    drawn = BytesIO()
    image.save(drawn, form)
    return drawn.getvalue()


def png(width: int, height: int, *chunks: tuple[bytes, bytes]) -> bytes:
    """Make a PNG by its chunks, whose pixels are all nothing."""
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    parts = [(b"IHDR", head), *chunks, (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(*part) for part in parts)


def _chunk(name: bytes, body: bytes) -> bytes:
    check = zlib.crc32(name + body)
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", check)


def pixels(width: int, height: int) -> tuple[bytes, bytes]:
    return b"IDAT", zlib.compress(b"\x00" * ((width + 1) * height), 9)


def swollen() -> bytes:
    return b"a\0\0" + zlib.compress(b"x" * 80_000_000, 9)


# Made when it is their turn: every process of a run reads this file.
BOMBS: dict[str, Callable[[], bytes]] = {
    "more pixels than are read": lambda: png(20_000, 20_000, (b"IDAT", b"")),
    "a side of two thousand million": lambda: png(2**31 - 1, 1, (b"IDAT", b"")),
    "no side at all": lambda: png(0, 0, (b"IDAT", b"")),
    "text that swells": lambda: png(8, 8, (b"zTXt", swollen()), pixels(8, 8)),
    "a profile that swells": lambda: png(8, 8, (b"iCCP", swollen()), pixels(8, 8)),
    "more pixels than its size": lambda: png(8, 8, pixels(9_000, 9_000)),
    "a thousand comments": lambda: png(
        8, 8, *[(b"tEXt", b"a\x00" + b"x" * 900)] * 1_000
    ),
}


@pytest.mark.parametrize("form", FORMATS)
def test_a_spoiled_picture_is_refused_or_can_be_drawn_anew(form: str) -> None:
    good = picture(form)
    with bounded():
        for seed in seeds(400):
            raw = spoiled_bytes(good, Random(seed))
            try:
                facts = read_image(raw)
            except ImageRefused:
                continue
            assert 0 < facts.width * facts.height <= 40_000_000
            assert plain_copy(raw, 64)[:2] == b"\xff\xd8"


@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_is_refused_or_harmless_in_bounded_memory(name: str) -> None:
    bomb = BOMBS[name]()
    tracemalloc.start()
    try:
        with bounded():
            try:
                facts = read_image(bomb)
            except ImageRefused:
                pass
            else:
                assert (facts.width, facts.height) == (8, 8)
        assert tracemalloc.get_traced_memory()[1] < MOST_BYTES
    finally:
        tracemalloc.stop()


@pytest.fixture
def api(tmp_path: Path) -> Desk:
    return desk(tmp_path)


def test_what_is_no_photo_is_refused_at_the_road_and_not_kept(api: Desk) -> None:
    phone: Phone = enrolled(api)
    for seed in seeds(60):
        rng = Random(seed)
        raw = spoiled_bytes(picture(rng.choice(FORMATS)), rng)
        name = sha256_hex(raw)
        answer = api.client.post(
            "/api/photo", data=raw, content_type=rng.choice(("image/jpeg", "image/x")),
            headers=bearer(phone.token) | {"X-Photo-Hash": name},
        )  # fmt: skip
        assert answer.status_code in (200, 400, 413), answer.text
        again = api.client.get(f"/api/photo/{name}", headers=bearer(phone.token))
        assert again.status_code == (200 if answer.status_code == 200 else 404)
        if again.status_code == 200:
            assert again.data == raw
