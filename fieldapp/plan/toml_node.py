"""A place in a TOML file that can be asked for values and reports what is wrong.

Each question returns something usable even when the file is wrong, so that reading
goes on and every fault is found. What is never asked for is reported as unknown.
"""

import re
import tomllib
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path as FilePath
from typing import Any

from fieldapp.plan.faults import MISSING, Faults
from fieldapp.plan.toml_lines import Path, lines_of

ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
ID_ALLOWED = "a letter or digit, then letters, digits, _ or -, at most 64"
LARGEST = 2**53 - 1
MOST = Decimal(10**12)
MOST_PLACES = 12
DEEPEST = 60


@dataclass(frozen=True, slots=True)
class TomlFile:
    """What all places of one file share; `broken`: it could not be read at all."""

    name: str
    text: str
    faults: Faults
    broken: bool = False
    asked: dict[Path, set[str]] = field(default_factory=dict)
    _lines: dict[Path, int] = field(default_factory=dict, init=False)

    def line_of(self, path: Path) -> int:
        """Give the line of a place, or of the nearest around it that is written.

        Lines are looked for when the first fault is told: most files have none.
        """
        if not self._lines:
            self._lines.update(lines_of(self.text))
        while path not in self._lines:
            path = path[:-1]
        return self._lines[path]


@dataclass(slots=True, eq=False)
class Node:
    """A value in a TOML file, with its path; `value` may be `MISSING`.

    Never changed. Not frozen, as a large site makes a million of them.
    """

    source: TomlFile
    path: Path
    value: Any
    _asked: set[str] | None = field(default=None, init=False, repr=False)

    def __contains__(self, key: str) -> bool:
        return isinstance(self.value, dict) and key in self.value

    @property
    def given(self) -> bool:
        """Whether anything stands here at all."""
        return self.value is not MISSING

    @property
    def where(self) -> str:
        """The path as a person reads it: steps.faces.fields[2].low."""
        text = ""
        for part in self.path:
            text += f"[{part + 1}]" if isinstance(part, int) else f".{part}"
        return text.lstrip(".")

    @property
    def too_deep(self) -> bool:
        """Whether this lies deeper than anybody can follow; reported if so."""
        if len(self.path) > DEEPEST:
            self.fault(f"at most {DEEPEST} tables and lists in one another")
        return len(self.path) > DEEPEST

    def lacks(self, allowed: str, file: str) -> None:
        """Report that this names nothing of a file, unless that file is faulty."""
        if self.source.faults.touch(file):
            self.source.faults.spare()
        else:
            self.fault(allowed)

    def fault(self, allowed: str, found: object = None) -> None:
        """Report this place; `found` is its value unless told otherwise."""
        if self.source.broken:
            self.source.faults.spare()
            return
        what = self.value if found is None else found
        if isinstance(what, dict | list):
            what = "a table" if isinstance(what, dict) else "a list"
        line = self.source.line_of(self.path)
        self.source.faults.add(self.source.name, line, self.where, what, allowed)

    def child(self, key: str) -> "Node":
        """Go to a key of this table; its value is `MISSING` where it is not there."""
        if self._asked is None:
            self._asked = self.source.asked.setdefault(self.path, set())
        self._asked.add(key)
        table = self.value
        value = table.get(key, MISSING) if isinstance(table, dict) else MISSING
        return Node(self.source, (*self.path, key), value)

    def text(self, key: str, need: bool = True) -> str:
        """Give a text without line breaks at its ends; "" where there is none."""
        node = self.child(key)
        if not node.given and not need:
            return ""
        if isinstance(node.value, str) and node.value.strip():
            return node.value.strip()
        node.fault("text")
        return ""

    def identity(self, key: str) -> str:
        """Give an id; "" where there is none."""
        return as_id(self.child(key))

    def one_of(self, key: str, allowed: tuple[str, ...], default: str = "") -> str:
        """Give one of a few words; "" where it is none of them."""
        node = self.child(key)
        if not node.given and default:
            return default
        if node.value in allowed:
            return str(node.value)
        node.fault("one of " + ", ".join(allowed))
        return ""

    def flag(self, key: str, default: bool = False) -> bool:
        """Give true or false."""
        node = self.child(key)
        if isinstance(node.value, bool):
            return node.value
        if node.given:
            node.fault("true or false")
        return default

    def whole(self, key: str, low: int, high: int, default: int | None = None) -> int:
        """Give a whole number within a range, or the default where none is given."""
        node = self.child(key)
        if not node.given and default is not None:
            return default
        value = node.value
        plain = isinstance(value, int) and not isinstance(value, bool)
        if plain and low <= value <= high:
            return int(value)
        node.fault(f"a whole number from {low} to {high}")
        return low

    def decimal(
        self, key: str, low: Decimal, high: Decimal, default: Decimal | None = None
    ) -> Decimal:
        """Give a number within a range, exactly as written."""
        node = self.child(key)
        if not node.given and default is not None:
            return default
        value = as_decimal(node)
        if value is not None and not low <= value <= high:
            node.fault(f"a number from {low} to {high}")
            value = None
        return low if value is None else value

    def items(self, key: str, need: bool = True) -> list["Node"]:
        """Give the elements of a list."""
        node = self.child(key)
        if not node.given and not need:
            return []
        if not isinstance(node.value, list):
            node.fault("a list")
            return []
        return list(node.elements())

    def elements(self) -> Iterator["Node"]:
        """Give the elements of this list; none where it is not a list."""
        for index, value in enumerate(
            self.value if isinstance(self.value, list) else ()
        ):
            yield Node(self.source, (*self.path, index), value)

    def ids(self, key: str, need: bool = True) -> list[str]:
        """Give a list of ids, each once."""
        found: list[str] = []
        for node in self.items(key, need):
            name = as_id(node)
            if name in found:
                node.fault("each id once")
            elif name:
                found.append(name)
        return found

    def named(self, key: str, need: bool = True) -> list[tuple[str, "Node"]]:
        """Give the tables named within a table, in the order of the file."""
        node = self.child(key)
        if not node.given and not need:
            return []
        if not isinstance(node.value, dict):
            node.fault("a table of named tables")
            return []
        found = []
        for name in node.value:
            place = node.child(name)
            if ID.fullmatch(name) is None:
                place.fault(ID_ALLOWED, name)
            found.append((name, place))
        return found

    def finish(self) -> None:
        """Report every key here that nobody asked for."""
        if not isinstance(self.value, dict):
            self.fault("a table")
            return
        asked = self.source.asked.get(self.path, set())
        for key in self.value:
            if key not in asked:
                place = Node(self.source, (*self.path, key), key)
                place.fault("one of " + ", ".join(sorted(asked)))


def as_id(node: Node) -> str:
    """Give a place's value as an id; "" where it is none."""
    if isinstance(node.value, str) and ID.fullmatch(node.value):
        return node.value
    node.fault(ID_ALLOWED)
    return ""


def as_decimal(node: Node) -> Decimal | None:
    """Give a place's value as an exact number; None where it is none."""
    value = node.value
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) <= MOST:
        return Decimal(value)
    finite = isinstance(value, Decimal) and value.is_finite() and abs(value) <= MOST
    if finite and value == round(value, MOST_PLACES):
        return Decimal(value)
    node.fault(f"a number up to {MOST}, with at most {MOST_PLACES} decimal places")
    return None


def report_repeats(nodes: list[Node], key: str = "id") -> None:
    """Report every table of a list whose id an earlier one has."""
    seen: set[Any] = set()
    for node in nodes:
        place = node.child(key)
        if isinstance(place.value, str) and place.value in seen:
            place.fault(f"each {key} once")
        seen.add(place.value if isinstance(place.value, str) else None)


def read_toml(folder: FilePath, name: str, faults: Faults) -> Node:
    """Read a TOML file of a site's folder; an empty table where it cannot be read."""
    source = TomlFile(name, "", faults, broken=True)
    text = _text_of(folder / name, name, faults)
    if text is None:
        return Node(source, (), {})
    try:
        value = tomllib.loads(text, parse_float=Decimal)
    except (ValueError, RecursionError) as fault:
        line = re.search(r"at line (\d+)", str(fault))
        number = int(line[1]) if line else text.count("\n") + 1
        faults.add(name, number, "", str(fault), "TOML 1.0")
        return Node(source, (), {})
    return Node(TomlFile(name, text, faults), (), value)


def _text_of(path: FilePath, name: str, faults: Faults) -> str | None:
    try:
        text = path.read_text("utf-8-sig").replace("\r\n", "\n")
        return unicodedata.normalize("NFC", text)
    except OSError as fault:
        faults.add(name, 1, "", fault.strerror, "a TOML file that can be read")
    except UnicodeDecodeError:
        faults.add(name, 1, "", "bytes that are not UTF-8", "UTF-8 text")
    return None
