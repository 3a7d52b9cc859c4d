"""Boxes to write in, as wide as what goes into them, packed into rows of paper.

A row is 24 units wide. What is to be ticked has its words beside the tick, so that a
sheet in hand needs no key; only where a table repeats long words are they numbered.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from re import findall
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.records.limits import bound_text, bounds

ROW_UNITS = 24
LETTERS_A_UNIT = 5.4
"""Letters of a label that fit into a unit, in the style's smallest size."""
LABEL_LINES = 2
WIDTHS = {"number": 3, "item": 4, "text": 7, "time": 2, "by": 3, "choice": 3}
MOST_UNITS = 12
BAD = " !"
"""Stands after a tick that is not as it should be."""
SQUEEZED = 5
"""So much tighter a row may be, before time and name go to one of their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A box: what goes in, its unit and limit, or ticks; `sort` is how it is drawn.

    units: width, of 24 a row. sort: a kind of field, "time" or "by".
    """

    label: str
    sort: str
    units: int
    limit: str = ""
    options: tuple[str, ...] = ()


TIME = Box(label="Time", sort="time", units=WIDTHS["time"])
BY = Box(label="By", sort="by", units=WIDTHS["by"])


def field_box(sheet: Sheet, step: str, field: Mapping[str, Any]) -> Box:
    """Give the box of a field, its limit as the sheet states it."""
    label = unit_label(field)
    limit = field_limit(sheet, step, field)
    options = tuple(ticks(field))
    sort = str(field["kind"])
    return Box(
        label=label,
        sort=sort,
        units=_units(sort, f"{label} {limit}", options),
        limit=limit,
        options=options,
    )


def unit_label(part: Mapping[str, Any]) -> str:
    """Give a label with its unit, as heads and boxes have it."""
    unit = f", {part['unit']}" if part.get("unit") else ""
    return f"{part['label']}{unit}"


def ticks(field: Mapping[str, Any]) -> Iterator[str]:
    """Give what is to be ticked, a sign after whatever is not as it should be."""
    for each in field.get("options", ()):
        bad = each.get("good") == 0
        yield f"{each['label']}{BAD if bad else ''}"


def field_limit(sheet: Sheet, step: str, field: Mapping[str, Any]) -> str:
    """Give a field's limit: the plan's own words, and the bounds they leave out."""
    said = str(field.get("limit", ""))
    told = [
        text
        for scope in ("step", "line")
        for bound in bounds(sheet.raw, step, scope).get(("field", field["id"]), ())
        if not bound.line
        and (text := bound_text(bound, {}, field.get("places", 0)))
        and not _figures(text) <= _figures(said)
    ]
    return "; ".join([*filter(None, [said]), *dict.fromkeys(told)])


def _figures(text: str) -> set[float]:
    """Give the sizes named in a text, signs left out."""
    return {float(each) for each in findall(r"\d+(?:\.\d+)?", text)}


def is_shown(sheet: Sheet, name: str, check: Mapping[str, Any]) -> bool:
    """Say whether a check can be seen on its boxes: by their ticks or their limits."""
    return _is_shown(sheet, name, check["must"])


def _is_shown(sheet: Sheet, name: str, must: Any) -> bool:
    said = sheet.raw["conditions"].get(must) if isinstance(must, str) else must
    if not isinstance(said, Mapping):
        return False
    if said["word"] == "all":
        return all(_is_shown(sheet, name, each) for each in said["of"])
    value = said.get("value")
    own = isinstance(value, Mapping) and (value["word"], value.get("step")) == (
        "reading", name,
    )  # fmt: skip
    ends = [said[each] for each in ("low", "high") if each in said]
    plain = all(isinstance(_plain(sheet, each), int) for each in ends)
    return own and (said["word"] == "in" or (said["word"] == "between" and plain))


def _plain(sheet: Sheet, end: Any) -> Any:
    return sheet.raw["values"].get(end) if isinstance(end, str) else end


def merged(titles: Sequence[str]) -> tuple[str, tuple[str, ...]]:
    """Give what several titles share, and the words that tell each from the others.

    One title is itself, with nothing to choose.
    """
    if len(titles) < 2:
        return "".join(titles), ()
    words = [each.split() for each in titles]
    before = _shared(words)
    after = _shared([each[before:][::-1] for each in words])
    apart = tuple(" ".join(each[before : len(each) - after]) for each in words)
    gap = ["\N{HORIZONTAL ELLIPSIS}"]
    last = words[0][len(words[0]) - after :]
    return " ".join([*words[0][:before], *gap, *last]), apart


def _shared(words: Sequence[Sequence[str]]) -> int:
    """Count the words all begin with."""
    alike = [len(set(each)) == 1 for each in zip(*words, strict=False)]
    return alike.index(False) if False in alike else len(alike)


def packed(boxes: Iterable[Box]) -> tuple[tuple[Box, ...], ...]:
    """Fill rows in the order given; none is wider than a row."""
    rows: list[list[Box]] = []
    for box in boxes:
        room = ROW_UNITS + (SQUEEZED if box in (TIME, BY) else 0)
        if not rows or sum(each.units for each in rows[-1]) + box.units > room:
            rows.append([])
        rows[-1].append(box)
    return tuple(tuple(row) for row in rows)


def shares(units: Sequence[int]) -> list[int]:
    """Give the share of each column of a row, whole per cent: a row is always full."""
    whole, ends, sum_units = sum(units), [0], 0
    for each in units:
        sum_units += each
        ends.append(round(100 * sum_units / whole))
    return [end - begin for begin, end in pairwise(ends)]


def widths_style() -> str:
    """Give the rules of all shares: no page holds a style of its own."""
    return "".join(f".w{each} {{ width: {each}% }}\n" for each in range(1, 101))


def _units(sort: str, label: str, options: Sequence[str]) -> int:
    head = len(label) / LABEL_LINES
    longest = max((len(each) + 3 for each in options), default=0)
    wanted = ceil(max(head, longest) / LETTERS_A_UNIT)
    return min(max(WIDTHS[sort], wanted), MOST_UNITS)
