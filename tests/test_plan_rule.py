"""The rule of who signs a plan is changed only by those whom it asks."""

from pathlib import Path

import pytest

from fieldapp.config import open_door, reader_of
from fieldapp.intake.door import Door
from fieldapp.lookups.plans import plan_that_is_signed, plan_that_waits
from fieldapp.lookups.reading import sheet_of
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.world import World
from fieldapp.store.database import connected
from tests.plan.sample import copied, spoil
from tests.test_plan_signing import (
    CHECKER,
    ENGINEER,
    NOW,
    OWNER,
    load,
    sign,
    unsigned,
)


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Give a small copy of the sample site, to be revised."""
    return copied(tmp_path / "site")


@pytest.fixture
def door(tmp_path: Path) -> Door:
    """Give the door of an empty data folder."""
    return open_door(tmp_path / "data")


def loaded_and_signed(door: Door, site: Path) -> World:
    """Put the plan in force by its three signatures."""
    load(door, site)
    list(sign_waiting_plan(World(door=door), NOW))
    return World(door=door)


def test_the_signatures_are_dropped_only_by_those_who_give_them(
    door: Door, site: Path
) -> None:
    with connected(door.store):
        reader, world = reader_of(door), loaded_and_signed(door, site)
        unsigned(site)
        spoil(site, "plan/bars_out.toml", "Temporary bars", "Bars for a time")
        in_hand = sheet_of(reader, "x-w1")
        said = load(door, site, NOW + 1)
        assert "waits to be signed: prepared, checked, approved" in said[1]
        assert said[2] == (
            "  it drops the signatures of a plan: the plan in force asks for these"
            " three first"
        )
        waiting = plan_that_waits(reader)
        assert waiting is not None
        assert waiting.rule == {}
        assert sheet_of(reader, "x-w1") is in_hand
        prepared = sign(world, ENGINEER, "prepared")
        checked = sign(world, CHECKER, "checked", prepared)
        assert sheet_of(reader, "x-w1") is in_hand
        sign(world, OWNER, "approved", prepared, checked)
        now_in_hand = sheet_of(reader, "x-w1")
        assert now_in_hand is not None
        assert now_in_hand.hash == waiting.sheets["x-w1"]
        # Those who signed are told as long as these files are in force.
        assert load(door, site, NOW + 2)[1:] == ["  the plan is signed"]
        spoil(site, "site.toml", "revision = 1", "revision = 2")
        assert "asks for no signature" in load(door, site, NOW + 3)[1]
        assert plan_that_is_signed(reader) is None


def test_who_signs_is_changed_by_those_who_sign_and_then_by_the_others_too(
    door: Door, site: Path
) -> None:
    with connected(door.store):
        reader, world = reader_of(door), loaded_and_signed(door, site)
        first = plan_that_is_signed(reader)
        assert first is not None
        old = 'approved = [{ role = "owners-engineer", organisation = ["tisk-board"] }]'
        spoil(site, "site.toml", old, 'approved = [{ role = "inspector" }]')
        assert "it changes who signs a plan" in load(door, site, NOW + 1)[2]
        # An inspector alone, whom only the new rule asks, lets nothing out.
        prepared = sign(world, ENGINEER, "prepared")
        checked = sign(world, CHECKER, "checked", prepared)
        sign(world, "leofric", "approved", prepared, checked)
        waiting = plan_that_waits(reader)
        assert waiting is not None
        assert waiting.waits_for is not None
        assert waiting.waits_for.wanted[0]["role"] == "owners-engineer"
        assert plan_that_is_signed(reader) == first
        # The inspector has signed too: what both rules ask stands under one plan.
        sign(world, OWNER, "approved", prepared, checked)
        changed = plan_that_is_signed(reader)
        assert changed is not None
        assert changed.hash == waiting.hash
        assert plan_that_waits(reader) is None
        assert load(door, site, NOW + 2)[1:] == ["  the plan is signed"]
        # Back again: now the inspector is asked, and whom the files name after that.
        spoil(site, "site.toml", 'approved = [{ role = "inspector" }]', old)
        spoil(site, "site.toml", "revision = 1", "revision = 2")
        load(door, site, NOW + 3)
        list(sign_waiting_plan(World(door=door), NOW + 4))
        assert plan_that_is_signed(reader) == changed
        again = plan_that_waits(reader)
        assert again is not None
        assert (again.revision, again.rule) == (2, None)
        assert load(door, site, NOW + 5)[1].startswith(f"  plan {again.hash[:12]}")
        list(sign_waiting_plan(World(door=door), NOW + 6))
        back = plan_that_is_signed(reader)
        assert back is not None
        assert back.hash == again.hash
