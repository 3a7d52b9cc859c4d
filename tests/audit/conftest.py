"""A small site to be spoiled: made once, copied for each test."""

import hashlib
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from fieldapp.store.database import connected
from tests.people import NOON, Stage, stage, wiped
from tests.pictures import picture


@pytest.fixture
def fresh(tmp_path: Path) -> Stage:
    """Give a site of its own, to go on with."""
    return begun(tmp_path / "data")


@pytest.fixture(scope="module")
def pattern(tmp_path_factory: pytest.TempPathFactory) -> Stage:
    """Give the site that the others are copied from."""
    return begun(tmp_path_factory.mktemp("pattern") / "data")


@pytest.fixture
def site(tmp_path: Path, pattern: Stage) -> Stage:
    """Give a copy of the site's folder, to be spoiled."""
    shutil.copytree(pattern.data, tmp_path / "data")
    return replace(pattern, data=tmp_path / "data")


def begun(data: Path) -> Stage:
    """Give the small site with four entries, one of them with a photo."""
    made = stage(data)
    phone = made.phone()
    drawn = picture()
    name = hashlib.sha256(drawn).hexdigest()
    with connected(made.wired.door.store):
        for each in range(4):
            photos = {"photos": [name]} if each == 1 else {}
            wiped(phone, now=NOON + each, temp=215 + each, **photos)
            if each == 1:
                phone.photos[name] = drawn
            made.world.push(phone, NOON + each)
    return made
