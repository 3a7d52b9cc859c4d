"""A rule's no: a value with a code of `words.json` and the facts its words need."""

from typing import Any

Refusal = dict[str, Any]


def refusal(code: str, **facts: str | int) -> Refusal:
    """Give a rule's no."""
    return {"code": code, "facts": facts}
