"""`fieldapp check` beside a server at work: it looks at one moment; no false alarm."""

from pathlib import Path
from threading import Event, Thread

import pytest

from fieldapp.cli import main
from tests.bench.sync_load import Sender, Served, served

CHECKS = 3


def push_until(stop: Event, site: Served, sender: Sender) -> None:
    with site.line(sender) as line:
        while not stop.is_set():
            line.push(sender.sign(20))
            stop.wait(0.01)


def test_a_check_while_phones_push_finds_nothing_wrong(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with served(tmp_path) as site:
        stop = Event()
        pushing = Thread(target=push_until, args=(stop, site, site.sender("gang")))
        pushing.start()
        try:
            data = str(site.office.data)
            found = [main(["check", "--data", data]) for _ in range(CHECKS)]
        finally:
            stop.set()
            pushing.join()
    assert found == [0] * CHECKS, capsys.readouterr().out
