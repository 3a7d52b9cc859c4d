"""What a calculation may be given: keys, types, units, signs, and which go together.

One declaration drives the command, the desk's form and the calculation sheet. Reading
either answers with checked values or refuses, naming key, value and what is allowed;
it never mends a value and never fills one in that was not declared as a default.
"""

import math
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from fieldapp.calc.refusals import MISSING, CalcRefusal

ANY_SIGN, ZERO_OR_ABOVE, ABOVE_ZERO = "any sign", "0 or above", "above 0"
# No size of a bridge comes near; beyond it sums would lose their meaning.
GREATEST = 1e12
# Nor does any that must be above zero come near this; below it quotients would.
LEAST = 1e-12
# Unicode's categories: controls, halves of a character, ends of line and paragraph.
UNWRITTEN = ("Cc", "Cs", "Zl", "Zp")


class Kind(Protocol):
    """A type of input: reads a JSON value or refuses it."""

    def read(self, value: Any, key: str) -> Any:
        """The checked value; CalcRefusal where it is not allowed."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A finite number of one unit, its sign ruled, with bounds where they exist."""

    unit: str
    sign: str = ABOVE_ZERO
    low: float | None = None
    high: float | None = None
    whole: bool = False

    def read(self, value: Any, key: str) -> float | int:
        """The number as a float, or as an int where it must be whole."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise CalcRefusal(key, value, self.allowed())
        if self.high is None and math.inf > abs(value) > GREATEST:
            raise CalcRefusal(key, value, f"{self.allowed()}, at most {GREATEST:g}")
        if self.sign == ABOVE_ZERO and 0 < value < LEAST:
            raise CalcRefusal(key, value, f"{self.allowed()}, at least {LEAST:g}")
        if not self._within(value):
            raise CalcRefusal(key, value, self.allowed())
        # A zero has no sign on paper: -0.0 becomes 0.0.
        return int(value) if self.whole else float(value) + 0.0

    def allowed(self) -> str:
        """What may stand here, in words."""
        noun = "a whole number" if self.whole else "a finite number"
        if self.low is not None and self.high is not None:
            bounds = f" from {self.low:g} to {self.high:g}"
        else:
            bounds = "" if self.sign == ANY_SIGN else f", {self.sign}"
            bounds += f" and up to {self.high:g}" if self.high is not None else ""
        return f"{noun}{bounds} {self.unit}".rstrip()

    def _within(self, value: float) -> bool:
        # An int may be too long for a float: bounds first.
        top = GREATEST if self.high is None else self.high
        if not -max(GREATEST, top) <= value <= top:
            return False
        if self.whole and value != int(value):
            return False
        if self.sign == ABOVE_ZERO and value <= 0:
            return False
        if self.sign == ZERO_OR_ABOVE and value < 0:
            return False
        return self.low is None or value >= self.low


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A name in words, in one line, not empty."""

    longest: int = 80

    def read(self, value: Any, key: str) -> str:
        """The text as it was given."""
        if not isinstance(value, str) or not 0 < len(value.strip()) <= self.longest:
            allowed = f"a text of 1 to {self.longest} characters"
            raise CalcRefusal(key, value, allowed)
        if not in_one_line(value):
            raise CalcRefusal(key, value, "a text in one line, every character a sign")
        return value


def in_one_line(text: str) -> bool:
    """Whether a text can be written as it is: no line ends, controls, half characters.

    They would break the lines of a sheet, or steer the screen it is read on.
    """
    return not any(unicodedata.category(sign) in UNWRITTEN for sign in text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One of a few values."""

    options: tuple[str | int, ...]

    def read(self, value: Any, key: str) -> str | int:
        """The option that was given."""
        for option in self.options:
            if not isinstance(value, bool) and value == option:
                return option
        allowed = "one of " + ", ".join(str(option) for option in self.options)
        raise CalcRefusal(key, value, allowed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A short list with a fixed place for each number, such as [temp_c, life_min]."""

    names: tuple[str, ...]
    numbers: tuple[Number, ...]

    def read(self, value: Any, key: str) -> tuple[float, ...]:
        """The numbers in their places."""
        if not isinstance(value, list | tuple) or len(value) != len(self.names):
            raise CalcRefusal(key, value, f"[{', '.join(self.names)}]")
        return tuple(
            number.read(part, f"{key}.{name}")
            for name, number, part in zip(self.names, self.numbers, value, strict=True)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ListOf:
    """A list of things of one kind, with the fewest and the most there may be."""

    item: Kind
    fewest: int = 1
    most: int = 10_000

    def read(self, value: Any, key: str) -> tuple[Any, ...]:
        """The things in their order."""
        if not isinstance(value, list | tuple):
            raise CalcRefusal(key, value, "a list")
        if not self.fewest <= len(value) <= self.most:
            allowed = f"a list of {self.fewest} to {self.most}"
            raise CalcRefusal(key, value, allowed)
        return tuple(
            self.item.read(part, f"{key}[{index}]") for index, part in enumerate(value)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One key: what it means, its kind, and its default where it may be left out.

    `proof` names the paper the value should be taken from.
    """

    key: str
    kind: Kind
    what: str
    proof: str = ""
    optional: bool = False
    default: Any = None
    default_source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """An object with known keys and no others."""

    fields: tuple[Field, ...]

    def read(self, value: Any, key: str) -> dict[str, Any]:
        """Every declared key with its value or default."""
        if not isinstance(value, Mapping):
            raise CalcRefusal(key or "input", value, "an object of keys and values")
        known = {field.key for field in self.fields}
        for given in value:
            if given not in known:
                allowed = "no such key; known are " + ", ".join(sorted(known))
                raise CalcRefusal(_inside(key, given), value[given], allowed)
        return {field.key: self._one(field, value, key) for field in self.fields}

    def _one(self, field: Field, value: Mapping[str, Any], key: str) -> Any:
        if field.key in value:
            return field.kind.read(value[field.key], _inside(key, field.key))
        if field.optional:
            return field.default
        allowed = f"{field.what}, which is needed"
        raise CalcRefusal(_inside(key, field.key), MISSING, allowed)


def exactly_one(given: Mapping[str, Any], *choices: Sequence[str]) -> None:
    """Of several ways to say a thing, each of one or more keys, one and no more."""
    at_most_one(given, *choices)
    wanted = "; or ".join(" with ".join(keys) for keys in choices)
    if not any(_given(given, keys) for keys in choices):
        raise CalcRefusal(choices[0][0], MISSING, wanted)
    for keys in choices:
        all_or_none(given, keys)


def at_most_one(given: Mapping[str, Any], *choices: Sequence[str]) -> None:
    """Of several ways to say a thing, one or none."""
    used = [keys for keys in choices if _given(given, keys)]
    if len(used) > 1:
        first, second = _given(given, used[0])[0], _given(given, used[1])[0]
        raise CalcRefusal(second, given[second], f"not together with {first}")


def all_or_none(given: Mapping[str, Any], keys: Sequence[str]) -> None:
    """Keys that mean something only together."""
    present = _given(given, keys)
    for key in keys:
        if present and key not in present:
            raise CalcRefusal(key, MISSING, f"given together with {present[0]}")


def only_with(given: Mapping[str, Any], key: str, other: str) -> None:
    """A key that means something only beside another."""
    if key in given and other not in given:
        raise CalcRefusal(key, given[key], f"only together with {other}")


def _given(given: Mapping[str, Any], keys: Sequence[str]) -> list[str]:
    return [key for key in keys if key in given]


def _inside(key: str, name: str) -> str:
    return f"{key}.{name}" if key else str(name)
