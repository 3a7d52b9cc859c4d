"""The files a phone is served, as they lie on the disk.

Each request for one of them asks for all, as scripts are joined: so none is opened
here, and what was read stays good until a file is another one.
"""

import os
from collections.abc import Container, Iterator
from pathlib import Path
from typing import NamedTuple


class Part(NamedTuple):
    """A file and its address; one with another content differs in what follows."""

    address: str
    path: str
    changed_ns: int
    size: int
    number: int


def parts_in(folder: Path, address: str, wanted: Container[str]) -> Iterator[Part]:
    """Give the files below a folder whose suffix is wanted; none if it is not there."""
    try:
        with os.scandir(folder) as entries:
            found = list(entries)
    except FileNotFoundError:
        return
    for each in found:
        inside = f"{address}/{each.name}"
        if each.is_dir():
            yield from parts_in(Path(each.path), inside, wanted)
        elif "." + each.name.rpartition(".")[2] in wanted:
            told = each.stat()
            yield Part(inside, each.path, told.st_mtime_ns, told.st_size, told.st_ino)
