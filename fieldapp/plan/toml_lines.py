"""Finds the line on which each key of a TOML text stands.

The standard reader gives values without lines; a fault needs one. The text must
already have been read without error: this scanner walks it again and checks nothing.
"""

import json
import re
from bisect import bisect_right

Path = tuple[str | int, ...]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_SCALAR = re.compile(r"[^,\]}#\n]*")
_LONG = {'"""': re.compile(r'(?:[^"\\]|\\[\s\S]|"(?!""))*"{3,5}'),
         "'''": re.compile(r"[\s\S]*?'{3,5}")}  # fmt: skip
_SHORT = {'"': re.compile(r'"(?:[^"\\]|\\.)*"'), "'": re.compile(r"'[^']*'")}


def lines_of(text: str) -> dict[Path, int]:
    """Give the line, from 1, of every table, key and array element by its path."""
    scanner = _Scanner(text)
    scanner.document()
    return scanner.lines


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {(): 1}
        self._counts: dict[Path, int] = {}
        self._starts = [0, *(m.end() for m in re.finditer("\n", text))]

    def document(self) -> None:
        base: Path = ()
        while self._skip(_BLANK) and self.at < len(self.text):
            if self.text.startswith("[[", self.at):
                base = self._header(2)
            elif self.text[self.at] == "[":
                base = self._header(1)
            else:
                self._pair(base)

    def _header(self, brackets: int) -> Path:
        self.at += brackets
        start, keys = self.at, self._keys()
        self.at += brackets
        path: Path = ()
        for key in keys[:-1]:
            path = self._within((*path, key))
        path = (*path, keys[-1])
        if brackets == 2:
            self._counts[path] = self._counts.get(path, 0) + 1
        path = self._within(path)
        for length in range(1, len(path) + 1):
            self._mark(path[:length], start)
        return path

    def _within(self, path: Path) -> Path:
        """Step into the last table of an array of tables."""
        return (*path, self._counts[path] - 1) if path in self._counts else path

    def _pair(self, base: Path) -> None:
        start, keys = self.at, self._keys()
        self.at += 1
        for length in range(1, len(keys) + 1):
            self._mark((*base, *keys[:length]), start)
        self._value((*base, *keys))

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            keys.append(self._key())
            self._skip(_SPACE)
            if self.text[self.at] != ".":
                return keys
            self.at += 1

    def _key(self) -> str:
        quote = self.text[self.at]
        if quote not in _SHORT:
            return self._take(_BARE)
        raw = self._take(_SHORT[quote])
        return str(json.loads(raw)) if quote == '"' else raw[1:-1]

    def _value(self, path: Path) -> None:
        self._skip(_SPACE)
        sign, three = self.text[self.at], self.text[self.at : self.at + 3]
        if three in _LONG:
            self.at += 3
            self._take(_LONG[three])
        elif sign in _SHORT:
            self._take(_SHORT[sign])
        elif sign == "[":
            self._array(path)
        elif sign == "{":
            self._inline(path)
        else:
            self._take(_SCALAR)

    def _array(self, path: Path) -> None:
        self.at += 1
        index = 0
        while self._skip(_BLANK) and self.text[self.at] != "]":
            self._mark((*path, index), self.at)
            self._value((*path, index))
            index += 1
            self._skip(_BLANK)
            self.at += self.text[self.at] == ","
        self.at += 1

    def _inline(self, path: Path) -> None:
        self.at += 1
        while self._skip(_BLANK) and self.text[self.at] != "}":
            self._pair(path)
            self._skip(_BLANK)
            self.at += self.text[self.at] == ","
        self.at += 1

    def _mark(self, path: Path, at: int) -> None:
        self.lines.setdefault(path, bisect_right(self._starts, at))

    def _skip(self, pattern: re.Pattern[str]) -> bool:
        self._take(pattern)
        return True

    def _take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise ValueError(f"no TOML at character {self.at}")
        self.at = match.end()
        return match[0]
