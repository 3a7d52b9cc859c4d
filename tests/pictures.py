"""Pictures made for tests: whole, broken, too large, and what is no picture."""

import struct
import zlib
from io import BytesIO
from typing import Any

from PIL import Image

ORIENTATION, MAKE, GPS = 0x0112, 0x010F, 0x8825


def picture(
    form: str = "JPEG",
    size: tuple[int, int] = (40, 20),
    colour: tuple[int, int, int] = (180, 40, 30),
    **kept: Any,
) -> bytes:
    """Draw a picture of one colour."""
    drawn = BytesIO()
    Image.new("RGB", size, colour).save(drawn, form, **kept)
    return drawn.getvalue()


def told_picture() -> bytes:
    """Draw a picture that lies on its side and says where and by what it was taken."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[MAKE] = "Tarn Camera Works"
    exif.get_ifd(GPS)[1] = "N"
    return picture(exif=exif)


def hollow_png(width: int, height: int) -> bytes:
    """Give a PNG that states a size and holds next to nothing of it."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"".join(
        [
            b"\x89PNG\r\n\x1a\n",
            _chunk(b"IHDR", head),
            _chunk(b"IDAT", zlib.compress(b"\0" * 100)),
            _chunk(b"IEND", b""),
        ]
    )


def moving_picture() -> bytes:
    """Give a WebP of two frames."""
    drawn = BytesIO()
    frames = [Image.new("RGB", (8, 8), c) for c in ((0, 0, 0), (255, 255, 255))]
    frames[0].save(drawn, "WEBP", save_all=True, append_images=frames[1:])
    return drawn.getvalue()


def _chunk(name: bytes, body: bytes) -> bytes:
    crc = zlib.crc32(name + body)
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", crc)
