"""One PDF read object by object: its pages, its tags, and what these name.

Only what is named from a page or a tag goes over. Numbers are given anew; nothing is
unpacked, set or drawn again.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

from fieldapp.records.joining.out import Out, text

LINK = "record:"
"""What a link of the front to the first page of a part begins with."""
OUTSIDE_PAGES = ("/Parent", "/StructParents", "/StructParent", "/P", "/A", "/Dest")
"""What leads away from a page or annotation: other objects, and where a link goes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Where a part stands in the new file: numbers of its objects, keys of its tags."""

    key: str
    title: str
    pages: int
    count: int
    first_page: int
    tags: int
    keys: int
    next_key: int
    limits: tuple[int, int]


@dataclass(slots=True, kw_only=True)
class Source:
    """One PDF being read; `numbers` says what its objects are called in the new file.

    base: what its keys of the tree of tags are raised by; targets: the parts that its
    links name.
    """

    out: Out
    reader: Any
    base: int = 0
    leave_out: tuple[str, ...] = ()
    targets: Mapping[str, Joined] = field(default_factory=dict)
    numbers: dict[int, int] = field(default_factory=dict)
    waiting: list[Any] = field(default_factory=list)

    def joined(
        self, pages: int, document: int, *, key: str = "", title: str = ""
    ) -> Joined:
        """Write the part's pages and tags under those of the whole."""
        root = self.reader.root_object
        tags = self.out.new()
        above = root.raw_get("/Pages")
        struct = root.raw_get("/StructTreeRoot")
        kids = struct.get_object()["/K"]
        nodes = above.get_object()
        self.numbers[struct.idnum] = tags
        mine = self.number(above)
        first = self.number(nodes.raw_get("/Kids")[0])
        self.rest(under={above.idnum: b"/Parent %d 0 R" % pages})
        told = b" ".join(self.written(kid) for kid in _listed(kids))
        named = b"/T " + text(title) if title else b""
        sort = b"/Part" if title else b"/Sect"
        body = b"<</Type/StructElem/S%s/P %d 0 R%s/K[%s]>>"
        self.out.put(tags, body % (sort, document, named, told))
        self.rest()
        keys, limits = self._keys(struct.get_object())
        return Joined(
            key=key, title=title, pages=mine, count=int(nodes["/Count"]),
            first_page=first, tags=tags, keys=keys, next_key=limits[1] + 1,
            limits=limits,
        )  # fmt: skip

    def number(self, reference: Any) -> int:
        """Give the new number of an object, which will be written."""
        found = self.numbers.get(reference.idnum)
        if found is None:
            found = self.numbers[reference.idnum] = self.out.new()
            self.waiting.append(reference)
        return found

    def rest(self, under: dict[int, bytes] | None = None) -> None:
        """Write what is named and not yet written, and what that names."""
        at = 0
        while at < len(self.waiting):
            reference = self.waiting[at]
            at += 1
            more = (under or {}).get(reference.idnum, b"")
            self._put(self.numbers[reference.idnum], reference.get_object(), more)
        self.waiting.clear()

    def written(self, part: Any, more: bytes = b"") -> bytes:
        """Give an object as the new file writes it."""
        from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

        if isinstance(part, IndirectObject):
            return b"%d 0 R" % self.number(part)
        if isinstance(part, DictionaryObject):
            return self._linked(part) or b"<<%s>>" % self._inner(part, more)
        if isinstance(part, ArrayObject):
            return b"[%s]" % b" ".join(self.written(each) for each in part)
        return _plain(part)

    def _put(self, number: int, part: Any, more: bytes) -> None:
        from pypdf.generic import StreamObject

        if isinstance(part, StreamObject):
            self.out.stream(number, self._inner(part), packed(part))
        else:
            self.out.put(number, self.written(part, more))

    def _inner(self, part: Any, more: bytes = b"") -> bytes:
        """Give the names and values of a dictionary, a stream's without its length."""
        told = [more]
        section = part.get("/Type") == "/StructElem" and part.get("/S") == "/Document"
        for name, value in part.items():
            if name in self.leave_out or (name == "/Length" and hasattr(part, "_data")):
                continue
            if name in ("/StructParents", "/StructParent"):
                told.append(b"%s %d" % (name.encode(), int(value) + self.base))
            elif section and name == "/S":
                told.append(b"/S/Sect")
            elif name == "/Contents" and str(value).startswith(LINK):
                target = self.targets[str(value).removeprefix(LINK)]
                told.append(b"/Contents" + text(f"To the record of {target.title}"))
            elif name in ("/ID", "/Headers"):
                told.append(name.encode() + self._named(value))
            else:
                # What is named only is asked for as it stands, not followed.
                raw = part.raw_get(name)
                told.append(plain_name(name) + b" " + self.written(raw))
        return b"".join(told)

    def _named(self, value: Any) -> bytes:
        """Give names of tags, told apart from those of other parts."""
        if isinstance(value, list):
            return b"[%s]" % b"".join(self._named(each) for each in value)
        raw = value if isinstance(value, bytes) else str(value).encode()
        return b"<%s>" % (b"%d." % self.base + raw).hex().encode()

    def _linked(self, part: Any) -> bytes:
        """Give a link to a part of the whole, for one that names it by its key."""
        if not self.targets or part.get("/S") != "/URI":
            return b""
        target = self.targets.get(str(part.get("/URI", "")).removeprefix(LINK))
        return b"<</S/GoTo/D[%d 0 R/Fit]>>" % target.first_page if target else b""

    def _keys(self, struct: Any) -> tuple[int, tuple[int, int]]:
        """Write what says which tag each piece of a page belongs to, raised."""
        pairs = list(_numbered(struct["/ParentTree"].get_object()))
        told = b" ".join(
            b"%d %s" % (key + self.base, self.written(value)) for key, value in pairs
        )
        low = min((key for key, _ in pairs), default=0) + self.base
        high = max((key for key, _ in pairs), default=0) + self.base
        body = b"<</Limits[%d %d]/Nums[%s]>>" % (low, high, told)
        found = self.out.add(body)
        self.rest()
        return found, (low, high)


def page_digests(pdf: bytes) -> Iterator[str]:
    """Give a hash of all each page draws: content, what lies over it, type, size."""
    reader = reader_of(pdf)
    for page in reader.pages:
        yield digest_of(page)


def digest_of(page: Any) -> str:
    """Give a hash of all a page draws, however its objects are numbered."""
    out = Out(file=BytesIO())
    source = Source(out=out, reader=page.pdf, leave_out=OUTSIDE_PAGES)
    out.raw(source.written(page))
    source.rest()
    return str(out.hash.hexdigest())


def reader_of(pdf: bytes) -> Any:
    """Read a PDF."""
    from pypdf import PdfReader

    return PdfReader(BytesIO(pdf))


def packed(stream: Any) -> bytes:
    """Give the bytes of a stream as they lie in the file."""
    found: bytes = stream._data  # noqa: SLF001 - the library only gives them unpacked
    return found


def _listed(kids: Any) -> list[Any]:
    from pypdf.generic import ArrayObject

    return list(kids) if isinstance(kids, ArrayObject) else [kids]


def _numbered(node: Any) -> Iterator[tuple[int, Any]]:
    """Give the pairs of a tree of numbers, in order."""
    for kid in node.get("/Kids", ()):
        yield from _numbered(kid.get_object())
    pairs = list(node.get("/Nums", ()))
    for key, value in zip(pairs[::2], pairs[1::2], strict=True):
        yield int(key), value


def _plain(part: Any) -> bytes:
    told = BytesIO()
    part.write_to_stream(told)
    return told.getvalue()


def plain_name(name: str) -> bytes:
    """Give a name as PDF writes it."""
    from pypdf.generic import NameObject

    return _plain(NameObject(name))
