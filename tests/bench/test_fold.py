"""How long a joint of 300 entries takes to fold, in both languages; printed only.

The entries are read beforehand, as they are when they come out of storage; what is
measured is ordering, judging and laying out the state.
"""

import dataclasses
import json
import time
from statistics import median
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import Entry
from fieldapp.core.fold import fold
from tests.core.big_joint import LIFE, big_story
from tests.javascript import JavaScript

TIMES = 60


def test_a_joint_of_300_entries(javascript: JavaScript) -> None:
    story = big_story()
    entries = list(story.entries.values())
    now = {"at": max(entry.made for entry in entries)}
    ours = [_measure(story, entries, now) for _ in range(TIMES)]
    task = {
        "sheet": story.sheet.raw,
        "tables": {story.sheet.raw["tables"]["life"]: LIFE},
        "entries": [canonical(document(entry)).decode() for entry in entries],
        "standing": story.standing(),
        "now": now,
    }
    bench = "tests/js/core_bench.js"
    theirs = javascript.call(bench, "measure", json.dumps(task), TIMES)
    state = fold(story.sheet, entries, story.standing(), now)
    assert javascript.call(bench, "state", json.dumps(task)) == state
    print(f"\nfold of {len(entries)} entries, median of {TIMES} (least, first), ms:")
    for name, times in (("Python", ours), ("JavaScript", theirs)):
        print(f"  {name:10} {median(times):.2f} ({min(times):.2f}, {times[0]:.2f})")


def document(entry: Entry) -> dict[str, Any]:
    """Give the document an entry was read from."""
    known = {
        field.name: getattr(entry, field.name)
        for field in dataclasses.fields(entry)
        if field.name != "id"
    }
    lists = {"after", "needs", "photos"}
    document = {k: list(v) if k in lists else v for k, v in known.items()}
    empty = [k for k, v in document.items() if k != "after" and v in (None, "", [], {})]
    for name in empty:
        document.pop(name)
    return {"format": 1, **document}


def _measure(story: Any, entries: list[Entry], now: dict[str, Any]) -> float:
    standing = story.standing()
    before = time.perf_counter()
    fold(story.sheet, entries, standing, now)
    return (time.perf_counter() - before) * 1000
