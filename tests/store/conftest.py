"""A fresh store for each test; another database joins by adding a maker here."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from fieldapp.store.database import Store, connected, open_store

MAKERS: dict[str, Callable[[Path], Store]] = {
    "sqlite": lambda folder: open_store(folder / "site.db"),
}


@pytest.fixture(params=MAKERS)
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    made = MAKERS[request.param](tmp_path)
    with connected(made):
        yield made
