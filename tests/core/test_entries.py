"""Both languages take and refuse the same entries, and name the same field."""

import json
from functools import cache
from random import Random
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import LARGEST_BYTES, EntryError, read_entry
from fieldapp.core.kinds import KINDS
from tests.core.stories import random_case
from tests.javascript import JavaScript

ODD: list[Any] = [
    *(0, -1, 1, True, False, "", "x", "a b", "-x", "toString", "ab" * 32, "AB" * 32),
    *([], ["ab" * 32], ["cd" * 32, "ab" * 32], ["ab" * 32, "ab" * 32], {}, {"a": 1}),
    *(10**12, 10**12 + 1, -(10**12) - 1, 2**47, 2**47 + 1, 2**53 - 1, "pin", "tap"),
    *({"f": 1.0}, {"f": "\U0001f600"}, {"f": "x" * 2001}, {"text": "x", "reason": "y"}),
    *("\U0001f600" * 2000, "\U0001f600" * 2001, "x" * 65, "x" * 64, "use_as_is"),
    *([{"text": "x", "before": "y"}], [{"text": "x"}], [{"text": "x"}] * 21),
    *({"conditions": [{"text": "x", "before": "y"}]}, {"conditions": []}, 1440, -1441),
]
PLACES = (
    *("format", "site", "subject", "sheet", "rules", "kind", "step", "line", "point"),
    *("attempt", "values", "about", "photos", "person", "device", "key", "seq"),
    *("prev", "after", "needs", "at", "at_by", "made", "zone", "session", "mono"),
    *("offset", "shell", "unlocked", "extra", "__proto__", "constructor"),
)


def test_changed_entries_are_judged_alike(javascript: JavaScript) -> None:
    rng = Random(7)
    texts = [_changed(rng) for _ in range(3_000)]
    theirs = javascript.call("tests/js/core_entries.js", "judged", texts)
    ours = [_judged(text) for text in texts]
    assert ours == theirs
    taken = sum(len(answer) == 64 for answer in ours)
    refused = {answer for answer in ours if len(answer) != 64}
    assert taken > 300
    assert len(refused) > 40


def test_an_entry_over_size_is_refused_alike(javascript: JavaScript) -> None:
    text = '"' + "é" * (LARGEST_BYTES // 2) + '"'
    assert _judged(text) == "bytes"
    assert javascript.call("tests/js/core_entries.js", "judged", [text]) == ["bytes"]


def _changed(rng: Random) -> str:
    """Give an entry of a story with one to three fields changed or left out."""
    document = _whole(rng)
    for _ in range(rng.randint(1, 3)):
        place = rng.choice(PLACES)
        where = document
        if rng.random() < 0.4:
            where = document.setdefault(rng.choice(["about", "values"]), {})
            place = rng.choice(["target", "text", "reason", "verdict", "people", "f"])
        if rng.random() < 0.25:
            where.pop(place, None)
        else:
            where[place] = rng.choice([*ODD, rng.choice(list(KINDS))])
        if not isinstance(document.get("about", {}), dict):
            del document["about"]
        if not isinstance(document.get("values", {}), dict):
            del document["values"]
    return _text(document)


def _whole(rng: Random) -> dict[str, Any]:
    entries = _told(rng.randrange(40))
    found: dict[str, Any] = json.loads(rng.choice(entries)) if entries else {}
    return found


@cache
def _told(seed: int) -> tuple[str, ...]:
    return tuple(random_case(seed).entries)


def _text(document: dict[str, Any]) -> str:
    try:
        return canonical(document).decode()
    except ValueError:
        return "not canonical"


def _judged(text: str) -> str:
    """Give the id of what is taken, or the field that is refused."""
    try:
        return read_entry(text.encode()).id
    except EntryError as fault:
        return fault.where
