"""The steps and points of a subject, in the order of the work, as its page shows them.

Nothing is judged here; every state comes from the fold and every limit and label from
the sheet. No kind of subject is known by name.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.fold import present
from fieldapp.lookups import Folded
from fieldapp.records import gates
from fieldapp.records.figures import computed
from fieldapp.records.hours import clocks_off
from fieldapp.records.limits import Bound, bound_text, bounds, narrowed, of_line
from fieldapp.records.marks import called_for
from fieldapp.records.unrecorded import steps_of_stops
from fieldapp.records.wording import named
from fieldapp.web.display import figure
from fieldapp.web.flags import received_of
from fieldapp.web.names import SiteNames
from fieldapp.web.wording import Wording

State = Mapping[str, Any]
Limits = Mapping[tuple[str, str], str]
Told = tuple[Wording, Mapping[str, str]]
"""What things are called, and by entry how far its clock was off."""


def parts(found: Folded, words: Wording, names: SiteNames) -> list[dict[str, Any]]:
    """Give every step and point of the flow, by the template's names."""
    told = (words, clocks_off(found.entries, received_of(found)))
    return [
        _point(found, name, told, names)
        if name in found.sheet.points
        else _step(found, name, told)
        for name in found.sheet.raw["flow"]
    ]


def idle(step: State) -> bool:
    """Say whether a step asks for nothing: off, or done without a line."""
    return not called_for(step)


def shown_status(step: State) -> str:
    """Give what to show: off limits stay in sight on a step that counts as done."""
    if idle(step):
        return "off"
    lines = [line["status"] for line in step["lines"].values()]
    if step["status"] == "failed" and "anyway" in lines and "failed" not in lines:
        return "anyway"
    exceeded = step["failed"] or any(line["failed"] for line in step["lines"].values())
    done_so = step["status"] == "done" and exceeded
    return "exceeded" if done_so else str(step["status"])


def worded(field: State, value: int | str, sheet: State) -> str:
    """Give a reading as a person would say it, by its field's kind."""
    if field["kind"] == "choice":
        labels = {each["value"]: each["label"] for each in field.get("options", ())}
        return str(labels.get(value, value))
    if field["kind"] == "item":
        item = sheet.get("items", {}).get(value)
        return item["label"] if item else str(value)
    if isinstance(value, int):
        return figure(value, field.get("places", 0), field.get("unit", ""))
    return value


def values_told(
    step: State, values: State, sheet: State, register: State
) -> Iterator[dict[str, Any]]:
    """Yield the readings of a line: label, text, and the item an item field names."""
    for field in step.get("fields", ()):
        if field["id"] not in values:
            continue
        value = values[field["id"]]
        known = field["kind"] == "item" and value in register
        text = register[value]["label"] if known else worded(field, value, sheet)
        item = value if known else None
        yield {"id": field["id"], "label": field["label"], "text": text, "item": item,
               "named": named(field["label"], text)}  # fmt: skip


def label_of(step: State, line: str) -> str:
    """Give what a sheet calls a line of a step; nothing for a series."""
    labels = {each["id"]: each["label"] for each in step.get("lines", ())}
    return "" if step.get("series") else str(labels.get(line, line))


def place_of(sheet: State, fault: State) -> str:
    """Give where a nonconformance was found: the step's title and the line's label."""
    step = sheet["steps"].get(fault.get("step", ""))
    if step is None:
        return ""
    return f"{step['title']} {label_of(step, fault.get('line', ''))}".strip()


def point_status(found: Folded, name: str) -> str:
    """Give how a point stands, in the record's own terms."""

    def attempt_of(point: str) -> str | None:
        last = max((entry.at for entry in found.entries), default=0)
        scene = present(found.sheet, found.entries, found.standing, {"at": last})
        return scene.view.attempt_of(point)

    state, raw = found.state, found.sheet.raw
    return gates.point_status(raw, state, found.entries, name, attempt_of)


def _signed_at(now: dict[str, Any], by_id: dict[str, Entry], said: str) -> int | None:
    """Give when what was spoken was signed by whoever said it, if it was."""
    signature = by_id.get(now.get("signed", {}).get(said, ""))
    return None if signature is None else signature.at


def _point(found: Folded, name: str, told: Told, names: SiteNames) -> dict[str, Any]:
    words, clocks = told
    point, now = found.sheet.raw["points"][name], found.state["points"][name]
    by_id = {entry.id: entry for entry in found.entries}
    given = [by_id[each] for each in now.get("release", ()) if each in by_id]
    # What was released wants nothing more; what shut it since is told.
    news = gates.shut_since(found.sheet.raw, found.state, name)
    told_of = [e for e in now["refusals"] if not news or e["facts"].get("id") in news]
    return {
        "id": name,
        "point": point,
        "now": now,
        "status": point_status(found, name),
        "refusals": words.say_all(told_of),
        "wanted": names.signers(point["releases"]),
        "releases": [
            {
                "who": words.person(entry.about.get("said_by", entry.person)),
                "heard_by": words.person(entry.about.get("heard_by", "")),
                "spoken": entry.kind == "spoken",
                "text": entry.about.get("text", ""),
                "at": entry.at,
                "clock": clocks.get(entry.id, ""),
                "signed": _signed_at(now, by_id, entry.id),
            }
            for entry in given
        ],
        "conditions": [
            {
                **each,
                "status": "open" if each["open"] else "closed",
                "where": words.names["name"].get(each["before"], each["before"]),
            }
            for each in now.get("conditions", ())
        ],
    }


def _step(found: Folded, name: str, told: Told) -> dict[str, Any]:
    words, _ = told
    step, now = found.sheet.raw["steps"][name], found.state["steps"][name]
    return {
        "id": name,
        "step": step,
        "now": now,
        "idle": idle(now),
        # What a STOP told of was called for, recorded or not: told with the STOP.
        "untold": name in steps_of_stops(found.sheet.raw, found.entries),
        "status": shown_status(now),
        "refusals": words.say_all(now["refusals"]),
        "checks": words.failures(name, now),
        "cautions": [words.failure(name, "", each) for each in now["cautions"]],
        "shows": _limited(
            _shows(step, now["shows"], "step"),
            "show",
            _limits(found.sheet.raw, name, "step"),
        ),
        "lines": [
            _line(found, name, line, read, told) for line, read in now["lines"].items()
        ],
    }


def _line(
    found: Folded, name: str, line: str, read: State, told: Told
) -> dict[str, Any]:
    words, clocks = told
    sheet, step = found.sheet.raw, found.sheet.raw["steps"][name]
    by_id = {entry.id: entry for entry in found.entries}
    photos = {
        photo: None
        for entry in read["entries"]
        for photo in (by_id[entry].photos if entry in by_id else ())
    }
    exceeded = read["status"] == "ok" and read["failed"]
    limits = _limits(sheet, name, "line", line)
    return {
        "label": label_of(step, line),
        "who": words.person(read["person"]),
        "values": _limited(
            values_told(step, read["values"], sheet, found.register), "field", limits
        ),
        "now": read,
        "clock": clocks.get(read["entry"], ""),
        "status": "exceeded" if exceeded else read["status"],
        "shows": _limited(_shows(step, read["shows"], "line"), "show", limits),
        "failed": [words.failure(name, line, each) for each in read["failed"]],
        "cautions": [words.failure(name, line, each) for each in read["cautions"]],
        "photos": list(photos),
    }


def _limited(
    told: Iterable[dict[str, Any]], sort: str, limits: Limits
) -> list[dict[str, Any]]:
    return [each | {"limit": limits.get((sort, each["id"]), "")} for each in told]


def _limits(sheet: State, name: str, scope: str, line: str = "") -> Limits:
    """Give the bounds a step's checks state outright, in figures, by what they bind."""
    step = sheet["steps"][name]
    lines = {each["id"]: each.get("numbers", {}) for each in step.get("lines", ())}
    numbers = lines.get(line, {})
    parts = [*step.get("fields", ()), *step.get("shows", ())]
    places = {part["id"]: (part.get("places", 0), part.get("shown")) for part in parts}
    return {
        about: "; ".join(
            text
            for each in narrowed(stated, numbers)
            if (text := bound_text(each, numbers, *places[about[1]]))
        )
        for about, stated in _stated(sheet, name, scope, line).items()
    }


def _stated(
    sheet: State, name: str, scope: str, line: str
) -> dict[tuple[str, str], list[Bound]]:
    """Give what bounds a step's own figures, or what was read on one of its lines.

    A step that is read once has its one line judged by the checks of the whole step.
    """
    whole = bounds(sheet, name, "step")
    if scope == "step":
        return whole
    step = sheet["steps"][name]
    once = not step.get("lines") and not step.get("series")
    return {
        about: of_line(sheet, name, about, line)
        + [each for each in whole.get(about, ()) if once and not each.line]
        for about in {**bounds(sheet, name, "line"), **whole}
    }


def _shows(step: State, values: State, scope: str) -> list[dict[str, str]]:
    return [
        {
            "id": each["id"],
            "label": each["label"],
            "text": computed(values[each["id"]], each, each["unit"]),
        }
        for each in step.get("shows", ())
        if each["scope"] == scope and each["id"] in values
    ]
