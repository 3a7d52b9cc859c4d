"""A calculation set out by hand, as plain data that text, page and paper can show.

The order is the sheet's: heading, inputs, sketch, calculation, result, range of
validity, sources, version. It records a calculation; signing it is for people.
"""

from dataclasses import dataclass, field

from fieldapp.calc.sketch import Sketch


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What stands on top; blank where not given, to be filled in by hand."""

    job: str = ""
    subject: str = ""
    revision: str = ""
    prepared: str = ""
    checked: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """One value with its meaning, key, unit and where it comes from."""

    what: str
    key: str
    value: str
    unit: str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A table of values; columns carry their units."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of the calculation: formula, numbers put in, what comes out."""

    what: str
    formula: str
    numbers: str
    result: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A sentence within the calculation."""

    text: str


Part = Step | Grid | Note


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """The whole sheet."""

    name: str
    title: str
    purpose: str
    heading: Heading
    inputs: tuple[Quantity | Grid, ...]
    sketch: Sketch | None
    parts: tuple[Part, ...]
    results: tuple[Quantity | Grid, ...]
    validity: tuple[str, ...]
    sources: tuple[str, ...]
    version: str
    caution: str = field(
        default="Not engineering advice. This sheet computes; it approves nothing. "
        "The erection manual, the approved calculations and the licensed engineer "
        "govern."
    )
