"""What the pages of a record say, read from real PDFs and from their plain data.

Expected readings and times are those the stories state, so that a reader of a test
can follow a figure from the mouth of a person to the paper.
"""

import re
from copy import deepcopy
from dataclasses import replace
from html import unescape
from io import BytesIO

import pytest
from pypdf import PdfReader

from fieldapp.records.evidence import Title
from fieldapp.records.record import record_html, record_pdf
from fieldapp.records.view import record_view
from tests.records.book import Book
from tests.records.joint import CHAPTERS
from tests.records.paper import (
    PAPER,
    book,
    evidence,
    opened,
    pages,
    printed,
    text,
    view,
)
from tests.records.stories import LONG_NAME, MARKUP, begun

pytestmark = PAPER


def test_a_good_joint_takes_two_or_three_pages() -> None:
    read = pages(printed("good"))
    assert len(read) == 2
    assert "page 2 of 2" in read[1]


def test_the_heading_names_site_subject_document_revision_and_moment() -> None:
    first = pages(printed("good"))[0]
    assert "Marrowfen Bridge over the River Tisk Joint W1" in first
    assert "Document TISK-J-W1" in first
    assert "Revision print, not archived" in first
    assert "As of 2027-01-15 10:00 UTC+01:00" in first


def test_every_page_says_that_the_record_does_not_approve() -> None:
    for page in pages(printed("over_time")):
        assert "records and computes; does not approve" in page
        assert "TISK-J-W1" in page


@pytest.mark.parametrize(
    ("story", "word"),
    [
        ("good", "complete"),
        ("empty", "incomplete"),
        ("begun", "incomplete"),
        ("troubled", "incomplete: 3 nonconformances open"),
        ("over_time", "complete"),
        ("use_as_is", "complete under concession"),
    ],
)
def test_the_verdict_is_a_fact(story: str, word: str) -> None:
    assert view(story).verdict.word == word
    assert word in pages(printed(story))[0]
    assert "complian" not in text(story).casefold()
    assert "approved" not in text(story).casefold()


def test_an_empty_joint_says_what_is_missing_and_that_nothing_is_recorded() -> None:
    first = pages(printed("empty"))[0]
    assert "Something is still missing; it is listed on this page." in first
    for title in ("Faces and air", "Ready to mix", "Gate: mixing"):
        assert title in first
    assert "Nothing has been recorded." in text("empty")
    assert "Entries none" in text("empty")


def test_page_one_counts_what_a_reader_must_know_zero_included() -> None:
    first = pages(printed("good"))[0]
    for label in ("nonconformances", "recorded late", "copied from paper",
                  "corrections", "refusals", "spoken releases"):  # fmt: skip
        assert f"{label}: 0" in first
    counts = {each.label: each.number for each in view("troubled").counts}
    assert counts["recorded late"] == 1
    assert counts["copied from paper"] == 1
    assert counts["corrections"] == 1
    assert counts["refusals"] == 1
    assert counts["nonconformances"] == 3


def test_readings_stand_with_units_limits_sources_and_computed_figures() -> None:
    said = text("good")
    assert "Coldest point, new face [°C] 17.2" in said
    assert "Margin above dew point" in said
    assert "(at least 3.00)" in said
    annex = said.partition("Annex D.")[2]
    assert "Faces and air: A face is wet: dry it and wipe again. [VDOT" in annex
    # A bar a row, its rounds side by side: pressure and force, in the last round the
    # extension too, each round with its time.
    row = r"bar 6, web right 123 \S+ 09:\d\d \w+ 230 \S+ 09:\d\d \w+ 307 11 450.0 09:35"
    assert re.search(row, said)
    assert "round 3: 427.5 to 472.5" in said


def test_a_release_tells_name_role_organisation_meaning_time_key_and_entry() -> None:
    point = next(each for each in view("good").points if each.id == "mixing")
    (release,) = [each for each in point.acts if each.act.kind == "release"]
    assert (point.title, point.sort) == ("Gate: mixing", "hold point")
    assert release.meaning == "released"
    assert release.act.who.name == "Leofric Mayne"
    assert release.act.who.roles == "Inspector"
    assert release.act.who.organisation == "Tisk Crossing Board"
    assert release.act.when == "2027-01-15 09:05"
    assert release.by_pin
    assert release.stands == "stands"
    entry = next(e for e in evidence("good").entries if '"release"' in e.body)
    assert release.act.index == entry.index
    assert release.act.who.key in entry.body


def test_a_refusal_is_told_in_full_on_page_one_or_right_after() -> None:
    act = next(each for each in view("troubled").incidents if each.kind == "refusal")
    assert act.text == f"Seen: {MARKUP}"
    assert act.who.name == "Leofric Mayne"


def test_text_with_markup_is_printed_as_it_was_typed() -> None:
    html = record_html(view("troubled"))
    assert "<script>" not in html
    assert "&lt;script&gt;" in html
    assert MARKUP in unescape(html)
    assert "<b>wet</b>" in text("troubled")


def test_a_correction_tells_old_new_reason_and_both_entries() -> None:
    said = text("troubled")
    assert "Air temperature 16.5 °C → 17.2 °C" in said
    assert "Misread the air" in said
    faces = next(each for each in view("troubled").steps if each.id == "faces")
    earlier = faces.lines.rows[0].earlier
    assert len(earlier) == 3, "read, read again, corrected"
    assert "Rag comes away damp" in earlier[0]
    assert earlier[2].endswith("(stands)")


def test_a_late_and_a_copied_entry_tell_both_times() -> None:
    notices = {n.words[0]: n.act for n in view("troubled").notices}
    late = notices["Recorded late."]
    assert (late.when, late.signed) == ("2027-01-15 09:28", "09:48")
    copied = notices["Copied from paper."]
    assert (copied.when, copied.signed) == ("2027-01-15 09:22", "09:26")
    assert "Film 0.8\N{NO-BREAK SPACE}mm" in copied.text
    assert "written by N. Noll" in copied.text


def test_a_stop_and_what_made_it_safe_are_told() -> None:
    kinds = {act.kind: act.text for act in view("troubled").incidents}
    assert kinds["STOP"].startswith("Power or jack failed; made safe ")
    assert kinds["made safe"] == "Spare jack"


def test_a_stop_in_force_is_told_beside_the_verdict() -> None:
    story = begun()
    story.at(6).say("stopped", by="jorun", on="gang-2", about={"reason": "rain"})
    stopped = record_view(story.evidence()).stopped
    assert stopped == "Rain, since 2027-01-15 09:06"


def test_a_gate_passed_without_a_release_that_counts_is_not_called_released() -> None:
    point = next(each for each in view("troubled").points if each.id == "mixing")
    assert point.mark.word == "passed without a release that counts"
    assert {a.stands for a in point.acts if a.act.kind == "release"} == {
        "did not count"
    }
    told = "0 of 2 released, 1 passed without a release that counts"
    assert ("Hold points", told) in view("troubled").summary


def test_a_disposition_is_told_in_full_with_its_signer() -> None:
    (fault,) = view("use_as_is").nonconformances
    assert fault.words == "The force is outside the band of this round."
    assert fault.mark.word == "decided: use as is"
    disposition = fault.acts[-1]
    assert disposition.kind == "disposition"
    assert disposition.who.name == "Caspar Lindenau"
    assert disposition.who.organisation == "Ostrel Bridge Design"
    assert "Least stress holds with 416 kN in bar 3" in disposition.text
    assert fault.words in pages(printed("use_as_is"))[0]


def test_an_over_time_joint_tells_both_attempts() -> None:
    record = view("over_time")
    assert ("Attempts", "2") in record.summary
    (first,) = record.attempts
    clock = next(each for each in first.clocks if not each.per_line)
    # First kit 09:08; round 3 began 11.7 min after 10:20 and bar 6 came last... the
    # clock ends when mean and least hold, so after 10:22: 74 min or more have run.
    assert clock.mark.word == "over"
    assert clock.used_ppm > 1_150_000
    assert "part, clean, begin again" in first.ended.text
    assert next(c for c in record.clocks if not c.per_line).mark.word == "met"
    said = text("over_time")
    assert "Attempt 1, which did not stand" in said
    assert (
        "The open time was over before contact pressure."
        in pages(printed("over_time"))[0]
    )


def test_every_key_that_signed_is_printed_whole() -> None:
    said = text("troubled").replace(" ", "")
    signed = "".join(entry.body for entry in evidence("troubled").entries)
    keys = set(re.findall(r'"key":"([0-9a-f]{64})"', signed))
    assert len(keys) == 3
    assert all(key in said for key in keys)
    # Since when each may sign stands beside it.
    assert len(re.findall(r"bycode\d{4}-\d\d-\d\d,active", said)) == len(keys)


def test_ledger_position_and_fingerprints_are_printed() -> None:
    story = book("good")
    said = text("good").replace(" ", "")
    assert story.office.id in said
    assert story.head in said
    first, last = evidence("good").entries[0].index, evidence("good").entries[-1].index
    assert f"37,index{first}to{last}" in said


def test_us_letter_paper_and_a_revision_that_replaces_another() -> None:
    title = Title(document="REC 7", revision=2, supersedes="REC 7 rev 1", page="Letter")
    pdf = record_pdf(replace(evidence("begun"), title=title))
    with opened(pdf) as looked_into:
        sides = [round(float(side)) for side in looked_into.pages[0].MediaBox]
    assert sides == [0, 0, 612, 792]
    assert "Revision 2, archived, in place of REC 7 rev 1" in pages(pdf)[0]


def test_sixty_bars_and_long_names_break_over_pages_with_their_heads() -> None:
    read = pages(printed("crowded"))
    assert len(read) > 5
    lines = [page for page in read if "Round 2, bar" in page]
    assert len(lines) > 2
    assert all("its limits Time Entry" in page for page in lines)
    whole = "".join(read).replace(" ", "")
    assert LONG_NAME.replace(" ", "") in whole
    assert "W" * 1_900 in whole.replace("note:", "")
    assert "Round3,bar60," in whole


def test_nothing_of_a_page_lies_outside_its_edges() -> None:
    """Every text begins inside the margins of A4: 15 mm are 42.5 points."""
    places: list[float] = []

    def note(words: str, cm: list[float], tm: list[float], *_rest: object) -> None:
        # Texts of pictures are placed within their picture, not the page.
        if words.strip() and cm[:4] != [1.0, 0.0, 0.0, 1.0]:
            places.append(tm[4] * cm[0] + tm[5] * cm[2] + cm[4])

    for page in PdfReader(BytesIO(printed("crowded"))).pages:
        page.extract_text(visitor_text=note)
    assert len(places) > 1_000
    assert min(places) > 40
    assert max(places) < 595 - 42


def test_surveillance_not_made_is_not_missing_from_a_complete_record() -> None:
    sheet = deepcopy(book("good").sheet)
    watch = {**sheet["points"]["weight"], "class": "surveillance", "title": "Looked at",
             "shuts": [], "after": []}  # fmt: skip
    sheet["points"]["watch"] = watch
    sheet["flow"].append("watch")
    watched = Book(sheet=sheet)
    for tell in CHAPTERS.values():
        tell(watched)
    said = record_view(watched.evidence())
    assert said.verdict.word == "complete"
    assert "Looked at" in [each.title for each in said.points]
    assert not said.missing
