"""The one way a calculation says no: the key, the value, and what is allowed.

Every refusal of this package is a CalcRefusal, so that the command, the desk's
forms and the compiler can all say the same thing. Nothing here decides anything.
"""

from typing import Any

SHOWN_LENGTH = 80
SHOWN_DEPTH = 8


class Missing:
    """Stands for the value of a key that was not given."""

    def __repr__(self) -> str:
        return "missing"


MISSING = Missing()


class CalcRefusal(ValueError):
    """An input no calculation may use: which key, its value, what is allowed."""

    def __init__(self, key: str, value: Any, allowed: str) -> None:
        named = key if 0 < len(key) <= SHOWN_LENGTH else shown(key)
        super().__init__(f"{named} is {shown(value)}; allowed: {allowed}")
        self.key = key
        self.value = value
        self.allowed = allowed


class OutOfTable(CalcRefusal):
    """A value outside a certified table or a stated range."""

    def __init__(self, quantity: str, value: float, low: float, high: float) -> None:
        super().__init__(quantity, value, f"from {low:g} to {high:g}")
        self.quantity = quantity
        self.low = low
        self.high = high


def shown(value: Any) -> str:
    """The value as its sender wrote it, cut where it is long."""
    text = _written(value)
    return text if len(text) <= SHOWN_LENGTH else text[: SHOWN_LENGTH - 1] + "…"


def _written(value: Any, depth: int = SHOWN_DEPTH) -> str:
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, float):
        names = {"nan": "NaN", "inf": "Infinity", "-inf": "-Infinity"}
        return names.get(repr(value), repr(value).removesuffix(".0"))
    if not isinstance(value, list | tuple | dict):
        return repr(value)
    if depth == 0:
        return "…"
    if isinstance(value, dict):
        parts = (f"{key!r}: {_written(value[key], depth - 1)}" for key in value)
        return f"{{{', '.join(parts)}}}"
    return f"[{', '.join(_written(part, depth - 1) for part in value)}]"
