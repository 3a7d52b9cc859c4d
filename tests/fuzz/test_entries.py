"""Entries, spoiled: Python and JavaScript read or refuse the same bytes alike."""

import json
from random import Random

from fieldapp.core.canonical import NotCanonical, canonical
from fieldapp.core.entries import EntryError, read_entry
from fieldapp.play.phone import Phone
from tests.fuzz.spoil import bounded, seeds, spoiled, spoiled_bytes
from tests.javascript import JavaScript
from tests.people import FOREMAN, INSPECTOR, NOON, SITE, SUBJECT, wiped

JUDGE = "tests/js/core_entries.js"


def samples() -> list[bytes]:
    """Sign one of each of some kinds."""
    pen = Phone(device="gang", site=SITE, started_ms=NOON)
    target = wiped(pen).id
    about = {"target": target, "reason": "misread"}
    pen.write("correction", person=FOREMAN, now=NOON, subject=SUBJECT, step="wipe",
              values={"temp": 3}, about=about)  # fmt: skip
    unlike = {"conditions": [{"text": "later", "before": "mix"}], "unseen": ["a"]}
    pen.write(
        "release", person=INSPECTOR, now=NOON, subject=SUBJECT, point="go", about=unlike
    )
    pen.write("note", person=FOREMAN, now=NOON, subject=SUBJECT, about={"text": "ü ✓"})
    return [signed.body.encode() for signed in pen.outbox]


def test_both_languages_take_and_refuse_the_same_bytes(javascript: JavaScript) -> None:
    texts = [text for seed in seeds(1_500) if (text := _text(Random(seed))) is not None]
    with bounded():
        here = [_judged(text) for text in texts]
        there = javascript.call(JUDGE, "judged", texts)
    unlike = [
        (mine, other, text[:300])
        for mine, other, text in zip(here, there, texts, strict=True)
        if mine != other
    ]
    assert unlike == []
    taken = sum(len(each) == 64 for each in here)
    assert 0 < taken < len(here)


def _text(rng: Random) -> str | None:
    good = rng.choice(SAMPLES)
    if rng.random() < 0.4:
        raw = spoiled_bytes(good, rng)
    else:
        try:
            raw = canonical(spoiled(json.loads(good), rng))
        except (NotCanonical, RecursionError):
            return None
    try:
        return raw.decode()
    except UnicodeDecodeError:
        return None


def _judged(text: str) -> str:
    try:
        return read_entry(text.encode()).id
    except EntryError as refused:
        told = refused
    assert told.allowed in str(told)
    assert len(str(told)) < 1_000
    return told.where


SAMPLES = samples()
