"""The register and the plan at the desk: traced, dated, with every limit's source."""

from pathlib import Path

import pytest

from fieldapp.lookups.register import register_of
from fieldapp.store.database import connected
from fieldapp.web import register_page
from tests.people import FOREMAN, SUBJECT, put_in_force
from tests.web.race import ENGINEER, LIFE, OTHER, PICTURE, Race, race, race_sheet


@pytest.fixture
def site(tmp_path: Path) -> Race:
    return race(tmp_path)


def test_the_register_lists_items_by_kind_with_what_ends_soon(site: Race) -> None:
    text = site.read("/register/")
    assert "Gauges" in text
    # The gauge is good for two days more.
    assert text.count("ends soon") == 2
    site.wiped()
    assert "1 subject<" in site.read("/register/")
    site.at(3 * 24 * 60).desk.sign_in()
    assert "expired" in site.read("/register/")


def test_the_register_is_searched_and_a_long_kind_folds(
    site: Race, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "1 of 1 items" in site.read("/register/?q=GAUGE")
    nothing = site.read("/register/?q=nowhere")
    assert "No item has “nowhere”" in nothing
    assert "Ends within seven days" not in nothing
    # The gauge ends soon: it stays in sight whatever is folded.
    monkeypatch.setattr(register_page, "MANY", 0)
    text = site.read("/register/")
    assert "1 good" not in text
    assert text.count("ends soon") == 2
    monkeypatch.setattr(register_page, "SOON_MS", 0)
    folded = site.read("/register/")
    assert "<summary>1 good</summary>" in folded
    assert '<details class="card" open>' in site.read("/register/?q=gauge")


def test_an_item_leads_to_every_reading_and_its_certificate(site: Race) -> None:
    site.at(0).wiped(temp=200)
    site.at(1).wiped(temp=210)
    text = site.read("/register/g1")
    assert "3.5 bar" in text
    assert "2 readings" in text
    assert text.count("read again since") == 1
    assert f"/joints/{SUBJECT}#s-wipe" in text


def test_what_was_taken_out_of_use_says_why_by_whom_and_when(site: Race) -> None:
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, race_sheet(), race_sheet(OTHER), people=[ENGINEER],
                     tables=[LIFE], register=["foreman"], **PICTURE)  # fmt: skip
        (gauge,) = register_of(site.desk.site.wired.reader)
    site.at(5)
    about = {"item": "g1", "kind": "gauge", "label": gauge.label, "text": "Bent",
             "replaces": gauge.entry, "expires": site.desk.site.now}  # fmt: skip
    out = site.say("registered", subject=None, about=about, values={"zero": 35})
    told = " ".join(site.read("/register/").split())
    assert "out of use since" in told
    assert "by Ida Fell: Bent" in told
    assert "good until" not in told
    one = " ".join(site.read("/register/g1").split())
    assert "<strong>Now out of use since" in one
    assert "Taken out of use: Bent" in one
    # Nobody is harmed by what lies with the scrap.
    assert "Gauge one" not in site.read("/today")
    # Read with all the same, then put back as never bent: its reason is no certificate.
    site.at(6).wiped(needs=[out])
    # Its own certificate's last day, as paper tells it, and not the hour it went out.
    used = site.read(f"/joints/{SUBJECT}").partition('id="items"')[2]
    assert "last day 2026-05-30, taken out of use since 2026-05-28 22:31" in used
    assert "“Bent”" in used.partition("</section>")[0]
    assert "good until" not in used.partition("</section>")[0]
    back = {**about, "text": "GC-12", "replaces": out, "reason": "Never bent"}
    del back["expires"]
    site.at(7).say("registered", subject=None, about=back, values={"zero": 35})
    told = site.read("/nonconformances").partition("“Never bent”")[0]
    assert (
        '<strong>Use</strong> <span class="small">was</span> taken out of use'
        ' <span class="small">is</span> <strong>in use again</strong>'
    ) in told
    assert "Bent" not in told


def test_the_day_of_something_planned_does_not_expire(site: Race) -> None:
    door = site.desk.site.wired.door
    planned = [{"id": "gauge", "title": "Casts", "numbers": [], "planned": 1}]
    with connected(door.store):
        put_in_force(door, race_sheet(), race_sheet(OTHER), people=[ENGINEER],
                     tables=[LIFE], **PICTURE | {"item_kinds": planned})  # fmt: skip
    assert "planned" in site.read("/register/")
    assert "Gauge one" not in site.read("/today")
    site.at(3 * 24 * 60).desk.sign_in()
    assert "Gauge one" not in site.read("/today")
    text = site.read("/register/")
    assert "expired" not in text
    assert text.count("its day is past") == 1


def test_a_use_that_was_taken_back_is_listed_and_said_not_to_count(site: Race) -> None:
    site.wiped()
    assert "Used by 1 subject." in site.read("/register/g1")
    site.at(1).say("done", step="wipe", values={"temp": 216})
    text = site.read("/register/g1")
    assert "Used by 0 subjects" in text
    assert "1 more named it in readings replaced since" in text
    assert "not counted: its readings were replaced" in text


def test_what_a_foreman_registers_is_shown_and_does_not_count(site: Race) -> None:
    about = {"item": "g1", "kind": "gauge", "label": "Mine"}
    site.say("registered", by=FOREMAN, subject=None, about=about, values={"zero": 1})
    assert "does not count" in site.read("/register/")
    assert "does not count" in site.read("/register/g1")
    assert "Gauge one" in site.read("/register/g1")


def test_the_line_of_a_jack_is_told_in_units(site: Race) -> None:
    # By hand: 305 bar times 1.473619 less 2.4142857 are 447.04 kN; the whole numbers
    # hold 10^-7 kN/bar and 10^-7 kN, as a sheet with pressures in whole bar reads them.
    line = {"slope": 14_736_190, "intercept": -24_142_857, "low": 50, "high": 400}
    about = {"item": "g1", "kind": "jack", "label": "Jack"}
    site.say("registered", by=FOREMAN, subject=None, about=about, values=line)
    text = site.read("/register/g1")
    for title, value in (("certified from", "50"), ("certified to", "400")):
        assert f"{title} <b>{value} bar</b>" in text
    assert "force per bar <b>1.4736190 kN/bar</b>" in text
    assert "force at 0 bar <b>\N{MINUS SIGN}2.4142857 kN</b>" in text
    assert "slope" not in text


def test_a_photo_of_a_certificate_is_told_before_it_has_arrived(site: Race) -> None:
    about = {"item": "g1", "kind": "gauge", "label": "Gauge", "text": "JC-7"}
    told = {"about": about, "values": {"zero": 1}, "photos": ["ab" * 32]}
    site.say("registered", by=FOREMAN, subject=None, **told)
    assert "photo ababababab has not arrived" in site.read("/register/g1")


def test_the_plan_reads_as_an_inspection_and_test_plan(site: Race) -> None:
    text = site.read("/plan/tie")
    for words in ("Inspection and test plan: Tie joint", "Face, °C",
                  "The face is 5.0 °C or warmer", "the maker&#39;s sheet",
                  "Both faces dry.", "[practice]", "stands 30 min",
                  "lapses on rain", "notice 1 h 00 min", "to be signed within 4 h",
                  "Inspector (Tarn Board); 20 min after the call Engineer",
                  "not by whoever did the work", "1 photo", "Gang foreman",
                  "Shut by: 50.0 %", "24 h 00 min after Close"):  # fmt: skip
        assert words in text, words
    assert 'class="letter hold">H<' in text
    assert 'class="letter witness">W<' in text


def test_the_limits_are_those_of_the_subject_that_was_chosen(site: Race) -> None:
    assert "must have" not in site.read(f"/plan/tie?subject={SUBJECT}")
    assert "must have Joint shut before Mixing" in site.read(
        f"/plan/tie?subject={OTHER}"
    )
    assert "2 subjects" in site.read("/plan/")


def test_a_corrected_certificate_is_told_with_what_it_said_and_why(site: Race) -> None:
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, race_sheet(), race_sheet(OTHER), people=[ENGINEER],
                     tables=[LIFE], register=["foreman"], **PICTURE)  # fmt: skip
        (gauge,) = register_of(site.desk.site.wired.reader)
    site.at(1).wiped(needs=[gauge.entry])
    about = {"item": "g1", "kind": "gauge", "label": gauge.label,
             "replaces": gauge.entry, "reason": "Misread by stores"}  # fmt: skip
    site.at(2).say("registered", subject=None, about=about, values={"zero": 41})
    for path in ("/nonconformances", f"/joints/{SUBJECT}"):
        text = site.read(path)
        assert "“Misread by stores”" in text
        assert "3.5 bar" in text
        assert "<strong>4.1 bar</strong>" in text
        assert "Ida Fell" in text
    # Decided it can be since the correction, however old the reading is.
    waits = site.at(12).read("/today").partition('id="decide"')[2].partition("</ul>")[0]
    assert "waiting 10 min" in waits
