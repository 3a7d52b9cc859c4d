"""Checks the books while they are served: `check` in a process of its own, once a day.

What somebody wrote into the database by hand, or a disk spoiled, is said in the log and
on every page of the desk. Nothing is stopped by it and nothing mended: phones go on
bringing what they have.
"""

import logging
import subprocess
import sys
from pathlib import Path
from threading import Event, Thread

FIRST_S = 60.0
EVERY_S = 24 * 3_600.0
LONGEST_S = 3_600
MOST_TOLD = 5
_WRONG = "WRONG "
_GENTLY = (
    "import os, sys; os.nice(15); from fieldapp.cli import main;"
    " sys.exit(main(sys.argv[1:]))"
)


def watch(
    data: Path,
    troubles: list[str],
    stopped: Event,
    *,
    first_s: float = FIRST_S,
    every_s: float = EVERY_S,
) -> Thread:
    """Begin to check a data folder; `troubles` holds what the last check found."""
    thread = Thread(
        target=_watch, args=(data, troubles, stopped, first_s, every_s), daemon=True
    )
    thread.start()
    return thread


def found_wrong(data: Path) -> list[str]:
    """Check once; gives what does not hold, or why it could not be checked."""
    words = [sys.executable, "-c", _GENTLY, "check", "--data", str(data)]
    try:
        done = subprocess.run(  # noqa: S603  # our own program on our own folder
            words, capture_output=True, text=True, timeout=LONGEST_S, check=False
        )
    except (OSError, subprocess.TimeoutExpired) as fault:
        return [f"the books could not be checked: {fault}"]
    if done.returncode == 0:
        return []
    wrong = [
        line.removeprefix(_WRONG)
        for line in done.stdout.splitlines()
        if line.startswith(_WRONG)
    ]
    return wrong or [f"the books could not be checked: {done.stderr.strip()[-300:]}"]


def _watch(
    data: Path, troubles: list[str], stopped: Event, wait_s: float, every_s: float
) -> None:
    while not stopped.wait(wait_s):
        troubles[:] = found_wrong(data)
        for each in troubles[:MOST_TOLD]:
            logging.getLogger(__name__).error("the books do not hold: %s", each)
        wait_s = every_s
