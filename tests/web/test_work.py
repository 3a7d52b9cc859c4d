"""The pages across the site: today, called points, nonconformances, what is missing."""

import re
from pathlib import Path

import pytest

from tests.people import INSPECTOR, NOON, SUBJECT
from tests.web.race import OTHER, Race, race
from tests.web.test_pages import UNSAFE

PAGES = ["/today", "/queue", "/nonconformances", "/missing", "/register/",
         "/register/g1", "/plan/", "/plan/tie", f"/joints/{SUBJECT}",
         "/"]  # fmt: skip


@pytest.fixture
def site(tmp_path: Path) -> Race:
    return race(tmp_path)


def released(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    site.at(2).say("release", by=INSPECTOR, point="go")


def running(site: Race) -> None:
    released(site)
    site.at(3).say("done", step="mix", line="k1")


def section(text: str, name: str) -> str:
    """Give the part of a page that a heading's id begins."""
    found = re.search(rf'id="{name}".*?</section>', text)
    assert found is not None, name
    return found[0]


@pytest.mark.parametrize(
    ("path", "marked"),
    [
        ("/today", "page>Today"),
        ("/queue", "page>Called"),
        (f"/joints/{SUBJECT}", "true>Work"),
        ("/register/g1", "true>Register"),
        ("/calculations/tendon", "true>Calculations"),
    ],
)
def test_the_bar_marks_the_part_that_a_page_belongs_to(
    site: Race, path: str, marked: str
) -> None:
    bar = re.search(r'<nav aria-label="Main">.*?</nav>', site.read(path))
    assert bar is not None
    assert [
        f"{kind}>{name}"
        for kind, name in re.findall(r'aria-current="(\w+)">(\w+)<', bar[0])
    ] == [marked]


def test_the_queue_shows_what_a_called_point_rests_on(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    text = site.at(11).read("/queue")
    for words in ("Mixing", "waiting 10 min", "Both faces dry.", "21.5 °C",
                  "Gauge one", "/photos/", "with the PIN", "done",
                  "to be signed by Inspector"):  # fmt: skip
        assert words in text
    assert "Not to be released as it stands" not in text


def test_the_queue_says_what_a_called_point_still_lacks(site: Race) -> None:
    site.at(0).say("called", point="go")
    text = site.at(1).read("/queue")
    assert "Not to be released as it stands" in text
    assert "Wipe the face is not recorded yet." in text


def test_a_photo_that_has_not_arrived_is_named_where_it_is_needed(site: Race) -> None:
    site.at(0).wiped(send=False)
    site.at(1).say("called", point="go")
    assert "by Ida Fell has not arrived" in site.read("/queue")
    assert "not arrived; taken by Ida Fell on gang" in site.read("/missing")
    assert "still on gang" in site.read(f"/joints/{SUBJECT}")


def test_points_that_may_be_called_are_told_apart(site: Race) -> None:
    site.at(0).wiped()
    text = site.read("/queue")
    assert "Nobody is waiting for a release." in text
    assert "May be called, not yet called" in text


def failed(site: Race) -> str:
    site.at(0).wiped(temp=49)
    page = site.desk.client.get(f"/joints/{SUBJECT}").text
    found = re.search(r'title="([0-9a-f]{64})"', page[page.index('id="nc"') :])
    assert found is not None
    return found[1]


def test_an_open_nonconformance_is_shown_with_all_its_evidence(site: Race) -> None:
    failed(site)
    text = site.read("/nonconformances")
    for words in ("The face is 5.0 °C or warmer", "4.9 °C", "Ida Fell",
                  "<strong>4.9 °C, at least 5.0 °C</strong>",
                  "the maker&#39;s sheet", "shuts: Mixing", "found by the rules",
                  "May propose: Gang foreman", "May decide: Inspector",
                  "own key can sign"):  # fmt: skip
        assert words in text
    assert "<strong>Inspector" in section(site.read("/today"), "decide")
    assert "nonconformance open" in site.read("/missing")


def test_a_clock_that_ran_over_is_shown_with_its_deadline_and_by_how_much(
    site: Race,
) -> None:
    running(site)
    # Half of 4,000 s from 22:29:40 is 23:03:00; at 23:07:40 it is over for 4:40.
    told = "<strong>Shut by 2026-05-28 23:03: over for 4 min</strong>"
    assert told in site.at(41).read("/nonconformances")
    assert told in site.read(f"/joints/{SUBJECT}")


def test_what_a_person_wrote_of_a_nonconformance_is_what_is_shown(site: Race) -> None:
    site.at(0).say("nonconformance", about={"text": "chipped key, left web"})
    for path in ("/nonconformances", "/today", "/missing", f"/joints/{SUBJECT}"):
        assert "chipped key, left web" in site.read(path), path
    assert "Raised by a person" not in site.read("/nonconformances")


def test_a_proposal_and_a_decision_move_it_on_with_their_reasons(site: Race) -> None:
    fault = failed(site)
    about = {"target": fault, "verdict": "use_as_is", "reason": "warm by noon"}
    site.at(2).say("proposal", about=about)
    assert "“warm by noon”" in section(site.read("/nonconformances"), "g-proposed")
    site.at(3).say("disposition", about=about | {"reason": "not mine to say"})
    site.at(4).say("disposition", by=INSPECTOR, about=about | {"reason": "agreed"})
    decided = section(site.read("/nonconformances"), "g-disposed")
    assert "disposition: use as is" in decided
    assert "“agreed”" in decided
    assert decided.count("does not count") == 1
    # Where nothing is, a count says so; a heading over nothing would not.
    text = site.read("/nonconformances")
    assert "<span>open <b>0</b></span>" in text
    assert 'id="g-open"' not in text


def test_what_is_missing_is_told_in_the_order_of_the_work(site: Race) -> None:
    running(site)
    text = site.read("/missing")
    assert "begun, 1 to record" in text
    assert "Not begun yet" in text
    assert "1 are not begun" in text
    assert f'id="m-{OTHER}"' not in text


def test_entries_set_apart_are_told(site: Race) -> None:
    site.phone.key_of("stranger")
    site.say("note", by="stranger", about={"text": "let me in"})
    text = section(site.read("/missing"), "apart")
    assert "unknown key; brought by gang" in text
    assert "in the name of stranger" in text


def test_a_joint_shows_conditions_notice_items_and_photos(site: Race) -> None:
    site.at(0).wiped()
    condition = {"text": "cover the spare kit", "before": "close"}
    release = site.at(1).say(
        "release", by=INSPECTOR, point="go", about={"conditions": [condition]}
    )
    site.at(2).say("notice", by="elin", point="look")
    text = site.read(f"/joints/{SUBJECT}")
    assert "condition: cover the spare kit, before Close" in text
    assert "notice runs until" in text
    assert 'href="/register/g1"' in text
    assert re.search(r"/photos/[0-9a-f]{64}/small", text)
    about = {"target": release, "condition": 0, "text": "covered"}
    site.at(3).say("condition_closed", point="go", about=about)
    assert "✓</span> closed" in site.read(f"/joints/{SUBJECT}")
    assert "notice ran until" in site.at(99).read(f"/joints/{SUBJECT}")


def test_a_spoken_release_is_shown_as_spoken(site: Race) -> None:
    site.at(0).wiped()
    told = {"said_by": INSPECTOR, "heard_by": "elin", "text": "go on"}
    site.at(1).say("spoken", point="go", about=told)
    text = site.read(f"/joints/{SUBJECT}")
    assert "Spoken by Omar Beck, heard by Elin Marsh" in text
    assert "“go on”" in text


def test_a_witness_point_whose_notice_ran_out_has_a_word_of_its_own(
    site: Race,
) -> None:
    running(site)
    site.at(4).say("notice", by="elin", point="look")
    assert "notice has run out" in site.at(65).read(f"/joints/{SUBJECT}")


def test_a_photo_not_seen_by_who_released_is_told(site: Race) -> None:
    site.at(0).wiped()
    photo = re.search(r"/photos/([0-9a-f]{64})", site.read(f"/joints/{SUBJECT}"))
    assert photo is not None
    about = {"unseen": [photo[1]]}
    site.at(1).say("release", by=INSPECTOR, point="go", about=about)
    assert "signed without seeing it" in site.read(f"/joints/{SUBJECT}")


@pytest.mark.parametrize("path", PAGES)
def test_every_page_reads_without_script_and_wants_a_sign_in(
    site: Race, path: str
) -> None:
    running(site)
    failed(site)
    answer = site.desk.client.get(path)
    assert answer.status_code == 200
    assert UNSAFE.findall(answer.text) == []
    assert "<script" not in answer.text
    assert "None" not in re.sub(r"<[^>]*>", "", answer.text)
    fresh = site.desk.app.test_client()
    assert fresh.get(path).headers["Location"].startswith("/sign-in")


@pytest.mark.parametrize(
    "path", ["/register/nothing", "/plan/nothing", "/plan/tie?subject=J9",
             "/plan/tie?subject=%00", "/register/..%2f..", "/papers/J9/blank.pdf",
             "/joints/%F0%9F%98%80"]
)  # fmt: skip
def test_what_is_not_there_is_404(site: Race, path: str) -> None:
    assert site.desk.client.get(path).status_code == 404


def test_a_site_without_work_shows_empty_pages(site: Race) -> None:
    site.desk.site.now = NOON
    for path in PAGES:
        assert site.desk.client.get(path).status_code == 200
    # No green tick where there was nothing to miss.
    for path in ("/missing", "/archive"):
        assert "Nothing is begun yet." in site.desk.client.get(path).text


def test_the_list_follows_the_sites_own_order_and_groups_by_kind(site: Race) -> None:
    text = site.read("/")
    assert text.index("Joint 2") < text.index("Joint 1</a>")
    assert "Tie joint" in text
    assert "2 of 2 subjects" in text


def test_a_blank_sheet_is_the_paper_alone(site: Race) -> None:
    answer = site.desk.client.get(f"/joints/{SUBJECT}/blank")
    assert answer.headers["Location"] == f"/papers/{SUBJECT}/blank.pdf"
    assert site.read(f"/joints/{SUBJECT}").count("Blank sheet") == 1


def test_an_act_a_gate_forbade_is_said_to_be_that_and_not_out_of_limits(
    site: Race,
) -> None:
    site.at(0).wiped()
    for kit in ("k1", "k2"):
        site.at(1).say("done", step="mix", line=kit)
    text = site.read("/missing")
    assert "done although it was shut" in text
    assert "out of limits" not in text
    assert "nonconformance open, 2 times" in text
    # The gate they went through is no work still to be begun.
    assert "passed without a release that counts" in text
    joint = site.read(f"/joints/{SUBJECT}")
    assert "Mix: done although it was shut." in joint
    assert "happened anyway" in joint


OILY = {"text": "wiped with an oily rag", "step": "wipe"}


def test_a_nonconformance_names_the_gate_it_shuts(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("nonconformance", about=OILY)
    for path in ("/nonconformances", f"/joints/{SUBJECT}"):
        assert "shuts: Mixing" in site.read(path), path


def test_a_gate_that_is_behind_is_shut_by_no_nonconformance(site: Race) -> None:
    running(site)
    site.at(4).say("done", step="mix", line="k2")
    site.at(5).say("nonconformance", about=OILY)
    for path in ("/nonconformances", f"/joints/{SUBJECT}"):
        text = site.read(path)
        assert "shuts no gate any more: Mixing is behind" in text, path
        assert "shuts: Mixing" not in text, path
