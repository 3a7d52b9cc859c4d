"""Turns a folded subject into what its page and its row in the list show.

Nothing is judged here; every state comes from the fold and every limit and label from
the sheet. No kind of subject is known by name.
"""

from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.verdict import UNDECIDED
from fieldapp.lookups import Folded
from fieldapp.lookups.photos import Photo
from fieldapp.records.clocks import holds_back
from fieldapp.records.hours import clocks_off, office_ms, phones_off
from fieldapp.records.marks import steps_counted, verdict_mark
from fieldapp.web.clocks import clocks_told
from fieldapp.web.flags import flags_told, received_of
from fieldapp.web.joint_parts import label_of, parts
from fieldapp.web.may_start import is_shut
from fieldapp.web.names import SiteNames
from fieldapp.web.runs_on import runs_on
from fieldapp.web.stages import PASSED, live_mark, stage, title_of
from fieldapp.web.wording import SHORT, Wording

SETTLED = ("done", "off")


def summary(found: Folded, awaited: str | None, now: int) -> dict[str, Any]:
    """Give one row of the list: what the subject is at, and what stands in its way.

    awaited: the milestone others of its kind wait for; now: ms UTC.
    """
    sheet, state = found.sheet.raw, found.state
    recorded, asked = steps_counted(state)
    faults = [each["status"] for each in state["nonconformances"]]
    how_far, received = stage(found, awaited), received_of(found)
    return {
        "id": sheet["subject"],
        "title": sheet["title"],
        "kind": sheet["kind"],
        "revision": sheet["revision"],
        "verdict": state["verdict"],
        "stopped": state.get("stopped"),
        "done": recorded,
        "steps": asked,
        "next": next_of(found),
        "undecided": sum(status in UNDECIDED for status in faults),
        "decided": sum(status not in UNDECIDED for status in faults),
        "entries": len(found.rows),
        "last": max((office_ms(e, received) for e in found.entries), default=None),
        "stage": how_far,
        "mark": live_mark(found, how_far, now),
        "search": f"{sheet['subject']} {sheet['title']}".casefold(),
    }


def next_of(found: Folded) -> str:
    """Give the title of the first step or hold point that is not behind us, and say of
    a step that it is shut.
    """
    name = next_part(found)
    if not name:
        return ""
    step = found.state["steps"].get(name)
    shut = " (shut)" if step and is_shut(step) else ""
    return title_of(found.sheet.raw, name) + shut


def next_part(found: Folded) -> str:
    """Give the id of the first step or hold point that is not behind us."""
    sheet, state = found.sheet.raw, found.state
    for name in sheet["flow"]:
        step, point = state["steps"].get(name), state["points"].get(name)
        if step and step["status"] not in SETTLED:
            return str(name)
        if point and point["status"] not in PASSED and _stops(sheet, name):
            return str(name)
    return ""


def joint_page(
    found: Folded, names: SiteNames, words: Wording, photos: list[Photo], now: int
) -> dict[str, Any]:
    """Give everything the page of one subject shows, by the template's names."""
    sheet, state = found.sheet.raw, found.state
    return {
        "sheet": sheet,
        "sheet_hash": found.sheet.hash,
        "state": state,
        "next": next_of(found),
        "next_id": next_part(found),
        "parts": parts(found, words, names),
        "flags": [
            {"words": text, "entry": entry}
            for entry, text in flags_told(found, words, now)
        ],
        "phones_off": phones_off(found.entries, received_of(found)),
        "verdict": verdict_mark(state),
        "counted": steps_counted(state),
        "clocks": list(clocks_told(sheet, state)),
        "runs_on": runs_on(sheet, state, now),
        "holds": [
            {**state["holds"][hold["id"]], "id": hold["id"], "title": hold["title"]}
            for hold in sheet.get("holds", ())
            if hold["id"] in state["holds"] and holds_back(hold, state)
        ],
        "photos": _photos(found, photos, names),
        "arrived": {photo.hash for photo in photos if photo.kept},
        "entries": _entries(found, names),
        "words": words,
    }


def _stops(sheet: dict[str, Any], point: str) -> bool:
    return sheet["points"][point]["class"] in ("hold", "witness")


def _photos(
    found: Folded, photos: list[Photo], names: SiteNames
) -> list[dict[str, Any]]:
    titles = {**found.sheet.raw["steps"], **found.sheet.raw["points"]}
    return [
        {
            "hash": photo.hash,
            "here": photo.kept is not None,
            "who": names.person(photo.entry.person),
            "at": photo.entry.at,
            "device": photo.entry.device,
            "where": _where(photo.entry, titles),
            "unseen": bool(photo.unseen),
        }
        for photo in photos
    ]


def _entries(found: Folded, names: SiteNames) -> list[dict[str, Any]]:
    titles = {**found.sheet.raw["steps"], **found.sheet.raw["points"]}
    clocks = clocks_off(found.entries, received_of(found))
    return [
        {
            "row": row,
            "entry": entry,
            "clock": clocks.get(entry.id, ""),
            "short": entry.id[:SHORT],
            "who": names.person(entry.person),
            "where": _where(entry, titles),
            "reason": entry.about.get("reason") or entry.about.get("text") or "",
        }
        for row, entry in zip(found.rows, found.entries, strict=True)
    ]


def _where(entry: Entry, titles: dict[str, Any]) -> str:
    name = entry.step or entry.point
    part = titles.get(name, {}) if name else {}
    title = part.get("title", name or "")
    return f"{title} {label_of(part, entry.line)}".strip()
