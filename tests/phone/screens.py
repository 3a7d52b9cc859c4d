"""What one phone's screen shows, brought before another phone's camera."""

from hashlib import sha256
from io import BytesIO
from pathlib import Path

import segno
from PIL import Image
from playwright.sync_api import FilePayload

from tests.phone.handset import Handset

CAMERA_PX = (1280, 720)
FRAMES_A_CODE = 12
SCREEN_PX = 640
WHOLE = """async () => {
  const later = Object.keys(await (await fetch("/phone/later.json")).json());
  const kept = await Promise.all(["/phone/later.json", ...later].map((one) =>
    caches.match(one)));
  return later.length > 0 && kept.every(Boolean);
}"""
"""True once all that comes behind the first screen is on the phone (office alive)."""


def codes_shown(phone: Handset) -> list[bytes]:
    """Photograph every code that runs on a phone's screen, each once (PNG)."""
    phone.until("() => document.querySelector('canvas.qr')?.dataset.of !== undefined")
    code = phone.page.locator("canvas.qr")
    of = int(code.get_attribute("data-of") or 0)
    pictures: dict[str, bytes] = {}
    for _ in range(of):
        if of > 1:
            # The first tap stops the frames from running on by themselves.
            phone.tap("#frame-after")
        pictures[code.get_attribute("data-frame") or ""] = code.screenshot()
    assert len(pictures) == of
    return list(pictures.values())


def hold_before(phone: Handset, pictures: list[bytes]) -> None:
    """Give pictures of codes to the screen that scans."""
    files: list[FilePayload] = [
        {"name": f"code-{place}.png", "mimeType": "image/png", "buffer": picture}
        for place, picture in enumerate(pictures)
    ]
    phone.page.set_input_files("#code-pictures", files)


def label_text(site: str, name: str, sort: str = "ITEM") -> str:
    """Give what a label or mark says, its check by the standard library."""
    check = sha256(f"{site}/{name}".encode()).hexdigest()[:8]
    return f"FR1:{sort}:{site}:{name}:{check}"


def code_picture(text: str) -> bytes:
    """Print a text as a code with an independent library (PNG)."""
    out = BytesIO()
    segno.make(text, micro=False).save(out, kind="png", scale=5, border=4)
    return out.getvalue()


def camera_on(pictures: list[bytes], film: Path) -> tuple[str, ...]:
    """Film screens one after the other; gives the arguments of a browser that sees it.

    A film is pictures in JPEG one behind the other, as the browser's own camera for
    tests reads it; it runs round.
    """
    with film.open("wb") as out:
        for picture in pictures:
            still = BytesIO()
            _seen(picture).save(still, "JPEG", quality=90)
            out.write(still.getvalue() * FRAMES_A_CODE)
    return (
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    )


def _seen(picture: bytes) -> Image.Image:
    """Set a screen into what a camera sees: smaller than the field, a grey desk."""
    screen = Image.open(BytesIO(picture)).convert("RGB")
    screen = screen.resize((SCREEN_PX, SCREEN_PX))
    seen = Image.new("RGB", CAMERA_PX, (120, 118, 110))
    seen.paste(screen, (310, 40))
    return seen
