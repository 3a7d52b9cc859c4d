"""Registering in a story: a wrong certificate reaches a phone that was away."""

import tomllib
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.play.player import Player
from fieldapp.play.story import story_of
from fieldapp.store.database import connected
from tests.gauges import PERSON, with_gauge
from tests.people import Stage, put_in_force, stage


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Stage]:
    made = stage(tmp_path)
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, with_gauge(), with_gauge("J2"), people=[PERSON])
        yield made


STORY = """
subject = "J1"
start = 2026-05-28T20:26:40Z
[people]
ida = { person = "ida", phone = "gang" }
sif = { person = "sif", phone = "shed" }
[story]
lines = [
  { who = "ida", do = "done", step = "wipe", values = { temp = 9.5, gauge = "g1" } },
  { expect = { nonconformances = [], "steps.wipe.status" = "done" } },
  { subject = "J2", expect = { nonconformances = [] } },
  { phone = "gang", online = false },
  { who = "sif", do = "registered", item = "g1", replaces = true, reason = "misread",
    values = { zero = 9 } },
  { subject = "J2", who = "ida", do = "done", step = "wipe",
    values = { temp = 9.5, gauge = "g1" } },
  { expect = { nonconformances = ["gauge"] } },
  { subject = "J2", expect = { nonconformances = [] } },
  { phone = "gang", online = true },
  { subject = "J2", expect = { nonconformances = ["gauge"] } },
]
"""


def test_a_play_shows_a_wrong_certificate_reach_a_phone_that_was_away(
    site: Stage,
) -> None:
    # TOML wants a line's map on one line.
    told = story_of(tomllib.loads(STORY.replace(",\n    ", ", "), parse_float=Decimal))
    player = Player(world=site.world, reader=site.wired.reader, story=told)
    lines = list(player.play())
    assert player.faults == []
    assert any("nonconformance gauge wipe" in line for line in lines)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ('item = "g9"', "kind: found nothing"),
        ('label = "x"', "item: found nothing"),
        ('item = "g9", kind = "gauge", label = "x", replaces = true', "no g9"),
        ('item = "g1", values = { zero = 1.5 }', "a whole number"),
        ('item = "g1", expires = 2026-05-28T20:26:40', "a moment with its zone"),
    ],
)
def test_a_certificate_that_cannot_be_read_stops_the_play(
    site: Stage, line: str, words: str
) -> None:
    head = STORY[: STORY.index("lines = [")]
    text = f'{head}lines = [{{ who = "sif", do = "registered", {line} }}]'
    told = story_of(tomllib.loads(text, parse_float=Decimal))
    player = Player(world=site.world, reader=site.wired.reader, story=told)
    with pytest.raises(ValueError, match=words):
        list(player.play())
