"""Reads the whole site in the background when serving begins.

In a thread of its own and not in a process: what it reads must be where the pages are
made. It gives way to every request, and a disk that fails is logged and no more: pages
then read for themselves.
"""

import gc
import logging
from threading import Event, Thread

from fieldapp.config import Running
from fieldapp.lookups.warming import warm
from fieldapp.store.database import DISK_FAULTS, StoreUnavailable, connected

PAUSE_S = 0.002
MOST_PAUSES = 50
"""A request, which asks the database often and so lets go of the interpreter often,
is let through whole; but somebody asking all the time must not stop the reading."""


def begin_warming(wired: Running, stopped: Event) -> Thread:
    """Begin to read; `wired.warming` tells how far it is."""
    wired.warming.done.clear()
    thread = Thread(target=_warm, args=(wired, stopped), daemon=True)
    thread.start()
    return thread


def _warm(wired: Running, stopped: Event) -> None:
    # Hundreds of sheets are a million objects that stay: looking through them for
    # waste again and again took half of the time.
    gc.disable()
    try:
        with connected(wired.door.store):
            warm(
                wired.reader,
                wired.clock(),
                wired.warming,
                lambda: _give_way(wired, stopped),
            )
    except (StoreUnavailable, *DISK_FAULTS) as fault:
        logging.getLogger(__name__).warning("not read beforehand: %s", fault)
    finally:
        wired.warming.done.set()
        gc.enable()
        gc.freeze()


def _give_way(wired: Running, stopped: Event) -> bool:
    """Wait while requests are answered; says whether to stop."""
    for _ in range(MOST_PAUSES):
        if stopped.wait(PAUSE_S):
            return True
        if not wired.warming.asking:
            break
    return False
