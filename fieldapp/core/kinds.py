"""The closed list of entry kinds, read once from `kinds.json` (both languages do)."""

import json
from importlib.resources import files
from typing import Any

KINDS: dict[str, dict[str, Any]] = json.loads(
    files("fieldapp.core").joinpath("kinds.json").read_text("utf-8")
)
READINGS = frozenset({"done", "copied", "anyway"})
"""Kinds that state what was read or done at a step."""
VERDICTS = ("use_as_is", "repair", "rework", "reject")
"""Dispositions, from the mildest to the strictest (words as ISO 9000 uses them)."""


def needs_pin(kind: str) -> bool:
    """Say whether an entry of this kind counts only when a PIN unlocked the key."""
    return bool(KINDS.get(kind, {}).get("pin", False))
