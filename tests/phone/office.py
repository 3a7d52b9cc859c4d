"""The office for tests: the real server as a process of its own, to be killed."""

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass
from pathlib import Path
from random import SystemRandom

from fieldapp.clock import utc_now_ms
from fieldapp.commands.person import new_code
from fieldapp.config import open_door
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.world import World
from fieldapp.store.database import connected
from tests.phone import forked
from tests.phone.forked import Forked

PATIENCE_S = 60.0
STEP_S = 0.05
FIRST_PORT, USUAL_PORT, WORKERS = 11_000, 32_768, 8
"""Browsers refuse some ports below."""
HANDED_OUT = Path("/proc/sys/net/ipv4/ip_local_port_range")
_given: set[int] = set()


@dataclass(slots=True)
class Office:
    """A server on a data folder; it keeps its port when it is started again."""

    data: Path
    port: int
    process: subprocess.Popen[bytes] | Forked | None = None
    program: Path | None = None
    """Where the program is run from, if not from here."""

    @property
    def url(self) -> str:
        """Give the address phones use."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start serving and wait for the first answer."""
        words = ["serve", "--data", str(self.data), "--port", str(self.port)]
        self.process = forked.run(*words) if self.program is None else subprocess.Popen(
            [sys.executable, "-m", "fieldapp", *words],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=self.program,
        )  # fmt: skip
        for _ in range(int(PATIENCE_S / STEP_S)):
            if self._answers():
                return
            time.sleep(STEP_S)
        raise AssertionError("the server did not start")

    def kill(self) -> None:
        """End the server as a power cut does: SIGKILL."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            self.process = None

    def code(self, person: str) -> str:
        """Give an enrolment code for a person, as the command does."""
        door = open_door(self.data)
        with connected(door.store):
            return new_code(door, person)

    def command(self, *words: str) -> str:
        """Run a command on this data folder; gives what it said."""
        done = subprocess.run(
            [sys.executable, "-m", "fieldapp", *words, "--data", str(self.data)],
            check=True, capture_output=True, text=True,
        )  # fmt: skip
        return done.stdout

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"{self.url}/api/ping", timeout=2) as answer:
                return bool(answer.status == 200)
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            return False


def load_signed(office: Office, folder: Path) -> None:
    """Load a site while its office does not serve, and have its plan signed."""
    office.command("load", str(folder))
    door = open_door(office.data)
    with connected(door.store):
        list(sign_waiting_plan(World(door=door), utc_now_ms()))


def free_port() -> int:
    """Give a port nobody listens on, and nobody will but whoever asked.

    An office keeps its port while it is dead. So it is none of those the system hands
    out (to browsers, say), none of the other processes of this run, and none twice.
    """
    worker = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
    while True:
        port = SystemRandom().randrange(FIRST_PORT, _first_handed_out())
        if port % WORKERS == worker % WORKERS and port not in _given and _free(port):
            _given.add(port)
            return port


def _free(port: int) -> bool:
    with socket.socket() as probe:
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def _first_handed_out() -> int:
    """Give the first port the system itself hands out; Linux says which."""
    try:
        first = int(HANDED_OUT.read_text("ascii").split()[0])
    except FileNotFoundError:
        return USUAL_PORT
    return first if first > 2 * FIRST_PORT else USUAL_PORT
