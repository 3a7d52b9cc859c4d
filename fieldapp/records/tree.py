"""Reads the text of a page as a tree, by the parser in Python's own library.

Templates close what they open, so the forgiving parser of the PDF library is not
needed: it took a twentieth of the time of a record. A text that is not closed is a
mistake of its template, and rises. Used by `pdf.py` alone.
"""

import re
from xml.etree.ElementTree import Element, fromstring

_EMPTY = re.compile(r"<(br|col|img|link|meta)\b([^<>]*?)/?>")
"""Elements that HTML leaves open; a `>` in an attribute is always escaped."""
_KIND = re.compile(r"^\s*<!doctype html>", re.IGNORECASE)
_UNFIT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What somebody may have typed and no page can carry."""


def tree_of(text: str) -> Element:
    """Give a page's elements. Errors: `ParseError` for a text that is not closed."""
    text = _KIND.sub("", text)
    closed = _EMPTY.sub(r"<\1\2/>", _UNFIT.sub("\N{REPLACEMENT CHARACTER}", text))
    # Nothing from outside is read here: what people typed is escaped in it.
    return fromstring(closed)  # noqa: S314
