"""Servers forked from one process that has the program loaded already.

Loading it is half of what a server's start costs, and tests start hundreds. A server
made so is the program in a process of its own all the same, and is killed like one.
"""

import atexit
import json
import os
import signal
import subprocess
import sys
from dataclasses import dataclass
from functools import cache

from flask import Flask

from fieldapp import cli
from fieldapp.app import asset_folders
from fieldapp.commands import serve
from fieldapp.web.shell import later_files


@dataclass(frozen=True, slots=True)
class Forked:
    """A command of the program that runs by itself."""

    pid: int

    def kill(self) -> None:
        """End it as a power cut does: SIGKILL."""
        os.kill(self.pid, signal.SIGKILL)

    def wait(self) -> None:
        """Wait until it has ended."""
        _ask(self.pid)


def run(*words: str) -> Forked:
    """Begin a command of the program; what it says is heard by nobody."""
    return Forked(_ask(list(words)))


@cache
def _parent() -> subprocess.Popen[str]:
    parent = subprocess.Popen(
        [sys.executable, "-m", __name__], text=True, bufsize=1,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE,
    )  # fmt: skip
    # Its two pipes are closed, and it ends, when this process does.
    atexit.register(parent.communicate)
    return parent


def _ask(asked: list[str] | int) -> int:
    parent = _parent()
    assert parent.stdin is not None
    assert parent.stdout is not None
    parent.stdin.write(json.dumps(asked) + "\n")
    return int(parent.stdout.readline())


def _listen() -> None:
    """Fork for each list of words, wait for each process named, until nobody asks."""
    # What is read beforehand changes no answer, and no test of a phone waits for it.
    serve.begin_warming = lambda _wired, _stopped: None  # type: ignore[assignment]
    # The shell's parts are read once for all; what a test writes to is read again.
    with Flask("fieldapp.app", static_folder=asset_folders()[0]).app_context():
        later_files()
    for line in iter(sys.stdin.readline, ""):
        asked = json.loads(line)
        pid = os.waitpid(asked, 0)[0] if isinstance(asked, int) else _fork(asked)
        print(pid, flush=True)


def _fork(words: list[str]) -> int:
    pid = os.fork()
    if pid:
        return pid
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in range(3):
        os.dup2(nowhere, stream)
    os._exit(cli.main(words))


if __name__ == "__main__":
    _listen()
