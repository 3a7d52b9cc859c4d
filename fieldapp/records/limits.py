"""The limits of a step as the sheet states them, for printing beside the readings.

Only bounds that the sheet states outright are told as numbers; one that is itself
worked out (a window that depends on the adhesive chosen) is told by its text alone.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.records.figures import figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """Low and high of one column of a step: `about` is ("field"|"show", its id).

    line: the only line it bounds, "" for any.
    """

    about: tuple[str, str]
    low: Any
    high: Any
    line: str = ""


def bounds(
    sheet: Mapping[str, Any], step_id: str, scope: str
) -> dict[tuple[str, str], list[Bound]]:
    """Give the bounds of a step's fields and shown figures, in the order of checks."""
    step = sheet["steps"][step_id]
    known = {
        _key(show["value"]): ("show", show["id"]) for show in step.get("shows", ())
    }
    found: dict[tuple[str, str], list[Bound]] = {}
    for check in step.get("checks", ()):
        if check["scope"] != scope:
            continue
        for between in betweens(sheet, check["must"]):
            about = _about(between["value"], step_id, known)
            if about is not None:
                found.setdefault(about, []).append(_bound(sheet, about, between))
    return found


def of_line(
    sheet: Mapping[str, Any], step_id: str, about: tuple[str, str], line: str
) -> list[Bound]:
    """Give what bounds a column on one line: of every line, and of this one alone."""
    every, whole = (
        bounds(sheet, step_id, scope).get(about, []) for scope in ("line", "step")
    )
    return [
        *(each for each in every if each.line in ("", line)),
        *(each for each in whole if each.line and each.line == line),
    ]


def narrowed(found: Sequence[Bound], numbers: Mapping[str, int]) -> list[Bound]:
    """Give one bound for all where one of them is of this line alone, else all.

    The phone tells no other: of a last stage, what may be left, and not the band that
    every stage has.
    """
    if not any(each.line for each in found):
        return list(found)
    lows, highs = (
        [end for each in found if (end := _number(getattr(each, side), numbers))
         is not None]
        for side in ("low", "high")
    )  # fmt: skip
    low, high = max(lows, default=None), min(highs, default=None)
    return [Bound(about=found[0].about, low=low, high=high)]


def bound_text(
    bound: Bound, numbers: Mapping[str, int], places: int, shown: int | None = None
) -> str:
    """Give a bound in figures for one line: "162.0 to 198.0", "at least 3.0".

    shown: the places its figure is read in; a bound is never rounded to them.
    """
    low, high = _number(bound.low, numbers), _number(bound.high, numbers)
    fewest = places if shown is None else shown

    def exact(value: int, left: int = places) -> str:
        short = left > fewest and value % 10 == 0
        return exact(value // 10, left - 1) if short else figure(value, left)

    if low is not None and high is not None:
        return f"{exact(low)} to {exact(high)}"
    if low is not None:
        return f"at least {exact(low)}"
    return f"at most {exact(high)}" if high is not None else ""


def _bound(
    sheet: Mapping[str, Any], about: tuple[str, str], between: Mapping[str, Any]
) -> Bound:
    value = between["value"]
    line = str(value.get("line", "")) if isinstance(value, dict) else ""
    low, high = (_end(sheet, between.get(side)) for side in ("low", "high"))
    return Bound(about=about, low=low, high=high, line=line)


def _end(sheet: Mapping[str, Any], end: Any) -> Any:
    """Give what a name stands for where that is a plain number of the sheet."""
    named = sheet["values"].get(end) if isinstance(end, str) else None
    return named if isinstance(named, int) else end


def betweens(sheet: Mapping[str, Any], must: Any) -> Iterator[dict[str, Any]]:
    """Yield every bound that a condition sets, those it names too."""
    condition = sheet["conditions"].get(must) if isinstance(must, str) else must
    if not isinstance(condition, dict):
        return
    if condition.get("word") == "between":
        yield condition
    elif condition.get("word") == "all":
        for inner in condition["of"]:
            yield from betweens(sheet, inner)


def _about(
    value: Any, step_id: str, known: Mapping[str, tuple[str, str]]
) -> tuple[str, str] | None:
    if isinstance(value, dict) and value.get("word") == "reading":
        return ("field", value["field"]) if value["step"] == step_id else None
    return known.get(_key(value))


def _key(value: Any) -> str:
    return value if isinstance(value, str) else repr(value)


def _number(part: Any, numbers: Mapping[str, int]) -> int | None:
    if isinstance(part, int):
        return part
    if isinstance(part, dict) and part.get("word") == "constant":
        return numbers.get(part["name"])
    return None
