"""Sheets are issued when their plan is prepared, checked and approved, not before."""

import json
from pathlib import Path

import pytest

from fieldapp.commands import CommandFault
from fieldapp.commands.issue import ordered
from fieldapp.commands.load import compiled_site, put_in_force
from fieldapp.commands.record import must_be_issued
from fieldapp.config import open_door, reader_of
from fieldapp.core.entries import Entry
from fieldapp.intake.door import Door
from fieldapp.lookups import site_picture, subjects_issued
from fieldapp.lookups.plans import (
    plan_that_is_signed,
    plan_that_waits,
    sheet_that_waits,
    staying,
)
from fieldapp.lookups.reading import sheet_of
from fieldapp.lookups.register import register_of
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.world import World
from fieldapp.store.database import connected
from tests.plan.sample import copied, spoil

NOW = 1_780_000_000_000
ENGINEER, CHECKER, OWNER = "edric", "caspar", "isaura"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Give a small copy of the sample site, to be revised."""
    return copied(tmp_path / "site")


@pytest.fixture
def door(tmp_path: Path) -> Door:
    """Give the door of an empty data folder."""
    return open_door(tmp_path / "data")


def load(door: Door, site: Path, now: int = NOW) -> list[str]:
    return put_in_force(door, compiled_site(site), now)


def sign(world: World, person: str, part: str, *rests_on: Entry) -> Entry:
    """Sign the plan that waits on a phone of the person's own, and bring it in."""
    plan = plan_that_waits(reader_of(world.door))
    assert plan is not None
    phone = world.phone(f"of-{person}", now=NOW)
    if person not in phone.keys:
        world.enrol(phone, person, NOW)
    entry = phone.write(
        "plan_signed",
        person=person,
        now=NOW,
        about={"plan": plan.hash, "as": part},
        needs=sorted(each.id for each in rests_on),
    )
    assert [each.result for each in world.sync(phone, NOW)] == ["stored"]
    return entry


def note(world: World, subject: str) -> None:
    """Have the engineer say something of a subject: so it is begun."""
    phone = world.phone("gang", now=NOW)
    world.enrol(phone, ENGINEER, NOW)
    phone.write(
        "note", person=ENGINEER, now=NOW, subject=subject, about={"text": "Fog"}
    )
    assert [each.result for each in world.sync(phone, NOW)] == ["stored"]


def unsigned(site: Path) -> None:
    """Let the site name nobody who signs its plan."""
    text = (site / "site.toml").read_text("utf-8")
    start, end = text.index("[plan_signers]"), text.index("[roles]")
    (site / "site.toml").write_text(text[:start] + text[end:], "utf-8")


def test_no_sheet_is_issued_before_three_people_have_signed(
    door: Door, site: Path
) -> None:
    with connected(door.store):
        reader, world = reader_of(door), World(door=door)
        said = "\n".join(load(door, site))
        assert "waits to be signed: prepared, checked, approved" in said
        assert subjects_issued(reader) == []
        assert register_of(reader) == []
        with pytest.raises(CommandFault, match="plan has still to be signed"):
            must_be_issued(reader, "j-e1")
        prepared = sign(world, ENGINEER, "prepared")
        checked = sign(world, CHECKER, "checked", prepared)
        assert subjects_issued(reader) == []
        plan = plan_that_waits(reader)
        assert plan is not None
        assert plan.waits_for is not None
        assert plan.waits_for.part == "approved"
        # The checker may not approve; an approval must have seen the check.
        sign(world, CHECKER, "approved", prepared, checked)
        sign(world, OWNER, "approved", prepared)
        assert subjects_issued(reader) == []
        sign(world, OWNER, "approved", prepared, checked)
        assert subjects_issued(reader) == sorted(plan.sheets)
        assert "jack-a" in {each.id for each in register_of(reader)}
        assert plan_that_waits(reader) is None
        signed = plan_that_is_signed(reader)
        assert signed is not None
        told = [each.entry and each.entry.person for each in signed.signatures]
        assert told == [ENGINEER, CHECKER, OWNER]
        assert load(door, site)[1:] == ["  the plan is signed"]


def test_a_revision_touches_no_sheet_in_hand_until_it_is_signed(
    door: Door, site: Path
) -> None:
    with connected(door.store):
        reader, world = reader_of(door), World(door=door)
        load(door, site)
        list(sign_waiting_plan(world, NOW))
        in_hand = {each: sheet_of(reader, each) for each in subjects_issued(reader)}
        items = register_of(reader)
        spoil(site, "plan/bars_out.toml", "Temporary bars", "Bars for a time")
        spoil(site, "jacks.csv", "jack-a,", "jack-z,")
        for name in ("plan/glued_joint.toml", "calibrations.csv"):
            text = (site / name).read_text("utf-8")
            (site / name).write_text(text.replace("jack-a", "jack-z"), "utf-8")
        load(door, site, NOW + 1)
        waiting = plan_that_waits(reader)
        assert waiting is not None
        assert "x-w1" in waiting.new
        for subject, sheet in in_hand.items():
            assert sheet_of(reader, subject) is sheet
        assert register_of(reader) == items
        # Whoever signs can read what is to come.
        coming = sheet_that_waits(reader, waiting, "x-w1")
        assert coming is not None
        assert coming.hash == waiting.sheets["x-w1"]
        assert coming.hash != sheet_of(reader, "x-w1").hash  # type: ignore[union-attr]
        list(sign_waiting_plan(World(door=door), NOW + 2))
        assert sheet_of(reader, "x-w1").hash == coming.hash  # type: ignore[union-attr]
        assert "jack-z" in {each.id for each in register_of(reader)}


def test_a_subject_begun_keeps_its_sheet_until_somebody_names_it(
    door: Door, site: Path
) -> None:
    with connected(door.store):
        reader, world = reader_of(door), World(door=door)
        load(door, site)
        list(sign_waiting_plan(world, NOW))
        in_hand = {each: sheet_of(reader, each) for each in ("x-w1", "j-e1")}
        note(world, "x-w1")
        spoil(site, "site.toml", "revision = 1", "revision = 2")
        spoil(site, "plan/bars_out.toml", "Temporary bars", "Bars for a time")
        stays = "  x-w1 stays on revision 1: begun"
        assert stays in load(door, site, NOW + 1)
        waiting = plan_that_waits(reader)
        assert waiting is not None
        assert [each.subject for each in waiting.stays] == ["x-w1"]
        assert "x-w1" not in waiting.new
        list(sign_waiting_plan(World(door=door), NOW + 2))
        assert sheet_of(reader, "x-w1") is in_hand["x-w1"]
        assert sheet_of(reader, "j-e1") is not in_hand["j-e1"]
        assert [each.subject for each in staying(reader)] == ["x-w1"]
        assert stays in load(door, site, NOW + 3)
        # An order for one that is not there is no order for the other.
        with pytest.raises(CommandFault, match="nowhere: no such subject"):
            ordered(door, ["x-w1", "nowhere"], NOW + 4)
        said = ordered(door, ["x-w1"], NOW + 4, look=True)
        assert said[0].startswith("x-w1: would get revision 2; reads otherwise: ")
        assert sheet_of(reader, "x-w1") is in_hand["x-w1"]
        assert ordered(door, ["x-w1"], NOW + 5)[0].startswith("x-w1: issued revision 2")
        now = sheet_of(reader, "x-w1")
        assert now is not None
        assert now.hash == waiting.sheets["x-w1"]
        assert staying(reader) == ()
        assert ordered(door, ["x-w1"], NOW + 6) == [
            "x-w1: has the newest sheet already"
        ]


def test_without_signers_too_a_subject_begun_keeps_its_sheet(
    door: Door, site: Path
) -> None:
    unsigned(site)
    with connected(door.store):
        reader = reader_of(door)
        load(door, site)
        note(World(door=door), "x-w1")
        spoil(site, "site.toml", "revision = 1", "revision = 2")
        said = load(door, site)
        assert "  x-w1 stays on revision 1: begun" in said
        assert "  issued j-e1" in said
        assert "  issued x-w1" not in said
        ordered(door, ["x-w1"], NOW)
        assert sheet_of(reader, "x-w1").raw["revision"] == 2  # type: ignore[union-attr]


def test_a_plan_that_comes_while_another_waits_takes_its_place(
    door: Door, site: Path
) -> None:
    with connected(door.store):
        reader, world = reader_of(door), World(door=door)
        load(door, site)
        prepared = sign(world, ENGINEER, "prepared")
        spoil(site, "site.toml", "revision = 1", "revision = 2")
        load(door, site)
        waiting = plan_that_waits(reader)
        assert waiting is not None
        assert waiting.revision == 2
        # What was signed before is another plan's: this one starts over.
        assert [each.entry for each in waiting.signatures] == [None] * 3
        spoil(site, "site.toml", "revision = 2", "revision = 1")
        load(door, site)
        again = plan_that_waits(reader)
        assert again is not None
        assert again.signatures[0].entry is not None
        assert again.signatures[0].entry.id == prepared.id


def test_a_site_that_names_no_signers_issues_at_once_and_says_so(
    door: Door, site: Path
) -> None:
    unsigned(site)
    with connected(door.store):
        said = load(door, site)
        reader = reader_of(door)
        assert "asks for no signature" in said[1]
        assert len(said) == 2 + len(subjects_issued(reader))
        assert plan_that_waits(reader) is None
        assert plan_that_is_signed(reader) is None
        assert site_picture(door.store) is not None


def test_what_is_signed_names_every_sheet_by_its_hash(site: Path) -> None:
    compiled = compiled_site(site)
    assert compiled.plan is not None
    assert compiled.plan["sheets"].keys() == compiled.sheets.keys()
    told = json.loads(json.dumps(compiled.plan))
    assert sum(kind["sheets"] for kind in told["kinds"]) == len(compiled.sheets)
