"""Codes read from a screen and files from anywhere, spoiled: a fault by its name.

Whatever else would be thrown (an error of the engine's, memory without end) fails.
What a parcel gives back is only the bytes it was made of, or nothing.
"""

import json
from random import Random
from typing import Any

import pytest

from tests.fuzz.spoil import (
    as_json,
    bounded,
    seeds,
    spoiled,
    spoiled_bytes,
)
from tests.fuzz.test_entries import SAMPLES
from tests.javascript import JavaScript

PARCELS = "tests/js/parcels.js"
SITE = "tarn"
ROWS = [{"bytes": raw.decode(), "sig": "A" * 86} for raw in SAMPLES]
FAULTS = ("more", "not_a_frame", "too_large", "damaged", "unreadable", "other_site")


@pytest.fixture(scope="module")
def frames(javascript: JavaScript) -> list[str]:
    many = [{**row, "sig": f"{number:086d}"} for number in range(40) for row in ROWS]
    found: list[str] = javascript.call(PARCELS, "framesOfRows", SITE, many)
    assert len(found) > 2
    return found


def test_frames_in_any_order_and_again_give_the_parcel(
    javascript: JavaScript, frames: list[str]
) -> None:
    for seed in seeds(5):
        rng = Random(seed)
        mixed = rng.sample(frames, len(frames)) + frames
        found = javascript.call(PARCELS, "gathered", SITE, mixed)
        assert len(found) == 40 * len(ROWS)
        assert found[:1] == [{"bytes": ROWS[0]["bytes"], "sig": "0" * 86}]


def test_a_spoiled_frame_is_told_and_never_believed(
    javascript: JavaScript, frames: list[str]
) -> None:
    calls: list[tuple[Any, ...]] = []
    for seed in seeds(300):
        rng = Random(seed)
        broken = list(frames)
        place = rng.randrange(len(broken))
        raw = spoiled_bytes(broken[place].encode(), rng)
        broken[place] = raw.decode("utf-8", "replace")
        calls.append((SITE, broken))
    with bounded():
        answers = javascript.each(PARCELS, "gathered", calls)
    for (_, broken), found in zip(calls, answers, strict=True):
        assert found in FAULTS or (isinstance(found, list) and broken), found
    assert sum(found in FAULTS for found in answers) > len(answers) // 2


def test_a_spoiled_file_is_told_or_gives_entries_to_be_judged(
    javascript: JavaScript,
) -> None:
    good = {"format": 1, "site": SITE, "entries": ROWS}
    calls = []
    for seed in seeds(300):
        rng = Random(seed)
        raw = as_json(spoiled(good, rng))
        calls.append((SITE, spoiled_bytes(raw, rng) if rng.random() < 0.5 else raw))
    with bounded():
        answers = javascript.each(PARCELS, "fromFile", calls)
    for found in answers:
        assert found in FAULTS or all(
            set(each) == {"bytes", "sig"} and len(each["bytes"]) <= 65_536
            for each in found
        ), found


def test_a_bomb_of_a_parcel_is_refused_while_it_swells(javascript: JavaScript) -> None:
    text = json.dumps({"format": 1, "site": SITE, "entries": []})
    for filler, times in ((" ", 40_000_000), (text, 300_000)):
        frames = javascript.call(PARCELS, "framesOfText", filler, times)
        with bounded():
            found = javascript.call(PARCELS, "gathered", SITE, frames)
        assert found == "too_large"
