"""Stores on the gang's phone: who they are, what they do on the register's screen."""

import json
from typing import Any

from tests.phone.gang import Gang

STORES, STORES_PIN = "sunniva", "907351"
POINTS = [("50", "71,2"), ("100", "145,1"), ("150", "218,6"), ("200", "292,3")]
"""Of a jack's certificate, as they are typed: bar and kN."""


def go(gang: Gang, route: str) -> None:
    """Go to a screen by its address."""
    gang.phone.page.evaluate("(to) => { location.hash = `#${to}`; }", route)


def shift(gang: Gang, person: str, pin: str) -> None:
    """Start somebody's shift."""
    go(gang, "/people")
    gang.phone.start_shift(person, pin)


def write(gang: Gang, text: str) -> None:
    """Write what a form asks for in words, and go on."""
    gang.phone.page.fill("#dock textarea", text)
    gang.save()


def entered(gang: Gang) -> dict[str, Any]:
    """Give what stores registered last, as it was signed."""
    rows = gang.phone.storage("entries")
    mine = [json.loads(row["bytes"]) for row in rows if row.get("mine")]
    found = [each for each in mine if each["kind"] == "registered"]
    return max(found, key=lambda each: int(each["seq"]))
