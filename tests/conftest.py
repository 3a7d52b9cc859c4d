"""What every test gets: strictness that pytest's settings cannot express.

No test leaves this machine, none leaves a Flask context behind, and the
JavaScript engine is started once. Fakes and builders live beside their tests.
"""

import ipaddress
import os
import socket
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from fieldapp.store.database import connected
from tests.javascript import JavaScript
from tests.people import Stage, stage

# The machine may be busy: how long an example takes says nothing about the code.
settings.register_profile(
    "project", deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("project")

LONGEST = (
    "phone/test_story.py",
    "phone/test_look.py",
    "phone/test_points.py",
    "phone/test_photos.py",
    "phone/test_days.py",
    "phone/test_carrying.py",
    "phone/test_late_inspector.py",
    "phone/test_comeback.py",
    "phone/test_shell.py",
    "core/test_differential.py",
    "plan/test_faults.py",
    "phone/test_enrolment.py",
    "phone/test_stop.py",
    "records/test_pages.py",
    "phone/test_desk_look.py",
    "phone/test_roads.py",
    "test_cli.py",
    "simulation/test_restored.py",
    "phone/test_killed.py",
    "phone/test_further_keys.py",
    "phone/test_calculations_at_the_desk.py",
    "records/test_verify.py",
    "test_play.py",
)
"""The files that take longest, the longest first (a file is one process's work)."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what takes longest, so that all processes of a run end together.

    Browsers come first, and what is quick fills up what time is left at the end.
    """
    order = {name: place for place, name in enumerate(LONGEST)}
    items.sort(key=lambda item: order.get(_file(item), _rank(item)))


def _file(item: pytest.Item) -> str:
    return item.nodeid.partition("::")[0].removeprefix("tests/")


def _rank(item: pytest.Item) -> int:
    return len(LONGEST) + (not _file(item).startswith("phone/"))


@pytest.fixture(scope="session")
def javascript() -> Iterator[JavaScript]:
    """The one JavaScript engine of the run; see `tests/javascript.py`."""
    with JavaScript() as engine:
        yield engine


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Stage]:
    """A small site with the store's connection held; many files have their own."""
    made = stage(tmp_path)
    with connected(made.wired.door.store):
        yield made


@pytest.fixture(autouse=True)
def _only_this_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    connect = socket.socket.connect

    def guarded(own: socket.socket, address: Any) -> None:
        if own.family != socket.AF_UNIX and not _is_loopback(address[0]):
            pytest.fail(f"a test tried to reach {address}")
        connect(own, address)

    monkeypatch.setattr(socket.socket, "connect", guarded)


@pytest.fixture(autouse=True)
def _no_context_left() -> Iterator[None]:
    yield
    flask = sys.modules.get("flask")
    assert flask is None or not flask.has_app_context(), "a Flask context was left"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Repeat at the end which checks failed before the tests began."""
    failed = os.environ.get("FIELDAPP_FAILED_CHECKS", "").split()
    if failed:
        terminalreporter.section("checks that failed before the tests", red=True)
        terminalreporter.line(", ".join(failed))


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
