"""What is kept of folded subjects never shows: the same states as folded anew."""

from pathlib import Path
from typing import Any

import pytest

from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.intake.office import issue
from fieldapp.lookups import overview
from fieldapp.lookups.kept import changes_at, counts_from_now
from fieldapp.store.database import connected
from tests.gauges import PERSON, STORES, certify
from tests.people import (
    DOCUMENT,
    FOREMAN,
    INSPECTOR,
    NOON,
    SITE,
    SUBJECT,
    put_in_force,
)
from tests.web.race import (
    ENGINEER,
    HOUR_MS,
    LIFE,
    MINUTE_MS,
    OTHER,
    PICTURE,
    Race,
    race,
    race_sheet,
)


@pytest.fixture
def site(tmp_path: Path) -> Race:
    return race(tmp_path)


def states(site: Race, now: int) -> list[tuple[str, dict[str, Any]]]:
    wired = site.desk.site.wired
    with connected(wired.door.store):
        return [(f.sheet.subject, f.state) for f in overview(wired.reader, now)]


def anew(site: Race, now: int) -> list[tuple[str, dict[str, Any]]]:
    site.desk.site.wired.door.store.cache.pop("kept", None)
    return states(site, now)


def kept(site: Race) -> dict[str, Any]:
    known: dict[str, Any] = site.desk.site.wired.door.store.cache["kept"]
    return known


WORK = (
    (0, lambda site: site.wiped()),
    (1, lambda site: site.say("called", point="go")),
    (2, lambda site: site.say("release", by=INSPECTOR, point="go")),
    (3, lambda site: site.say("done", step="mix", line="k1")),
    (5, lambda site: site.say("done", step="mix", line="k2")),
    (6, lambda site: site.say("note", about={"text": "dry"})),
    (7, lambda site: site.say("notice", by="elin", point="look")),
    (70, lambda site: site.say("done", step="close")),
)


def test_states_are_the_same_kept_or_folded_anew_at_every_moment(site: Race) -> None:
    for minute, work in WORK:
        work(site.at(minute))
        for later in (0, 7, 33, 61, 60 * 30):
            now = NOON + (minute + later) * MINUTE_MS
            assert states(site, now) == states(site, now) == anew(site, now)
            # An earlier question after a later one is answered as of its own time.
            assert states(site, now - MINUTE_MS) == anew(site, now - MINUTE_MS)


def test_what_changes_by_itself_is_folded_again_and_the_rest_is_kept(
    site: Race,
) -> None:
    for minute, work in WORK[:5]:
        work(site.at(minute))
    now = NOON + 5 * MINUTE_MS
    states(site, now)
    untouched = kept(site)[OTHER].found
    WORK[5][1](site.at(6))
    states(site, now + MINUTE_MS)
    # NOON lies 40 s into its minute: what runs is kept for the 20 that are left.
    assert kept(site)[SUBJECT].until == now + MINUTE_MS + 20_000, "a clock runs"
    assert kept(site)[OTHER].found is untouched, "nothing it rests on has changed"
    for minute, work in WORK[6:]:
        work(site.at(minute))
    states(site, NOON + 71 * MINUTE_MS)
    assert kept(site)[SUBJECT].until == NOON + 70 * MINUTE_MS + 24 * HOUR_MS, "curing"
    assert kept(site)[OTHER].found is not untouched, "what it waits for is there"


def test_a_state_with_nothing_running_changes_by_an_entry_only(site: Race) -> None:
    states(site, NOON)
    assert changes_at(kept(site)[OTHER].found, NOON) > NOON + 10**12


def test_a_sheet_that_measures_up_to_the_present_is_known() -> None:
    span = {"word": "elapsed", "from": {"step": "wipe"}, "to": "now", "as": "use_by"}
    asked = {"must": {"word": "between", "value": span, "high": HOUR_MS}}
    assert counts_from_now({"points": {"go": {"requires": [asked]}}})
    fixed = span | {"to": {"step": "close"}}
    assert not counts_from_now({"values": {"held": fixed}})


def roles_now(site: Race, roles: list[str]) -> None:
    """Enrol the inspector once more, in other roles."""
    named = {"id": INSPECTOR, "name": "Omar Beck", "roles": roles,
             "organisation": "owner"}  # fmt: skip
    people = [e for e in DOCUMENT["people"] if e["id"] != INSPECTOR]
    document = DOCUMENT | PICTURE | {"people": [*people, ENGINEER, named]}
    sheets = {
        each["subject"]: canonical(each) for each in (race_sheet(), race_sheet(OTHER))
    }
    door = site.desk.site.wired.door
    with connected(door.store):
        issue(door, site=SITE, document=canonical(document), sheets=sheets,
              tables=[canonical(LIFE)], now=NOON)  # fmt: skip
    site.desk.site.phone("in-other-roles", INSPECTOR)


def test_an_enrolment_leaves_states_that_name_nobody_of_it(site: Race) -> None:
    for minute, work in WORK[:3]:
        work(site.at(minute))
    now = NOON + 3 * MINUTE_MS
    states(site, now)
    before = {name: each.found for name, each in kept(site).items()}
    site.desk.site.phone("further", FOREMAN)
    told = states(site, now)
    assert {name: each.found for name, each in kept(site).items()} == before
    assert all(kept(site)[name].found is found for name, found in before.items())
    assert told == anew(site, now)
    # In roles that may not release, what the inspector signed counts no more.
    states(site, now)
    again = kept(site)[SUBJECT].found
    roles_now(site, ["foreman"])
    changed = dict(states(site, now))[SUBJECT]
    assert kept(site)[SUBJECT].found is not again
    assert changed != again.state
    assert changed == dict(anew(site, now))[SUBJECT]
    assert changed["points"]["go"]["status"] != "released"


def test_a_registration_and_a_sheet_anew_are_never_missed(site: Race) -> None:
    for minute, work in WORK[:3]:
        work(site.at(minute))
    now = NOON + 3 * MINUTE_MS
    states(site, now)
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, race_sheet(), race_sheet(OTHER), tables=[LIFE],
                     people=[ENGINEER, PERSON], **PICTURE)  # fmt: skip
    stores = site.desk.site.phone("stores", STORES)
    with connected(door.store):
        certify(site.desk.site, stores, item="g2")
    again = states(site, now)
    assert "g2" in kept(site)[SUBJECT].found.register
    assert again == anew(site, now)
    states(site, now)
    renamed = race_sheet(OTHER, title="Joint 2, anew")
    with connected(door.store):
        put_in_force(door, race_sheet(), renamed, tables=[LIFE], people=[ENGINEER],
                     **PICTURE)  # fmt: skip
    told = dict(states(site, now))
    assert told[OTHER]["sheet"] == fingerprint(renamed)
    assert told == dict(anew(site, now))
