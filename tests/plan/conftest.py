"""What the plan's tests share: most of a spoiled site is as it was, and read once."""

import tomllib
from functools import lru_cache

import pytest

_parsed = lru_cache(maxsize=32)(tomllib.loads)


@pytest.fixture(autouse=True)
def _parsed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parse a text of TOML once: whoever reads it changes nothing of it."""
    monkeypatch.setattr(tomllib, "loads", _parsed)
