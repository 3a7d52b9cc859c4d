"""The register: who may enter an item, what it was used for, what a correction does."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fieldapp.core.canonical import canonical
from fieldapp.intake.items import items_of_sheets
from fieldapp.lookups import folded, overview, standing_for
from fieldapp.lookups.facts import all_facts
from fieldapp.lookups.register import (
    never_counted,
    register_of,
    told_to_phones,
    uses_in,
)
from fieldapp.store.database import connected
from fieldapp.store.ledger import ledger_head
from tests.gauges import (
    MINUTE_MS,
    PERSON,
    STORES,
    certify,
    faults,
    measure,
    with_gauge,
)
from tests.people import FOREMAN, NOON, SUBJECT, Stage, put_in_force, stage


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Stage]:
    made = stage(tmp_path)
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, with_gauge(), with_gauge("J2"), people=[PERSON])
        yield made


def test_what_the_sites_files_name_is_registered_by_the_office_once(
    site: Stage,
) -> None:
    (gauge,) = register_of(site.wired.reader)
    assert (gauge.id, gauge.kind, gauge.numbers) == ("g1", "gauge", {"zero": 3})
    before = ledger_head(site.wired.door.store).place
    put_in_force(site.wired.door, with_gauge(), with_gauge("J2"), people=[PERSON])
    assert ledger_head(site.wired.door.store).place == before


def test_a_place_on_a_sheet_that_nobody_chooses_is_no_item_of_the_site(
    site: Stage,
) -> None:
    assert [each.id for each in register_of(site.wired.reader)] == ["g1"]


def test_files_that_say_something_else_replace_what_they_said_before(
    site: Stage,
) -> None:
    (first,) = register_of(site.wired.reader)
    changed = {"numbers": {"zero": 5}}
    sheets = (with_gauge(**changed), with_gauge("J2", **changed))
    put_in_force(site.wired.door, *sheets, people=[PERSON])
    (gauge,) = register_of(site.wired.reader)
    assert gauge.numbers == {"zero": 5}
    assert gauge.history[-1].about["replaces"] == first.entry


def test_an_item_that_sheets_tell_differently_stays_out_of_the_register(
    tmp_path: Path,
) -> None:
    made = stage(tmp_path)
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, with_gauge(), with_gauge("J2", numbers={"z": 1}))
        assert register_of(made.wired.reader) == []


def test_stores_register_and_a_foreman_does_not(site: Stage) -> None:
    phone = site.phone("shed", STORES, FOREMAN)
    refused = certify(site, phone, who=FOREMAN, label="Mine")
    made = certify(site, phone, label="New gauge", item="g2", expires=NOON)
    found = {each.id: each for each in register_of(site.wired.reader)}
    assert found["g2"].entry == made
    assert found["g1"].label == "Gauge 1"
    assert [each.id for each in never_counted(site.wired.reader)] == [refused]
    assert [each.id for each in found["g1"].refused] == [refused]


def test_the_site_may_name_other_roles_that_register(site: Stage) -> None:
    put_in_force(site.wired.door, with_gauge(), people=[PERSON], register=["foreman"])
    phone = site.phone("shed", STORES, FOREMAN)
    certify(site, phone, item="g2")
    made = certify(site, phone, who=FOREMAN, item="g3")
    found = {each.id: each.entry for each in register_of(site.wired.reader)}
    assert "g2" not in found
    assert found["g3"] == made
    assert told_to_phones(site.wired.reader)["roles"] == ["foreman"]


def test_a_corrected_certificate_touches_each_subject_once_and_no_other(
    site: Stage,
) -> None:
    phone = site.phone("gang", FOREMAN, STORES)
    measure(site, phone, SUBJECT)
    site.now += MINUTE_MS
    measure(site, phone, SUBJECT)
    assert faults(site, SUBJECT) == []
    (before,) = register_of(site.wired.reader)
    certify(site, phone, replaces=before.entry, reason="zero misread")
    measure(site, phone, "J2")
    assert faults(site, SUBJECT) == [("item_corrected", "gauge")]
    assert faults(site, "J2") == []


def test_a_renewed_certificate_faults_nobody_and_judges_nothing_again(
    site: Stage,
) -> None:
    phone = site.phone("gang", FOREMAN, STORES)
    measure(site, phone, SUBJECT)
    (before,) = register_of(site.wired.reader)
    # Good only for a time that is over already: the reading was made before it.
    certify(site, phone, replaces=before.entry, expires=NOON - 1)
    assert faults(site, SUBJECT) == []
    found = folded(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    assert found.state["steps"]["wipe"]["status"] == "done"
    assert found.standing["items"]["g1"]["numbers"] == {"zero": 3}
    measure(site, phone, "J2")
    other = folded(site.wired.reader, "J2", site.now)
    assert other is not None
    assert other.state["steps"]["wipe"]["lines"][""]["failed"] == ["item_expired:gauge"]
    assert other.standing["items"]["g1"]["numbers"] == {"zero": 4}


def test_a_gauge_that_has_expired_fails_the_step(site: Stage) -> None:
    phone = site.phone()
    site.now = NOON + 61 * MINUTE_MS
    measure(site, phone, SUBJECT)
    found = folded(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    assert found.state["steps"]["wipe"]["status"] == "failed"
    assert found.state["steps"]["wipe"]["lines"][""]["failed"] == ["item_expired:gauge"]


def test_uses_are_counted_by_the_other_subjects_that_name_the_item(site: Stage) -> None:
    phone = site.phone()
    measure(site, phone, SUBJECT)
    reader = site.wired.reader
    assert standing_for(reader, SUBJECT, NOON)["items"]["g1"]["uses"] == 0
    measure(site, phone, "J2")
    assert standing_for(reader, SUBJECT, NOON)["items"]["g1"]["uses"] == 1
    (gauge,) = register_of(reader)
    assert gauge.subjects == ("J1", "J2")


def test_an_item_used_more_often_than_its_certificate_allows_is_told(
    site: Stage,
) -> None:
    limit = {"numbers": {"uses_max": 1}}
    sheets = (with_gauge(**limit), with_gauge("J2", **limit))
    put_in_force(site.wired.door, *sheets, people=[PERSON])
    phone = site.phone()
    measure(site, phone, SUBJECT)
    measure(site, phone, "J2")
    found = folded(site.wired.reader, "J2", NOON)
    assert found is not None
    failed = found.state["steps"]["wipe"]["lines"][""]["failed"]
    assert failed == ["item_overused:gauge"]


def test_a_reading_leads_to_its_item_and_the_item_to_its_readings(site: Stage) -> None:
    phone = site.phone()
    first = measure(site, phone, SUBJECT)
    second = measure(site, phone, SUBJECT)
    found = folded(site.wired.reader, SUBJECT, NOON)
    assert found is not None
    uses = list(uses_in(found))
    assert [(u.item, u.entry.id, u.stands) for u in uses] == [
        ("g1", first, False),
        ("g1", second, True),
    ]
    (gauge,) = register_of(site.wired.reader)
    assert {use.certificate for use in uses} == {gauge.entry}


def test_phones_are_told_which_numbers_a_kind_carries(site: Stage) -> None:
    told = told_to_phones(site.wired.reader)
    assert told == {"roles": ["stores"], "kinds": {"gauge": {"numbers": ["zero"]}}}


def test_facts_of_others_are_the_same_after_the_cache_is_dropped(site: Stage) -> None:
    phone = site.phone()
    measure(site, phone, SUBJECT)
    measure(site, phone, "J2")
    reader = site.wired.reader
    before = [canonical(each.state) for each in overview(reader, NOON)]
    facts = all_facts(reader)
    reader.store.cache.clear()
    assert [canonical(each.state) for each in overview(reader, NOON)] == before
    assert all_facts(reader) == facts


def test_a_jack_that_one_plan_reads_no_force_by_keeps_its_certificate() -> None:
    fields = [{"id": "jack", "kind": "item", "items": "jack"}]
    steps = {"bars": {"fields": fields}}
    plain = {"label": "Jack A", "kind": "jack", "numbers": {}}
    read = {**plain, "numbers": {"slope": 7}}
    other = {**plain, "numbers": {"slope": 8}}

    def told(*items: dict[str, object]) -> dict[str, Any]:
        sheets = [{"steps": steps, "items": {"jack-a": each}} for each in items]
        return items_of_sheets(sheets)

    assert told(plain, read) == told(read, plain) == {"jack-a": read}
    assert told(plain, plain) == {"jack-a": plain}
    assert told(read, plain, other) == {}


def test_what_is_taken_out_of_use_is_unfit_from_then_on_and_never_before(
    site: Stage,
) -> None:
    phone = site.phone("gang", FOREMAN, STORES)
    measure(site, phone, SUBJECT)
    (before,) = register_of(site.wired.reader)
    assert before.out is None
    site.now += MINUTE_MS
    out = certify(site, phone, replaces=before.entry, expires=site.now, text="Bent")
    site.now += MINUTE_MS
    measure(site, phone, "J2")
    (gauge,) = register_of(site.wired.reader)
    assert gauge.out is not None
    assert (gauge.out.id, gauge.out.about["text"]) == (out, "Bent")
    assert gauge.certificate == before.certificate
    assert faults(site, SUBJECT) == []
    found = folded(site.wired.reader, "J2", site.now)
    assert found is not None
    assert found.state["steps"]["wipe"]["lines"][""]["failed"] == ["item_expired:gauge"]
    # Neither the site's files, loaded with another word, nor a renewal by one who did
    # not know of it bring it back; a certificate that names what took it out does.
    changed = {"numbers": {"zero": 5}}
    sheets = (with_gauge(**changed), with_gauge("J2", **changed))
    put_in_force(site.wired.door, *sheets, people=[PERSON])
    certify(site, phone, replaces=before.entry, text="Late")
    assert register_of(site.wired.reader)[0].entry == out
    certify(site, phone, replaces=out, text="Made straight")
    (gauge,) = register_of(site.wired.reader)
    assert (gauge.out, gauge.certificate) == (None, "Made straight")
