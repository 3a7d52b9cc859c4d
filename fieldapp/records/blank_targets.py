"""What a reading aims at on paper: force and pressure side by side, by each jack.

On a phone the force follows from the pressure typed. On paper nobody works it out, so
the sheet states the pressure to set and the pressures inside which the force is in its
band, by the certificate the sheet was compiled with, whose number stands beside it.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.records.figures import figure
from fieldapp.records.limits import bound_text, bounds

Part = Mapping[str, Any]


def aims(field: Part, numbers: Mapping[str, int]) -> list[str]:
    """Give what a line aims at in a field, where it does not hang on an item."""
    aim = numbers.get(str(field.get("aim")))
    if aim is None:
        return []
    return [f"about {figure(aim, int(field.get('places', 0)))}"]


def pressures_of(
    sheet: Sheet, name: str, titles: Mapping[int, str]
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Give heads and rows of what each round aims at, by each item it hangs on.

    Items of a round that aim at the same share a row. Without an aim there are no rows.
    """
    step = sheet.raw["steps"][name]
    field = next((each for each in step["fields"] if each.get("aim")), None)
    shown = [each for each in step.get("shows", ()) if each["scope"] == "line"]
    if field is None or not shown:
        return (), ()
    tools = _tools(sheet, field, step["lines"])
    heads = ["", f"{shown[0]['label']}, {shown[0]['unit']}"]
    heads += [f"{field['unit']} by {_tool(sheet, each)}" for each in tools]
    groups: dict[tuple[str, ...], list[Part]] = {}
    for line in step["lines"]:
        told = tuple(_told(sheet, name, (field, shown[0]), line, tools))
        groups.setdefault((titles[int(line["round"])], *told), []).append(line)
    rows = [(_named(sheet, step, key[0], lines), *key[1:])
            for key, lines in groups.items()]  # fmt: skip
    return tuple(heads), tuple(rows)


def _tools(sheet: Sheet, field: Part, lines: Sequence[Part]) -> list[str]:
    """Give the items a line's aim hangs on, as the sheet names them."""
    head = f"{field['aim']}."
    found = dict.fromkeys(
        key.removeprefix(head)
        for line in lines
        for key in line.get("numbers", {})
        if key.startswith(head)
    )
    return [each for each in found if each in sheet.raw.get("items", {})]


def _tool(sheet: Sheet, item: str) -> str:
    said = sheet.raw["items"][item]
    papers = [each["value"] for each in said.get("facts", ())
              if each["label"] == "Certificate"]  # fmt: skip
    return ", ".join([str(said["label"]), *map(str, papers)])


def _told(
    sheet: Sheet, name: str, parts: tuple[Part, Part], line: Part, tools: Sequence[str]
) -> Iterator[str]:
    field, show = parts
    numbers, places = line["numbers"], int(show["places"])
    found = bounds(sheet.raw, name, "line").get(("show", show["id"]), ())
    band = [text for bound in found if (text := bound_text(bound, numbers, places))]
    aim = figure(numbers["target"], places) if "target" in numbers else ""
    yield f"{aim} ({'; '.join(band)})" if aim and band else aim or "; ".join(band)
    for tool in tools:
        read = int(field.get("places", 0))
        mark = figure(numbers[f"{field['aim']}.{tool}"], read)
        ends = _ends(sheet, (field, show), line, tool)
        inside = " to ".join(figure(end, read) for end in ends)
        yield f"{mark} ({inside})" if inside else mark


def _ends(
    sheet: Sheet, parts: tuple[Part, Part], line: Part, tool: str
) -> tuple[int, ...]:
    """Turn the band of a force round: the least and the greatest reading inside it.

    Only a force that is one factor times this very reading plus a constant, both of the
    item's own certificate, is turned; inwards, and never beyond the certificate. Empty
    where there is none to give.
    """
    field, show = parts
    form = sheet.raw["values"].get(show["value"], {})
    own = sheet.raw["items"][tool]["numbers"]
    terms = form.get("terms", ())
    if form.get("word") != "form" or len(terms) != 1 or not {"low", "high"} <= set(own):
        return ()
    ((factor, reading),) = terms
    slope, constant = _own(factor, own), _own(form.get("constant"), own)
    numbers, scale = line["numbers"], int(form["divisor"])
    if not slope or constant is None or not {"low", "high"} <= set(numbers):
        return ()
    if not isinstance(reading, Mapping) or reading.get("field") != field["id"]:
        return ()
    low = max(-((constant - numbers["low"] * scale) // slope), own["low"])
    high = min((numbers["high"] * scale - constant) // slope, own["high"])
    return (low, high) if low <= high else ()


def _own(part: Any, numbers: Mapping[str, int]) -> int | None:
    if isinstance(part, Mapping) and part.get("word") == "field":
        return numbers.get(str(part["name"]))
    return None


def _named(sheet: Sheet, step: Part, title: str, lines: Sequence[Part]) -> str:
    """Name a group: its round, and its items where it is not all of them."""
    number = lines[0]["round"]
    if len(lines) == sum(each["round"] == number for each in step["lines"]):
        return title
    known = sheet.raw["items"]
    named = [str(known.get(each["item"], {}).get("label", each["item"]))
             for each in lines]  # fmt: skip
    return f"{title}: {'; '.join(named)}"
