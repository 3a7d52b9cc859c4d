"""What is gathered for a record from a site's store, and that it proves itself."""

import json
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.play.pictures import made_pictures
from fieldapp.records.evidence import Evidence
from fieldapp.records.gather import PRINT_PX, gather
from fieldapp.records.pages import UnknownSize
from fieldapp.records.record import record_pdf
from fieldapp.records.verify import (
    AUTHENTIC,
    NO,
    REGISTER_STATED,
    SAME,
    verify_record,
)
from fieldapp.store.database import connected
from tests.gauges import PERSON, STORES, certify, measure, with_gauge
from tests.people import FOREMAN, SUBJECT, Stage, put_in_force, stage
from tests.records.paper import PAPER

pytestmark = PAPER


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Stage]:
    """A joint measured with a gauge that stores registered anew, and photographed."""
    made = stage(tmp_path)
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, with_gauge(), people=[PERSON], paper="letter")
        phone = made.phone("gang", FOREMAN, STORES)
        certify(made, phone, item="other")
        certify(made, phone)
        pictures = made_pictures(2, "Face", seed=1)
        phone.photos = dict(list(pictures.items())[:1])
        measure(made, phone, SUBJECT, photos=list(pictures))
        yield made


def kinds(evidence: Evidence) -> list[tuple[str, str]]:
    told = [json.loads(row.body) for row in evidence.office]
    return [(e["kind"], e["about"].get("item", "")) for e in told]


def test_the_registrations_of_the_items_relied_on_are_carried_and_no_others(
    site: Stage,
) -> None:
    found = gather(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    items = {item for kind, item in kinds(found) if kind == "registered"}
    assert items == {"g1"}
    assert {"enrolled", "sheet_issued"} <= {kind for kind, _ in kinds(found)}


def test_only_photographs_that_have_arrived_are_carried_and_as_small_copies(
    site: Stage,
) -> None:
    found = gather(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    named = [n for row in found.entries for n in json.loads(row.body).get("photos", ())]
    assert list(found.photos) == named[:1]
    with Image.open(BytesIO(found.photos[named[0]])) as copy:
        assert copy.format == "JPEG"
        assert max(copy.size) <= PRINT_PX


def test_the_site_names_the_paper_and_a_reader_may_ask_for_another(
    site: Stage,
) -> None:
    for asked, page in (("", "Letter"), ("a4", "A4")):
        found = gather(site.wired.reader, SUBJECT, site.now, asked)
        assert found is not None
        assert found.title.page == page
    with pytest.raises(UnknownSize):
        gather(site.wired.reader, SUBJECT, site.now, "a3")


def test_what_people_registered_is_proved_by_their_own_keys(site: Stage) -> None:
    found = gather(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    pdf = record_pdf(found)
    verdict = verify_record(pdf, site.wired.reader.office_key)
    assert (verdict.result, verdict.pages) == (AUTHENTIC, SAME), verdict.reasons


def test_an_item_stated_otherwise_than_it_was_registered_is_found_out(
    site: Stage,
) -> None:
    found = gather(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    found.standing["items"]["g1"]["numbers"]["zero"] = 9
    verdict = verify_record(record_pdf(found))
    assert verdict.result == NO
    assert verdict.reasons == ("item g1 is not stated as it was registered",)


def test_a_record_without_registrations_still_holds_and_says_what_it_takes_as_stated(
    site: Stage,
) -> None:
    found = gather(site.wired.reader, SUBJECT, site.now)
    assert found is not None
    bare = tuple(row for row in found.office if '"registered"' not in row.body)
    verdict = verify_record(record_pdf(replace(found, office=bare)))
    assert verdict.pages == SAME, verdict.reasons
    assert REGISTER_STATED in verdict.limits
    assert REGISTER_STATED not in verify_record(record_pdf(found)).limits
