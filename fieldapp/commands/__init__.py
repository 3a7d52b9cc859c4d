"""The commands, a module each: `add_parser` says what it takes, `run` does it.

A command prints its result on standard output. Bad input is a `CommandFault`: clear
text on standard error and exit status 2, with nothing changed.
"""

import os
import sys
from pathlib import Path

from fieldapp.config import open_door
from fieldapp.intake.door import Door
from fieldapp.signatures import KeyFault
from fieldapp.store.database import StoreFault, StoreUnavailable

OPENING_FAULTS = (KeyFault, StoreFault, StoreUnavailable, OSError)


class CommandFault(Exception):
    """Input that a command cannot work with; the text says what and what is allowed."""


def _writable(text: str) -> str:
    """The text, with signs escaped that the terminal's encoding has no place for."""
    encoding = sys.stdout.encoding or "utf-8"
    return text.encode(encoding, "backslashreplace").decode(encoding)


def say(text: str = "") -> None:
    """Print one line of a command's result, at once.

    Whoever read it may have left (`| head`): the command goes on, and its exit status
    still says what came of it.
    """
    try:
        sys.stdout.write(_writable(text) + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        # What is left to be written, at the end too, goes nowhere.
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def open_data(data: Path) -> Door:
    """Open the data folder of a command. Errors: `CommandFault`."""
    try:
        return open_door(data)
    except OPENING_FAULTS as fault:
        raise CommandFault(f"{data}: {fault}") from fault
