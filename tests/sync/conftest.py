"""The small site behind the phone's API."""

from pathlib import Path

import pytest

from tests.desk import Desk, desk


@pytest.fixture
def api(tmp_path: Path) -> Desk:
    return desk(tmp_path)
