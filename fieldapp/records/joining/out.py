"""The file that is written: objects numbered, packed in bunches, and where each is.

Small objects go into compressed bunches of their own, since a tagged page is hundreds
of them; whoever writes gives each object once and it is forgotten.
"""

import hashlib
from array import array
from dataclasses import dataclass, field
from typing import Any, BinaryIO
from zlib import compress

HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
BUNCH = 200
"""So many objects lie in one bunch; readers unpack a bunch to get at one of them."""
ALONE = 0xFFFF


@dataclass(slots=True, kw_only=True)
class Out:
    """The file being written.

    places: where each object begins, or in which bunch it lies; inside: at which
    place of the bunch, `ALONE` if in none; hash: over all bytes so far.
    """

    file: BinaryIO
    place: int = 0
    places: "array[int]" = field(default_factory=lambda: array("Q", [0]))
    inside: "array[int]" = field(default_factory=lambda: array("H", [0]))
    bunch: list[tuple[int, bytes]] = field(default_factory=list)
    hash: Any = field(default_factory=hashlib.sha256)

    def new(self) -> int:
        """Give the number of an object to be written."""
        self.places.append(0)
        self.inside.append(ALONE)
        return len(self.places) - 1

    def raw(self, data: bytes) -> None:
        """Write bytes as they are."""
        self.file.write(data)
        self.hash.update(data)
        self.place += len(data)

    def put(self, number: int, body: bytes) -> None:
        """Write an object that is no stream under its number."""
        self.bunch.append((number, body))
        if len(self.bunch) == BUNCH:
            self._write_bunch()

    def stream(self, number: int, head: bytes, data: bytes) -> None:
        """Write a stream: its dictionary without the length, and its bytes."""
        self.places[number] = self.place
        length = b"/Length %d" % len(data)
        self.raw(b"%d 0 obj\n<<%s%s>>\nstream\n" % (number, head, length))
        self.raw(data)
        self.raw(b"\nendstream\nendobj\n")

    def add(self, body: bytes) -> int:
        """Write an object under a new number, which is given."""
        number = self.new()
        self.put(number, body)
        return number

    def end(self, catalog: int) -> None:
        """Write what is left and where everything is."""
        if self.bunch:
            self._write_bunch()
        name = str(self.hash.hexdigest())[:32].encode()
        table, start = self.new(), self.place
        self.places[table] = start
        rows = zip(self.places, self.inside, strict=True)
        told = b"".join(
            _row(1, place, 0) if inside == ALONE else _row(2, place, inside)
            for place, inside in rows
        )
        told = _row(0, 0, 0xFFFF) + told[len(_row(0, 0, 0)) :]
        size = b"/Type/XRef/Size %d/W[1 6 2]/Root %d 0 R" % (len(self.places), catalog)
        head = size + b"/ID[<%s><%s>]/Filter/FlateDecode" % (name, name)
        self.stream(table, head, compress(told))
        self.raw(b"startxref\n%d\n%%%%EOF\n" % start)

    def _write_bunch(self) -> None:
        number = self.new()
        starts, bodies, at = [], [], 0
        for index, (each, body) in enumerate(self.bunch):
            self.places[each], self.inside[each] = number, index
            starts.append(b"%d %d" % (each, at))
            bodies.append(body)
            at += len(body) + 1
        first = b" ".join(starts) + b"\n"
        head = b"/Type/ObjStm/N %d/First %d/Filter/FlateDecode"
        head %= (len(self.bunch), len(first))
        self.bunch.clear()
        self.stream(number, head, compress(first + b"\n".join(bodies)))


def text(words: str) -> bytes:
    """Give words as a text of PDF."""
    return b"<FEFF%s>" % words.encode("utf-16-be").hex().upper().encode()


def _row(sort: int, place: int, more: int) -> bytes:
    return b"%c%s%s" % (sort, place.to_bytes(6, "big"), more.to_bytes(2, "big"))
