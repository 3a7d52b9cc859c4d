"""A site with what the sample leaves out: a step that wants a photo, items gone bad.

One foreman's phone, a segment already hung; quicker to make than the whole gang.
"""

import shutil
from io import BytesIO
from pathlib import Path

from PIL import Image

from tests.phone.gang import PINS, Gang
from tests.phone.handset import Handset
from tests.phone.hanging import hang_segment
from tests.phone.office import Office

FOREMAN = "jorun"


def spoiled_site(sample: Path, folder: Path) -> Path:
    """Copy the sample site; "ready" wants a photo, one lot and one tool ran out."""
    site = folder / "site"
    shutil.copytree(sample, site)
    _change(site / "plan" / "glued_joint.toml", "[steps.ready]\n",
            "[steps.ready]\nphotos = 1\n")  # fmt: skip
    items = site / "items.csv"
    _change(items, "thermo-2,Surface thermometer 2,thermometer,2036-12-31",
            "thermo-2,Surface thermometer 2,thermometer,2025-12-31")  # fmt: skip
    _change(items, "lot-w2,\"Warm, A 5523 / B 5524\",lot-warm,2036-09-30",
            "lot-w2,\"Warm, A 5523 / B 5524\",lot-warm,2025-09-30")  # fmt: skip
    return site


def foreman_at_joint(office: Office, phone: Handset, subject: str) -> Gang:
    """Enrol the foreman and open the joint with its segment hung."""
    hang_segment(office.data, subject)
    phone.enrol(office.code(FOREMAN), PINS[FOREMAN])
    phone.sees("foreman")
    phone.start_shift(FOREMAN, PINS[FOREMAN])
    phone.until("() => navigator.serviceWorker.controller !== null")
    gang = Gang(phone)
    gang.open_joint()
    phone.sees("Faces and air", "#dock")
    return gang


def jpeg(width: int, height: int) -> bytes:
    """Give a picture of a plain face with a mark, as a camera would."""
    picture = Image.new("RGB", (width, height), (150, 150, 140))
    picture.paste((200, 30, 30), (width // 4, height // 4, width // 2, height // 2))
    out = BytesIO()
    picture.save(out, "JPEG", quality=90)
    return out.getvalue()


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text, (path.name, old)
    path.write_text(text.replace(old, new), "utf-8")
