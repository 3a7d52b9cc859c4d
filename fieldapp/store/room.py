"""Says no before the disk does: a full disk is met while there is still room.

Asked at the doors through which evidence comes in, not for every write: the office
must still be able to sign in and see what is wrong.
"""

import shutil

from fieldapp.store.database import Store, StoreUnavailable

SPARE_BYTES = 64 * 1024 * 1024
"""So much stays free for the journal, for the office and for other programs."""
TIMES_WRITTEN = 3
"""What comes in is written with its indices, and what stood there to the journal."""
_MB = 1_000_000


class NoRoom(StoreUnavailable):
    """The disk is nearly full; nothing was kept. The text is for people."""


def keep_room(store: Store, coming: int) -> None:
    """Make sure that so many bytes can come in. Errors: `StoreUnavailable`."""
    try:
        free = shutil.disk_usage(store.path.parent).free
    except OSError as fault:
        raise StoreUnavailable(str(fault)) from fault
    if free < SPARE_BYTES + TIMES_WRITTEN * coming:
        raise NoRoom(
            f"The disk of the office's computer is nearly full ({free // _MB} MB"
            " left). Nothing was kept; it will be offered again. Free some space."
        )
