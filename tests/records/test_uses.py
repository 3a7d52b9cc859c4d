"""Items used, of readings that were made anew: taken back in time, or replaced."""

from tests.records.book import Book
from tests.records.test_certificates import (
    LOT,
    WARM,
    again,
    mixed,
    record_html,
    told_of,
)


def test_what_others_had_relied_on_was_used_and_is_told_as_replaced() -> None:
    site = Book()
    mixed(site, [site.office_says("registered", LOT)])
    site.at(21).say("note", by="jorun", about={"text": "Two kits left"})
    again(site, 22, "lot-w1", [site.office_says("registered", WARM)])
    told = [(each.things, each.replaced) for each in told_of(site).used]
    assert told == [(LOT["label"], True), (WARM["label"], False)]
    assert "kits</b> (no last day; replaced since)" in record_html(told_of(site))
    # Mixed of the first lot after all, that lot was used.
    again(site, 24, "lot-c1", [], line="kit-2")
    assert not any(each.replaced for each in told_of(site).used)
