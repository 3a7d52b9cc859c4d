"""The inspector's queue: every point that is called, since when, what it rests on.

The point is signed on a phone; here everything it rests on can be read beforehand.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.lookups.photos import missing_photos, photos_of
from fieldapp.records.hours import office_ms
from fieldapp.web.aged import met_until
from fieldapp.web.desk import Desk
from fieldapp.web.flags import received_of
from fieldapp.web.held_up import waits_first
from fieldapp.web.joint_parts import parts
from fieldapp.web.stages import FINISHED

Row = dict[str, Any]


def queue_page(here: Desk) -> Row:
    """Give the called points, longest waiting first, and those that may be called."""
    rows = [row for found in here.folded for row in _points(here, found)]
    called = [row for row in rows if row["point"]["now"]["status"] == "called"]
    return {
        "called": sorted(called, key=lambda row: row["since"]),
        "ready": [row for row in rows if row["point"]["now"]["status"] == "ready"],
    }


def _points(here: Desk, found: Folded) -> Iterator[Row]:
    names = list(_shown(found))
    if not names:
        # Most of a large site: what its sheets say is then not worked out at all.
        return
    words = here.words(found)
    told = {part["id"]: part for part in parts(found, words, here.names)}
    by_id = {entry.id: entry for entry in found.entries}
    for name in names:
        now = found.state["points"][name]
        call = by_id.get(now.get("called", ""))
        point = found.sheet.raw["points"][name]
        covered = [told[step] for step in point.get("covers", ())]
        until = met_until(found, name, here.now)
        yield {
            "id": found.sheet.subject,
            "title": found.sheet.raw["title"],
            "point": told[name],
            "since": office_ms(call, received_of(found)) if call else None,
            "by": here.names.person(call.person) if call else "",
            "first": waits_first(here, found, name),
            "covers": [part for part in covered if not part["idle"]],
            "requires": [
                {"text": each["text"], "until": until.get(each["id"])}
                for each in point.get("requires", ())
            ],
            **_photos(here, found, set(point.get("covers", ()))),
        }


def _shown(found: Folded) -> Iterator[str]:
    """Yield the points that are called, and those that may be where work goes on.

    What was not seen in passing of finished work can be seen no more.
    """
    at_work = found.entries and found.state["verdict"] not in FINISHED
    for name, point in found.state["points"].items():
        if point["status"] == "called" or (point["status"] == "ready" and at_work):
            yield name


def _photos(here: Desk, found: Folded, steps: set[str]) -> Row:
    entries = [entry for entry in found.entries if entry.step in steps]
    every = photos_of(here.reader, entries)
    return {
        "photos": [photo.hash for photo in every if photo.kept],
        "gone": [
            {"hash": photo.hash, "who": here.names.person(photo.entry.person)}
            for photo in missing_photos(here.reader, entries)
        ],
    }
