"""Takes photos in: hashed and decoded again here, kept only whole and as they came.

An answer is given only after the photo is on disk. A photo is evidence that entries
name by its hash; whether one names it is not asked, since it may come first.
"""

from fieldapp.core.canonical import sha256_hex
from fieldapp.intake.door import Door
from fieldapp.store.database import writing
from fieldapp.store.devices import Device
from fieldapp.store.images import ImageRefused, read_image
from fieldapp.store.photos import keep_photo, photo_count
from fieldapp.store.room import keep_room

REVOKED_PHOTOS = 200
"""So many photos are kept from a device that has been revoked."""


class PhotoRefused(ValueError):
    """A photo that is not kept: code, field, what was found, what is allowed."""

    def __init__(self, code: str, field: str, found: str, allowed: str) -> None:
        self.code, self.field, self.found, self.allowed = code, field, found, allowed
        super().__init__(f"{field}: found {found}, allowed: {allowed}")


def take_photo(door: Door, raw: bytes, *, name: str, pusher: Device, now: int) -> str:
    """Keep a photo; gives `stored` or `duplicate`.

    name: its SHA-256 as the phone states it. Errors: `PhotoRefused`, and the store's
    `StoreUnavailable`: then nothing was kept.
    """
    found = sha256_hex(raw)
    if found != name:
        raise PhotoRefused("hash_wrong", "X-Photo-Hash", name, f"{found}, as it came")
    try:
        facts = read_image(raw)
    except ImageRefused as refused:
        raise PhotoRefused(
            "not_a_photo", "body", refused.found, refused.allowed
        ) from refused
    keep_room(door.store, len(raw))
    with writing(door.store):
        if pusher.revoked and photo_count(door.store, pusher.device) >= REVOKED_PHOTOS:
            allowed = f"at most {REVOKED_PHOTOS} from a revoked device"
            raise PhotoRefused("quota", "device", pusher.device, allowed)
        kept = keep_photo(
            door.store, name, raw, facts=facts, device=pusher.device, received=now
        )
    return "stored" if kept else "duplicate"
