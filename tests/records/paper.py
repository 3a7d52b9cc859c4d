"""Printed records of the stories, each set once a run, and ways to look into a PDF."""

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from typing import Any

import pikepdf
import pytest
from pypdf import PdfReader

from fieldapp.records.evidence import Evidence
from fieldapp.records.record import record_pdf
from fieldapp.records.view import RecordView, record_view
from tests.records import stories
from tests.records.book import Book, told

# The PDF library leaves its colour profile's file to the garbage collector.
PAPER = pytest.mark.filterwarnings("ignore:unclosed file.*sRGB2014:ResourceWarning")


@cache
def book(story: str) -> Book:
    """Tell a story once; "good" is the joint without trouble."""
    return told() if story == "good" else getattr(stories, story)()


@cache
def evidence(story: str) -> Evidence:
    """Give a story's evidence, always the same."""
    return book(story).evidence()


@cache
def printed(story: str) -> bytes:
    """Give a story's record as a PDF."""
    return record_pdf(evidence(story))


@cache
def view(story: str) -> RecordView:
    """Give what a story's pages say."""
    return record_view(evidence(story))


def pages(pdf: bytes) -> list[str]:
    """Give the text of each page, its white space made single spaces."""
    read = PdfReader(BytesIO(pdf)).pages
    return [" ".join(page.extract_text().split()) for page in read]


def text(story: str) -> str:
    """Give the text of a story's pages, one after another."""
    return " ".join(pages(printed(story)))


def opened(pdf: bytes) -> pikepdf.Pdf:
    """Open a PDF to look at its objects."""
    return pikepdf.open(BytesIO(pdf))


def structure(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Give every element of the tag tree."""
    waiting = [pdf.Root.StructTreeRoot]
    while waiting:
        element = waiting.pop()
        if isinstance(element, pikepdf.Array):
            waiting += list(element)
        elif isinstance(element, pikepdf.Dictionary):
            if "/S" in element:
                yield element
            if "/K" in element:
                waiting.append(element.K)
