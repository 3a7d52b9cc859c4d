"""What the simulation's tests share: a site that is served."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.phone.office import free_port
from tests.simulation.house import House, build


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    made = build(tmp_path, free_port())
    made.office.start()
    yield made
    made.office.kill()
