"""Phones that come back all at once: nobody is turned away while the office is busy."""

import os
import signal
import socket
from contextlib import ExitStack
from pathlib import Path

from tests.phone.office import free_port
from tests.simulation.house import build

CROWD = 100
PATIENCE_S = 60


def test_a_crowd_at_the_door_of_a_busy_office_is_served(tmp_path: Path) -> None:
    house = build(tmp_path, free_port())
    house.office.start()
    try:
        assert house.office.process is not None
        pid = house.office.process.pid
        with ExitStack() as lines:
            # Held still, it accepts nobody: all wait in the line before the door.
            os.kill(pid, signal.SIGSTOP)
            crowd = [
                lines.enter_context(
                    socket.create_connection(
                        ("127.0.0.1", house.office.port), timeout=PATIENCE_S
                    )
                )
                for _ in range(CROWD)
            ]
            for line in crowd:
                line.sendall(b"GET /api/ping HTTP/1.1\r\nHost: localhost\r\n\r\n")
            os.kill(pid, signal.SIGCONT)
            answers = [line.recv(100) for line in crowd]
        assert [each[:12] for each in answers] == [b"HTTP/1.1 200"] * CROWD
    finally:
        house.office.kill()
