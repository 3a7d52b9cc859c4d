"""What an expression asks of the world, told from its words alone.

Answers may then be shared: an expression that asks no more than one line says the
same wherever that line is the same. When in doubt it is said to ask more.
"""

from collections.abc import Iterator
from typing import Any

_INNER = (
    *("constant", "terms", "x", "y", "by", "cases", "otherwise"),
    *("values", "value", "low", "high", "of"),
)
_ON_A_LINE = frozenset({"reading", "field", "constant", "life"})
_NEEDED = {
    "form": ("constant", "terms"),
    "table": ("x", "y"),
    "choose": ("by",),
    "reduce": ("values",),
    "between": ("value", "low", "high"),
    "in": ("value",),
    "all": ("of",),
}
"""What must be known before a word can be, or in a condition be true."""
_BEYOND_LINES = frozenset({"elapsed", "life", "reached"})


class Asks:
    """Reads the expressions of one sheet, the named ones too, without asking them."""

    def __init__(self, sheet: dict[str, Any]) -> None:
        """Take a sheet."""
        self._named = (sheet.get("values", {}), sheet.get("conditions", {}))
        self._by_line: dict[str, bool] = {}

    def by_line(self, body: Any) -> bool:
        """Say whether an expression means another thing on each line."""
        if not isinstance(body, str):
            return self._asks_by_line(body)
        if body not in self._by_line:
            # A name within itself adds nothing; the kernel refuses such a sheet.
            self._by_line[body] = False
            self._by_line[body] = any(
                self._asks_by_line(named.get(body)) for named in self._named
            )
        return self._by_line[body]

    def _asks_by_line(self, body: Any) -> bool:
        if isinstance(body, str):
            return self.by_line(body)
        if isinstance(body, list):
            return any(map(self._asks_by_line, body))
        if not isinstance(body, dict):
            return False
        if body.get("word") in _ON_A_LINE and "line" not in body:
            return True
        inner = () if _over_lines(body) else _inner(body)
        return any(map(self._asks_by_line, inner))

    def only_line(self, body: Any, step: str) -> bool:
        """Say whether an expression, on a line of a step, asks that line alone."""
        return all(
            word.get("step", step) == step
            and "line" not in word
            and word.get("word") not in _BEYOND_LINES
            and not _over_lines(word)
            for word in self._words(body, set())
        )

    def steps(self, body: Any) -> frozenset[str] | None:
        """Give the steps whose lines an expression asks; None if it asks more."""
        words = list(self._words(body, set()))
        if any(word.get("word") in _BEYOND_LINES for word in words):
            return None
        return frozenset(word["step"] for word in words if "step" in word)

    @staticmethod
    def remembered(key: str, body: Any, by_line: bool) -> Any:
        """Give an expression's function as one that answers once in a scene or line."""

        def ask(at: Any, line: str) -> Any:
            memo, place = at.memo, (key, line if by_line else "")
            if place in memo:
                return memo[place]
            found = memo[place] = body(at, line)
            return found

        return ask

    def needed(self, body: Any) -> Iterator[dict[str, Any]]:
        """Give the folds over lines that must find a line before a test can be true.

        body: a CONDITION the kernel could read (so no name refers to itself).
        """
        return self._needed(body, self._named[1])

    def _needed(self, body: Any, named: dict[str, Any]) -> Iterator[dict[str, Any]]:
        if isinstance(body, str):
            yield from self._needed(named[body], named)
        elif isinstance(body, list):
            for each in body:
                yield from self._needed(each, named)
        elif isinstance(body, dict) and _over_lines(body) and "values" not in body:
            if body.get("how") not in ("sum", "count"):
                yield body
        elif isinstance(body, dict):
            inner = named if body.get("word") == "all" else self._named[0]
            for key in _NEEDED.get(body.get("word", ""), ()):
                yield from self._needed(body.get(key), inner)

    def _words(self, body: Any, seen: set[str]) -> Iterator[dict[str, Any]]:
        """Give every word of an expression; what a name stands for, once."""
        inner: list[Any] = []
        if isinstance(body, str) and body not in seen:
            inner = [named.get(body) for named in self._named]
            seen.add(body)
        elif isinstance(body, list):
            inner = body
        elif isinstance(body, dict):
            yield body
            inner = _inner(body)
        for each in inner:
            yield from self._words(each, seen)


def _inner(word: dict[str, Any]) -> list[Any]:
    return [word[key] for key in _INNER if key in word]


def _over_lines(word: dict[str, Any]) -> bool:
    return word.get("word") == "slope" or (
        word.get("word") == "reduce" and "step" in word
    )
