"""Reads pictures that came from outside, and the only home of the imaging library.

A picture is decoded whole before it is believed, within hard limits, and is never
shown as it came: what a browser gets is drawn anew, upright and with nothing in it
but the picture (no place, no camera, no comment).
"""

from dataclasses import dataclass
from io import BytesIO
from threading import Lock

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

LARGEST_BYTES = 8 * 1024 * 1024
LARGEST_PIXELS = 40_000_000
LONGEST_SIDE_PX = 12_000
TYPES = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
JPEG_QUALITY = 82
WHITE = (255, 255, 255)
_UNREADABLE = (
    UnidentifiedImageError,
    OSError,
    SyntaxError,
    ValueError,
    EOFError,
    KeyError,
    IndexError,
    OverflowError,
    MemoryError,
)
_WHOLE = Lock()
_BOMBS = (Image.DecompressionBombError, Image.DecompressionBombWarning)


class ImageRefused(ValueError):
    """A picture that is not taken: what was found, and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        self.found, self.allowed = found, allowed
        super().__init__(f"found {found}, allowed: {allowed}")


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageFacts:
    """What decoding a picture showed; sides in pixels."""

    type: str
    width: int
    height: int


def read_image(raw: bytes) -> ImageFacts:
    """Decode a picture whole and give its facts. Errors: `ImageRefused`."""
    if len(raw) > LARGEST_BYTES:
        raise ImageRefused(f"{len(raw)} bytes", f"at most {LARGEST_BYTES}")
    with _opened(raw) as image:
        facts = ImageFacts(
            type=TYPES[image.format or ""], width=image.width, height=image.height
        )
        _decode(image)
    return facts


def plain_copy(raw: bytes, longest_px: int, quality: int = JPEG_QUALITY) -> bytes:
    """Draw a kept picture anew as a JPEG whose longest side is at most `longest_px`."""
    with _opened(raw) as image:
        image.draft("RGB", (longest_px, longest_px))
        _decode(image)
        upright = ImageOps.exif_transpose(image)
        flat = _flat(upright)
    flat.thumbnail((longest_px, longest_px))
    drawn = BytesIO()
    flat.save(drawn, "JPEG", quality=quality, exif=b"", icc_profile=None)
    return drawn.getvalue()


def _opened(raw: bytes) -> Image.Image:
    allowed = ", ".join(TYPES)
    try:
        image = Image.open(BytesIO(raw), formats=tuple(TYPES))
    except _BOMBS as fault:
        raise ImageRefused("a picture too large to open", _most()) from fault
    except _UNREADABLE as fault:
        raise ImageRefused("no picture that is read here", allowed) from fault
    if image.format not in TYPES:
        raise ImageRefused(str(image.format), allowed)
    if image.width * image.height > LARGEST_PIXELS or max(image.size) > LONGEST_SIDE_PX:
        raise ImageRefused(f"{image.width} x {image.height} pixels", _most())
    if getattr(image, "n_frames", 1) != 1:
        raise ImageRefused("a moving picture", "one picture")
    return image


def _decode(image: Image.Image) -> None:
    """Decode whole: the paper library lets broken pictures pass in its process."""
    with _WHOLE:
        lenient = ImageFile.LOAD_TRUNCATED_IMAGES
        ImageFile.LOAD_TRUNCATED_IMAGES = False
        try:
            _load(image)
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = lenient


def _load(image: Image.Image) -> None:
    try:
        image.load()
    except (*_BOMBS, *_UNREADABLE) as fault:
        raise ImageRefused("a picture that breaks off", "a whole picture") from fault


def _flat(image: Image.Image) -> Image.Image:
    """Give the picture in plain colours; what was transparent is white."""
    if "A" not in image.getbands() and "transparency" not in image.info:
        return image.convert("RGB")
    clear = image.convert("RGBA")
    flat = Image.new("RGB", clear.size, WHITE)
    flat.paste(clear, mask=clear.getchannel("A"))
    return flat


def _most() -> str:
    return f"at most {LARGEST_PIXELS} pixels, {LONGEST_SIDE_PX} a side"
