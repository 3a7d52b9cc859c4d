"""Paper names the certificate of all that was used, and tells a corrected one in full.

The figures are those the office registers here; a jack's slope has seven places less
those of the pressure (none), so 14,736,190 is 1.4736190 kN/bar.
"""

from copy import deepcopy
from typing import Any

import pytest

from fieldapp.core.certificates import certified, items_relied_on
from fieldapp.core.entries import Entry, read_entry
from fieldapp.records.evidence import Evidence
from fieldapp.records.record import record_html
from fieldapp.records.view import RecordView, record_view
from tests.core.story import START_MS
from tests.records.book import Book
from tests.records.joint import AIM
from tests.records.paper import PAPER, pages, printed, view

pytestmark = PAPER
DAY_MS = 86_400_000
LAST = START_MS // DAY_MS * DAY_MS + 30 * DAY_MS - 60 * 60_000
"""Midnight on the site, an hour east of UTC, 30 days on."""
LINE = {"slope": 14_736_190, "intercept": -24_142_857, "low": 50, "high": 400}
JACK = {"item": "jack-a", "kind": "jack", "label": "Jack A with gauge A1",
        "text": "Gauge: gauge A1; Certificate: JC-301", "expires": LAST}  # fmt: skip
LOT = {"item": "lot-c1", "kind": "lot-cool", "label": "Cool, A 4401 / B 4402",
       "text": "QC-4401, twelve kits"}  # fmt: skip


@pytest.fixture
def site() -> Book:
    """Give the joint's book, in whose site certificates state the line of a jack."""
    book = Book()
    kinds = [{"id": "jack", "title": "Jacks", "numbers": [],
              "calibration": {"places": 0, "residual": 100}}]  # fmt: skip
    book.site = {**book.site, "item_kinds": kinds}
    return book


def told_of(book: Book) -> RecordView:
    """Give what the record says, with the items its readings relied on."""
    return record_view(evidence_of(book))


def evidence_of(book: Book) -> Evidence:
    known = certified(entry for entry, _ in book.rows)
    mine = [entry for entry, _ in book.rows if entry.subject]
    return book.evidence(
        standing={"subjects": {}, "items": items_relied_on(known, mine)}
    )


def stressed(book: Book, needs: list[str], **values: Any) -> None:
    for minute, line in enumerate(["b1-r1", "b2-r1"]):
        book.at(30 + minute).done(
            "bars", by="tamsin", line=line, needs=needs,
            values={"jack": "jack-a", "pressure": AIM["r1"], **values},
        )  # fmt: skip


def mixed(book: Book, needs: list[str]) -> None:
    values = {"lot": "lot-c1", "mixed": 175}
    book.at(20).done("mix-cool", by="tamsin", line="kit-1", values=values, needs=needs)


def test_what_was_used_stands_once_with_certificate_and_last_day(site: Book) -> None:
    jack = site.office_says("registered", JACK, LINE)
    lot = site.office_says("registered", LOT)
    mixed(site, [lot])
    stressed(site, [jack])
    told = told_of(site).used
    assert [(e.things, e.certificate, e.last_day) for e in told] == [
        ("Cool, A 4401 / B 4402", "QC-4401, twelve kits", "no last day"),
        ("Jack A with gauge A1", "JC-301", _day(LAST - 1)),
    ]
    assert not any(each.corrected for each in told)


def test_a_lot_chosen_by_a_slip_was_not_used(site: Book) -> None:
    lot = site.office_says("registered", LOT)
    slip = site.office_says("registered", {**LOT, "item": "lot-w1", "label": "Warm"})
    values = {"lot": "lot-w1", "mixed": 175}
    wrong = site.at(20).done("mix-cool", by="tamsin", line="kit-1", values=values,
                             needs=[slip])  # fmt: skip
    site.at(21).say("correction", by="tamsin", step="mix-cool", line="kit-1",
                    values={"lot": "lot-c1"}, needs=[lot],
                    about={"target": wrong, "reason": "another sack"})  # fmt: skip
    assert [each.things for each in told_of(site).used] == [LOT["label"]]


def test_what_was_discarded_is_told_as_that(site: Book) -> None:
    mixed(site, [site.office_says("registered", LOT)])
    site.at(21).say("discarded", by="tamsin", step="mix-cool", line="kit-1",
                    about={"reason": "lumps"})  # fmt: skip
    (told,) = told_of(site).used
    assert (told.things, told.discarded) == (LOT["label"], True)


WARM = {**LOT, "item": "lot-w1", "label": "Warm, A 7701", "text": "QC-7701"}


@pytest.mark.parametrize("amended", [1, 2])
def test_of_a_kit_mixed_anew_both_lots_are_told(amended: int) -> None:
    site = Book(sheet={**Book().sheet, "amended": amended})
    mixed(site, [site.office_says("registered", LOT)])
    site.at(21).say("discarded", by="tamsin", step="mix-cool", line="kit-1",
                    about={"reason": "lumps"})  # fmt: skip
    again(site, 22, "lot-w1", [site.office_says("registered", WARM)])
    told = [(each.things, each.discarded) for each in told_of(site).used]
    assert told == [(LOT["label"], True), (WARM["label"], False)]
    # Mixed of the lot of the discarded kit as well, that lot was used.
    again(site, 24, "lot-c1", [], line="kit-2")
    told = [(each.things, each.discarded) for each in told_of(site).used]
    assert [off for _, off in told] == [False, False]


def test_a_kit_read_again_without_a_discard_was_of_the_last_lot_alone(
    site: Book,
) -> None:
    site.at(19).say("note", by="jorun", on="gang-2", about={"text": "Fog"})
    mixed(site, [site.office_says("registered", LOT)])
    again(site, 22, "lot-w1", [site.office_says("registered", WARM)])
    assert [each.things for each in told_of(site).used] == [WARM["label"]]
    # A phone that had not heard of it says otherwise: nobody knows which it was.
    theirs = site.phones["gang-2"].entries
    for name in [e.id for e in theirs.values() if e.step == "mix-cool"]:
        del theirs[name]
    again(site, 24, "lot-c1", [], on="gang-2")
    things = [each.things for each in told_of(site).used]
    assert things == [WARM["label"], LOT["label"]]


def test_in_a_series_a_corrected_item_was_not_used() -> None:
    sheet = deepcopy(Book().sheet)
    sheet["steps"]["mix-cool"]["series"] = True
    sheet["steps"]["mix-cool"]["lines"] = []
    site = Book(sheet=sheet)
    lots = [site.office_says("registered", each) for each in (LOT, WARM)]
    slip = again(site, 20, "lot-c1", lots[:1], line=None)
    again(site, 21, "lot-w1", lots[1:], line=None)
    assert [e.things for e in told_of(site).used] == [LOT["label"], WARM["label"]]
    site.at(22).say("correction", by="tamsin", step="mix-cool",
                    values={"lot": "lot-w1"}, needs=lots[1:],
                    about={"target": slip, "reason": "another sack"})  # fmt: skip
    assert [e.things for e in told_of(site).used] == [WARM["label"]]
    site.at(23).say("discarded", by="tamsin", step="mix-cool",
                    about={"reason": "lumps"})  # fmt: skip
    assert [e.discarded for e in told_of(site).used] == [True]


def again(book: Book, minute: float, lot: str, needs: list[str], **parts: Any) -> str:
    parts.setdefault("line", "kit-1")
    values = {"lot": lot, "mixed": 175}
    return book.at(minute).done("mix-cool", by="tamsin", values=values, needs=needs,
                                **parts)  # fmt: skip


def test_what_was_used_although_out_of_use_is_told_by_its_certificate(
    site: Book,
) -> None:
    lot = site.office_says("registered", {**LOT, "expires": LAST})
    about = {**LOT, "text": "Damaged, bag torn", "replaces": lot}
    out = by_stores(site, {**about, "expires": START_MS + 10 * 60_000}, {}, 10).id
    mixed(site, [out])
    (told,) = told_of(site).used
    assert (told.certificate, told.last_day) == (LOT["text"], _day(LAST - 1))
    since = "since 2027-01-15 09:10: “Damaged, bag torn”"
    assert (told.out, told.now, told.corrected) == (since, "", False)
    assert f"taken out of use {since}" in record_html(told_of(site))
    # Somebody put it back, and says that it never should have been out.
    by_stores(site, {**LOT, "text": "QC-4401a", "expires": LAST, "replaces": out,
                     "reason": "another bag"}, {}, 30)  # fmt: skip
    book = told_of(site)
    (used,) = book.used
    assert (used.corrected, used.now) == (True, "QC-4401a")
    (fault,) = [e for e in book.nonconformances if "corrected" in e.words]
    (said,) = fault.corrected
    assert said.startswith(
        "in use again; Certificate QC-4401, twelve kits → QC-4401a –"
    )
    assert "torn" not in said
    assert "last day" not in said


def test_things_of_one_certificate_are_told_together(site: Book) -> None:
    sheet = {**site.sheet, "items": dict(site.sheet["items"])}
    paper = [{"label": "Certificate", "value": "MT-207"}]
    for name in ("jack-a", "jack-b"):
        label = f"{name.replace('-', ' ').title()}, 32 mm, heat K207"
        sheet["items"][name] = {**sheet["items"][name], "label": label, "facts": paper}
    book = Book(sheet=sheet)
    stressed(book, [])
    book.at(40).done("bars", by="tamsin", line="b3-r1",
                     values={"jack": "jack-b", "pressure": AIM["r1"]})  # fmt: skip
    (told,) = told_of(book).used
    assert told.things == "Jack A, Jack B, 32 mm, heat K207"
    assert told.certificate == "MT-207"


def test_a_record_with_all_its_certificates_takes_no_further_page() -> None:
    assert [each.things for each in view("good").used] == [
        "Surface thermometer 1", "Cool, A 4401 / B 4402", "Jack A with gauge A1",
    ]  # fmt: skip
    read = pages(printed("good"))
    assert len(read) == 2
    assert "Used, with certificate (last valid day):" in " ".join(read)


def test_a_corrected_certificate_is_told_in_full_on_paper(site: Book) -> None:
    jack = site.office_says("registered", JACK, LINE)
    stressed(site, [jack])
    about = {**JACK, "text": "JC-301a | 50 bar 71.2 kN; 100 bar 145.1 kN",
             "expires": LAST - 10 * DAY_MS, "replaces": jack,
             "reason": "Gauge read 2 % high when calibrated"}  # fmt: skip
    values = {**LINE, "slope": 14_441_466}
    new = by_stores(site, about, values)
    book = told_of(site)
    (fault,) = [e for e in book.nonconformances if "corrected" in e.words]
    assert fault.found.endswith("Tamsin Orbell")
    assert "Pressure" not in fault.found
    (told,) = fault.corrected
    assert told == (
        "Certificate JC-301 → JC-301a; force per bar 1.4736190\N{NO-BREAK SPACE}kN/bar"
        " → 1.4441466\N{NO-BREAK SPACE}kN/bar;"
        f" last day {_day(LAST - 1)} → {_day(LAST - 1 - 10 * DAY_MS)}"
        " – corrected by Edric Vanholt, Erection engineer, 2027-01-15 09:50:"
        " “Gauge read 2 % high when calibrated”"
        f" (entry {new.id[:10]}, in place of {jack[:10]})"
    )
    # What was read was read by the certificate of that day, and says so.
    (used,) = book.used
    assert (used.certificate, used.corrected) == ("JC-301", True)
    html = record_html(book)
    assert told in html
    # Beside what was used, too: what it is called now, and until when.
    until = _day(LAST - 1 - 10 * DAY_MS)
    assert used.now == f"JC-301a, last day {until}"
    assert f"corrected since to {used.now}" in html


def test_a_renewed_certificate_corrects_nothing(site: Book) -> None:
    jack = site.office_says("registered", JACK, LINE)
    stressed(site, [jack])
    by_stores(site, {**JACK, "text": "JC-388", "replaces": jack}, LINE)
    book = told_of(site)
    assert book.nonconformances == ()
    (used,) = book.used
    assert (used.certificate, used.corrected, used.now) == ("JC-301", False, "")


@pytest.mark.parametrize("copied", [False, True])
def test_what_was_taken_out_of_use_is_told_beside_its_certificate(
    site: Book, *, copied: bool
) -> None:
    jack = site.office_says("registered", JACK, LINE)
    about = {**JACK, "text": "Broken", "replaces": jack, "expires": site.at(50).now}
    out = by_stores(site, about, LINE)
    # A phone that copies from paper names what it knows to stand: the taking out.
    stressed(site, [out.id if copied else jack])
    book = told_of(site)
    assert book.nonconformances == ()
    (used,) = book.used
    assert (used.certificate, used.last_day) == ("JC-301", _day(LAST - 1))
    since = "since 2027-01-15 09:50: “Broken”"
    assert used.out == since
    assert f", taken out of use {since})" in record_html(book)


def test_a_certificate_that_was_over_makes_no_copied_reading_good(site: Book) -> None:
    over = {**JACK, "expires": START_MS + 25 * 60_000}
    jack = site.office_says("registered", over, LINE)
    about = {**JACK, "text": "Broken", "replaces": jack, "expires": site.at(50).now}
    stressed(site, [by_stores(site, about, LINE).id])
    words = [each.words for each in told_of(site).nonconformances]
    assert len(words) == 2
    assert all("Out of calibration" in each for each in words), words


def by_stores(
    book: Book, about: dict[str, Any], values: dict[str, int], minute: float = 50
) -> Entry:
    """Have somebody of the site register an item on a phone."""
    subject, book.subject = book.subject, None  # type: ignore[assignment]
    try:
        said = book.at(minute).say("registered", by="edric", about=about, values=values)
    finally:
        book.subject = subject
    row = next(row for entry, row in book.rows if entry.id == said)
    return read_entry(row.body.encode("utf-8"))


def _day(moment_ms: int) -> str:
    from fieldapp.records.figures import day

    return day(moment_ms, 60)
