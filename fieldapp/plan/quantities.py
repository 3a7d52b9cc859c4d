"""What an expression of the plan stands for: its unit, its places, whose line it needs.

The kernel sees whole numbers only; here each one keeps the unit it is counted in, so
that a degree is never compared with a bar. Nothing here knows a file.
"""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

NO_LINES: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Quantity:
    """A unit and how many decimal places its whole numbers carry."""

    unit: str
    places: int

    def __str__(self) -> str:
        plain = self.unit or "a bare number"
        return f"{plain} with {self.places} places" if self.places else plain

    def whole(self, value: Decimal | int) -> int | None:
        """Give a written value as the whole number; None if it has more places."""
        scaled = Decimal(value).scaleb(self.places)
        return int(scaled) if scaled == scaled.to_integral_value() else None


COUNT = Quantity("", 0)
CHOICE = Quantity("choice", 0)
MILLISECONDS = Quantity("ms", 0)
SHARE = Quantity("of life", 0)


@dataclass(frozen=True, slots=True)
class Value:
    """A value word; `lines` are the steps of which it reads the current line."""

    word: Any
    quantity: Quantity
    lines: frozenset[str] = NO_LINES


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition word; `lines` as for a value."""

    word: Any
    lines: frozenset[str] = NO_LINES


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldShape:
    """A field as expressions see it; `options` are the values of a choice."""

    kind: str
    quantity: Quantity
    item: str = ""
    options: tuple[int, ...] = ()
    low: Decimal | None = None
    high: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepShape:
    """A step as expressions see it; `many`: it has lines or is read repeatedly."""

    fields: dict[str, FieldShape]
    many: bool
    lines_from: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableShape:
    """A table's body and what its arguments and values are counted in."""

    body: dict[str, Any]
    x: Quantity
    y: Quantity | None
    v: Quantity


@dataclass(slots=True)
class LineList:
    """Lines a calculation makes, with the quantities of their numbers."""

    lines: list[dict[str, Any]]
    numbers: dict[str, Quantity] = field(default_factory=dict)

    def number(self, name: str, quantity: Quantity, values: list[int]) -> None:
        """Give every line a number, one value a line in their order."""
        self.numbers[name] = quantity
        for line, value in zip(self.lines, values, strict=True):
            line["numbers"][name] = value
