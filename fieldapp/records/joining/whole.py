"""Several PDFs joined into one file, object by object, with their tags.

Objects are written as they are read and forgotten, so that a file of thousands of
pages needs the memory of its largest part. Nothing of a part is set or packed again:
its pages, typefaces and pictures go over as they are, its tags come under a part of
the whole, and only numbers change. What belongs to a whole file (metadata, colours,
language) is taken from the front; files are attached anew.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import BinaryIO

from fieldapp.records.joining.out import HEADER, Out, text
from fieldapp.records.joining.source import Joined, Source, plain_name, reader_of

_OF_THE_WHOLE = ("/Metadata", "/OutputIntents", "/Lang", "/MarkInfo",
                 "/ViewerPreferences")  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A PDF to be joined in: its key in links, its title, its bytes when asked."""

    key: str
    title: str
    read: Callable[[], bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """A file to be attached: name, type, what it is, relationship, bytes when asked."""

    name: str
    type: str
    about: str
    relation: str
    read: Callable[[], bytes]


Front = Callable[[Mapping[str, int]], tuple[bytes, Iterable[Attached]]]


def join(file: BinaryIO, parts: Iterable[Part], front: Front, created: str) -> None:
    """Write front and parts into one file, in their order.

    front: gives the front and the files to attach, once it is told how many pages
    each part has by its key; created: the moment of the attached files as PDF
    writes it (D:20270115090000Z).
    """
    out = Out(file=file)
    out.raw(HEADER)
    pages, tree, document = out.new(), out.new(), out.new()
    joined: list[Joined] = []
    # The front is written last, since its links name pages of the parts.
    next_key = 0
    for part in parts:
        source = Source(out=out, reader=reader_of(part.read()), base=next_key)
        named = {"key": part.key, "title": part.title}
        joined.append(source.joined(pages, document, **named))
        next_key = joined[-1].next_key
    opening, attached = front({each.key: each.count for each in joined})
    targets = {each.key: each for each in joined}
    cover = Source(out=out, reader=reader_of(opening), base=next_key, targets=targets)
    whole = [cover.joined(pages, document), *joined]
    _put_pages(out, pages, whole)
    _put_tags(out, tree, document, whole)
    catalog = out.new()
    body = _catalog(out, cover, pages, tree, whole)
    out.put(catalog, body + _files(out, attached, created) + b">>")
    out.end(catalog)


def _put_pages(out: Out, pages: int, whole: list[Joined]) -> None:
    kids = b" ".join(b"%d 0 R" % each.pages for each in whole)
    count = sum(each.count for each in whole)
    out.put(pages, b"<</Type/Pages/Count %d/Kids[%s]>>" % (count, kids))


def _put_tags(out: Out, tree: int, document: int, whole: list[Joined]) -> None:
    kids = b" ".join(b"%d 0 R" % each.tags for each in whole)
    body = b"<</Type/StructElem/S/Document/P %d 0 R/K[%s]>>" % (tree, kids)
    out.put(document, body)
    # Keys stand in their order: those of the front come last.
    order = sorted(whole, key=lambda each: each.limits)
    keys = out.add(b"<</Kids[%s]>>" % b" ".join(b"%d 0 R" % e.keys for e in order))
    body = b"<</Type/StructTreeRoot/K[%d 0 R]/ParentTree %d 0 R>>"
    out.put(tree, body % (document, keys))


def _catalog(
    out: Out, cover: Source, pages: int, tree: int, whole: list[Joined]
) -> bytes:
    root = cover.reader.root_object
    told = [
        plain_name(name) + b" " + cover.written(root.raw_get(name))
        for name in _OF_THE_WHOLE
        if name in root
    ]
    cover.rest()
    outlines = _outlines(out, [each for each in whole if each.title])
    head = b"<</Type/Catalog/Pages %d 0 R/StructTreeRoot %d 0 R/Outlines %d 0 R"
    return head % (pages, tree, outlines) + b"".join(told)


def _outlines(out: Out, named: list[Joined]) -> int:
    root, items = out.new(), [out.new() for _ in named]
    for at, (number, each) in enumerate(zip(items, named, strict=True)):
        before = b"/Prev %d 0 R" % items[at - 1] if at else b""
        after = b"/Next %d 0 R" % items[at + 1] if at + 1 < len(items) else b""
        place = b"/Parent %d 0 R/Dest[%d 0 R/Fit]" % (root, each.first_page)
        told = (text(each.title), place, before, after)
        out.put(number, b"<</Title %s%s%s%s>>" % told)
    ends = b"/First %d 0 R/Last %d 0 R" % (items[0], items[-1]) if items else b""
    out.put(root, b"<</Type/Outlines/Count %d%s>>" % (len(items), ends))
    return root


def _files(out: Out, attached: Iterable[Attached], created: str) -> bytes:
    named: dict[str, int] = {}
    moment = text(created)
    for each in attached:
        data = each.read()
        dates = b"/CreationDate %s/ModDate %s" % (moment, moment)
        params = b"/Params<</Size %d%s>>" % (len(data), dates)
        kind = b"/Type/EmbeddedFile/Subtype" + plain_name("/" + each.type)
        stream = out.new()
        out.stream(stream, kind + params, data)
        name = text(each.name)
        told = b"/F %s/UF %s/Desc %s" % (name, name, text(each.about))
        link = b"/EF<</F %d 0 R/UF %d 0 R>>" % (stream, stream)
        relation = b"/AFRelationship" + plain_name("/" + each.relation)
        named[each.name] = out.add(b"<</Type/Filespec%s%s%s>>" % (told, link, relation))
    order = sorted(named)
    tree = b" ".join(b"%s %d 0 R" % (text(name), named[name]) for name in order)
    every = b" ".join(b"%d 0 R" % named[name] for name in order)
    return b"/Names<</EmbeddedFiles<</Names[%s]>>>>/AF[%s]" % (tree, every)
