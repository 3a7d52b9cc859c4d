"""The words of refusals, flags and verdicts: one file for phone, desk and paper."""

import json
from importlib.resources import files
from typing import Any

WORDS: dict[str, dict[str, Any]] = json.loads(
    files("fieldapp.core").joinpath("words.json").read_text("utf-8")
)


def say(code: str, facts: dict[str, Any]) -> str:
    """Put a code and its facts into words; an unknown code is shown as it is."""
    text: str = WORDS.get(code, {"text": code})["text"]
    for name, value in facts.items():
        text = text.replace("{" + name + "}", str(value))
    return text
