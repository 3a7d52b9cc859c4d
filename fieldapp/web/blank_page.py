"""A blank sheet of a subject, to write on when no phone will do.

It holds what the sheet asks, in the order of the work, with room for figures, times
and names. What is written is entered later as copied from paper, with a photo of it.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.web.names import SiteNames

SPARE_LINES = 3
"""Empty lines for a step that is read again and again."""
Part = Mapping[str, Any]
Row = dict[str, Any]


def blank_page(sheet: Sheet, names: SiteNames) -> Row:
    """Give the parts of a blank sheet, by the template's names."""
    raw = sheet.raw
    return {
        "sheet": raw,
        "sheet_hash": sheet.hash,
        "kind": names.kind(raw["kind"]),
        "parts": [
            _point(raw["points"][name], names)
            if name in raw["points"]
            else _step(raw["steps"][name])
            for name in raw["flow"]
        ],
        "cards": raw.get("cards", ()),
    }


def _step(step: Part) -> Row:
    return {
        "title": step["title"],
        "caution": step.get("caution", ""),
        "sometimes": "when" in step or bool(step.get("again")),
        "fields": list(_fields(step)),
        "lines": list(_lines(step)),
        # Many things to read once stand under one another, or no hand could write.
        "upright": len(step.get("fields", ())) > 2 and len(list(_lines(step))) == 1,
        "limits": [
            {"text": each["text"], "source": each.get("source", "")}
            for each in step.get("checks", ())
        ],
        "photos": step.get("photos", 0),
    }


def _fields(step: Part) -> Iterator[Row]:
    for field in step.get("fields", ()):
        yield {
            "label": field["label"],
            "unit": field.get("unit", ""),
            "options": [each["label"] for each in field.get("options", ())],
        }


def _lines(step: Part) -> Iterator[str]:
    told = [line["label"] for line in step.get("lines", ())]
    if step.get("series"):
        told = [""] * SPARE_LINES
    yield from told or [""]


def _point(point: Part, names: SiteNames) -> Row:
    return {
        "point": point["class"],
        "title": point["title"],
        "caution": point.get("caution", ""),
        "wanted": [names.signer(each) for each in point["releases"]],
        "requires": [each["text"] for each in point.get("requires", ())],
    }
