"""The server as a process: over real HTTP, killed and started again."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from fieldapp.config import DATABASE
from fieldapp.store.database import connected
from tests.people import NOON, stage, wiped
from tests.phone.office import free_port

PATIENCE_S = 60
BLOCK = 512
"""The bytes that `ulimit -f` counts in."""


@contextmanager
def served(
    data: Path, port: int, *more: str, first: tuple[str, ...] = ()
) -> Iterator[subprocess.Popen[str]]:
    """Run `fieldapp serve`; it answers when the block is entered."""
    process = subprocess.Popen(
        [*first, sys.executable, "-m", "fieldapp", "serve", "--data", str(data),
         "--port", str(port), *more],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
    )  # fmt: skip
    try:
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until and process.poll() is None:
            try:
                # Whoever else has the port may never answer.
                ask(port, "/api/ping", patience_s=1)
                break
            except OSError:
                time.sleep(0.05)
        yield process
    finally:
        process.kill()
        process.communicate()


def ask(
    port: int, path: str, body: Any = None, token: str | None = None,
    patience_s: float = PATIENCE_S,
) -> Any:  # fmt: skip
    headers = {"Content-Type": "application/json"}
    if token:
        headers["Authorization"] = f"Bearer {token}"
    raw = None if body is None else json.dumps(body).encode()
    url = f"http://127.0.0.1:{port}{path}"
    request = urllib.request.Request(url, data=raw, headers=headers)
    with urllib.request.urlopen(request, timeout=patience_s) as answer:
        return json.loads(answer.read())


def test_what_was_acknowledged_is_there_after_the_process_was_killed(
    tmp_path: Path,
) -> None:
    site, port = stage(tmp_path), free_port()
    phone = site.phone()
    ids = [wiped(phone, now=NOON + each, temp=200 + each).id for each in range(30)]
    batches = [{"entries": [{"bytes": s.body, "sig": s.sig}]} for s in phone.outbox]
    with served(tmp_path, port) as process:
        told = [ask(port, "/api/push", batch, phone.token) for batch in batches[:20]]
        os.kill(process.pid, signal.SIGKILL)
        process.wait()
        with pytest.raises(OSError, match="refused"):
            ask(port, "/api/ping")
    assert [each["results"][0]["result"] for each in told] == ["stored"] * 20
    with served(tmp_path, port):
        again = [ask(port, "/api/push", batch, phone.token) for batch in batches]
        results = [each["results"][0]["result"] for each in again]
        assert results == ["duplicate"] * 20 + ["stored"] * 10
        found = ask(port, "/api/pull?after=2&limit=500", token=phone.token)
    kept = [json.loads(each["bytes"])["values"]["temp"] for each in found["entries"]]
    assert kept == [200 + each for each in range(30)]
    with connected(site.wired.door.store):
        site.world.pull(phone)
    assert set(ids) <= set(phone.entries)


def at_most(largest: int) -> tuple[str, ...]:
    """Give what starts a program that may write no file beyond so many bytes."""
    shell = f'ulimit -f {largest // BLOCK}; exec "$@"'
    return ("sh", "-c", shell, "sh")


def acknowledged(port: int, batch: Any, token: str | None) -> bool:
    """Push a batch: True if all of it was stored, False if the answer was 503."""
    try:
        results = ask(port, "/api/push", batch, token)["results"]
    except urllib.error.HTTPError as refused:
        said = json.loads(refused.read())
        shown = refused.code, said["error"]["code"], "results" in said
        return shown != (503, "unavailable", False)
    return {each["result"] for each in results} == {"stored"}


def test_a_server_whose_disk_is_full_says_503_and_acknowledges_nothing(
    tmp_path: Path,
) -> None:
    site, port = stage(tmp_path), free_port()
    phone = site.phone()
    for each in range(60):
        wiped(phone, now=NOON + each, temp=200 + each)
    batches = [
        {"entries": [{"bytes": s.body, "sig": s.sig} for s in phone.outbox[n : n + 5]]}
        for n in range(0, 60, 5)
    ]
    full = at_most((tmp_path / DATABASE).stat().st_size + 64 * BLOCK)
    with served(tmp_path, port, first=full):
        told = [acknowledged(port, batch, phone.token) for batch in batches]
        assert ask(port, "/api/ping")["last"] == 2 + 5 * sum(told)
    assert True in told
    assert False in told
    with served(tmp_path, port):
        again = [ask(port, "/api/push", batch, phone.token) for batch in batches]
    found = [{each["result"] for each in one["results"]} for one in again]
    assert found == [{"duplicate"} if kept else {"stored"} for kept in told]


def test_it_stops_by_itself_when_asked_and_says_where_it_served(
    tmp_path: Path,
) -> None:
    stage(tmp_path)
    port = free_port()
    with served(tmp_path, port) as process:
        process.send_signal(signal.SIGINT)
        told, _ = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 0
    assert f"http://127.0.0.1:{port}/phone/" in told


def test_a_port_in_use_is_said_in_one_line(tmp_path: Path) -> None:
    stage(tmp_path)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with served(tmp_path, port) as process:
            told, _ = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 2
    assert f"127.0.0.1:{port}" in told
    assert "Traceback" not in told


@pytest.mark.parametrize("more", [("--tls-cert", "x.pem"), ("--tls-key", "x.pem"),
                                  ("--tls-cert", "x.pem", "--tls-key", "y.pem")],
                         ids=range(3))  # fmt: skip
def test_a_certificate_that_cannot_be_used_is_said_in_one_line(
    tmp_path: Path, more: tuple[str, ...]
) -> None:
    stage(tmp_path)
    with served(tmp_path, free_port(), *more) as process:
        told, _ = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 2
    assert "Traceback" not in told


def test_a_request_that_lies_about_its_length_is_dropped(tmp_path: Path) -> None:
    stage(tmp_path)
    port = free_port()
    with served(tmp_path, port):
        with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_S) as line:
            line.sendall(
                b"POST /api/push HTTP/1.1\r\nHost: localhost\r\n"
                b"Content-Type: application/json\r\nContent-Length: 99999999\r\n\r\n{}"
            )
            assert b" 413 " in line.recv(200).split(b"\r\n")[0]
        assert ask(port, "/api/ping")["last"] == 1
        with pytest.raises(urllib.error.HTTPError) as refused:
            ask(port, "/api/push", {"entries": []})
        refused.value.close()
        assert refused.value.code == 401


def test_a_length_that_is_no_number_of_bytes_is_refused_at_once(tmp_path: Path) -> None:
    stage(tmp_path)
    port = free_port()
    with served(tmp_path, port):
        for length in (b"-1", b"-99", b"+3", b"1_0", b"0x10", b"ten", b"\xd9\xa3"):
            address = ("127.0.0.1", port)
            with socket.create_connection(address, timeout=PATIENCE_S) as line:
                line.sendall(
                    b"POST /api/return HTTP/1.1\r\nHost: localhost\r\n"
                    b"Content-Type: application/json\r\n"
                    b"Content-Length: " + length + b"\r\n\r\n{}x"
                )
                # A server that waits for more says nothing until the time is up.
                told = line.recv(200)
                assert b" 400 " in told.split(b"\r\n")[0], length
                # What would come next cannot be told from a body: it hangs up.
                while told := line.recv(200):
                    pass
        assert ask(port, "/api/ping")["last"] == 1
