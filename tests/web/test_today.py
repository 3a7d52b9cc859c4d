"""The page *Today*: what may start, what runs, who waits for whom, what bites."""

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from fieldapp.web.answers import answers
from fieldapp.web.may_start import may_start
from tests.people import INSPECTOR, SUBJECT
from tests.web.race import OTHER, Race, amend, race, within_an_hour
from tests.web.test_work import released, running, section


@pytest.fixture
def site(tmp_path: Path) -> Race:
    return race(tmp_path)


def test_today_says_what_may_start_and_who_waits_for_whom(site: Race) -> None:
    text = site.read("/today")
    assert "begins with: Wipe the face" in section(text, "start")
    assert OTHER not in section(text, "start")
    assert "waits for Joint 1: Joint shut" in section(text, "others")
    assert "No clock is running" in section(text, "runs")


def waited(site: Race) -> str:
    """Give the page forty minutes after a call that nobody has answered."""
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    return site.at(41).read("/today")


def test_today_says_who_is_waiting_for_a_release_and_since_when(site: Race) -> None:
    text = section(waited(site), "calls")
    assert "waiting 40 min" in text
    assert "by Ida Fell" in text
    assert "<strong>Inspector (Tarn Board)</strong>" in text
    assert "Engineer may from 22:47" in text


def test_a_called_gate_whose_reading_grew_old_waits_for_who_reads_it_again(
    site: Race,
) -> None:
    issued = within_an_hour(site)
    site.at(0).wiped(**issued)
    site.at(1).say("called", point="go", **issued)
    site.at(2).say("release", by=INSPECTOR, point="go", **issued)
    for page in ("/today", "/queue"):
        assert "read again" not in site.at(60).read(page), page
    # Read at noon, for an hour: by hand, 23:26 of the site's clock.
    ends = "ends “Face read within the last hour.”"
    assert f"Mixing, not signed: {ends}" in section(site.read("/today"), "bites")
    assert "Met until 23:26." in site.read("/queue")
    gate = f"/joints/{SUBJECT}/points/go"
    assert "✓ met until 23:26" in site.read(gate)
    text = site.at(61).read("/today")
    again = "Gang foreman: Wipe the face read again"
    head = text.partition('class="answers"')[2].partition("</ul>")[0]
    assert f"for {again}; then Engineer: Mixing" in head
    assert f"<strong>{again}</strong>; then Engineer" in section(text, "calls")
    assert ends not in text
    queue = site.read("/queue")
    assert f"waits first for <strong>{again}</strong>" in queue
    assert "Met until" not in queue
    assert "✕ not met" in site.read(gate)
    assert "met until" not in site.read(gate)


def test_today_shows_a_running_clock_with_its_minutes_in_hand(site: Race) -> None:
    running(site)
    text = section(site.at(5).read("/today"), "runs")
    # By hand, minutes after noon: begun at 3, half of 4,000 s is over at 36:20. A kit
    # of 10 and the closing of 5 minutes are left at 5: expected at 20, 16:20 in hand.
    assert "16 min in hand" in text
    assert "Shut by" in text
    assert "31 min left" in text
    assert "Joint shut expected <b>22:46" in text, "what is expected has a name"


def test_a_clock_that_runs_hides_nothing_of_what_may_go_on(site: Race) -> None:
    running(site)
    text = section(site.at(5).read("/today"), "start")
    assert "goes on with: Mix" in text
    site.at(6).say("stopped", about={"reason": "rain"})
    assert "goes on with: Mix" not in section(site.read("/today"), "start")


def test_the_three_questions_are_answered_in_short_at_the_head(site: Race) -> None:
    text = " ".join(waited(site).partition('class="answers"')[2].split())
    text = text.partition("</ul>")[0]
    assert "waiting 40 min" in text
    assert 'Inspector (Tarn Board): Mixing, <a href="/joint' in text
    assert "Gauge one</a>" in text, "what bites is one tap away"
    assert "no nonconformance open" in text


def test_today_says_when_the_gang_will_be_too_late(site: Race) -> None:
    running(site)
    text = section(site.at(25).read("/today"), "runs")
    # 11:20 left and 15 needed: 3:40 short, told as 4.
    assert "4 min short" in text


def test_what_bites_within_the_week_stands_in_the_order_of_time(site: Race) -> None:
    released(site)
    assert "Mixing: release ends" in section(site.at(3).read("/today"), "bites")
    site.at(3).say("done", step="mix", line="k1")
    text = section(site.at(5).read("/today"), "bites")
    order = ["Life of the mix: Shut by", "Gauge one"]
    places = [text.index(each) for each in order]
    assert places == sorted(places)
    assert "release ends" not in text, "used, it holds for what follows"


def test_a_hold_a_notice_and_a_word_to_be_signed_bite_too(site: Race) -> None:
    site.at(0).wiped()
    told = {"said_by": INSPECTOR, "heard_by": "elin", "text": "go on"}
    site.at(1).say("spoken", point="go", about=told)
    site.at(2).say("done", step="mix", line="k1")
    site.at(4).say("notice", by="elin", point="look")
    text = section(site.at(5).read("/today"), "bites")
    assert "Mixing: Omar Beck to sign what was spoken" in text
    assert "Seen: notice ends" in text
    # On a phone whose clock is slow: signed after it was read, whatever it says.
    site.at(0).say("release", by=INSPECTOR, point="go")
    assert "to sign what was spoken" not in site.read("/today")


def test_a_stop_is_shown_before_everything_else(site: Race) -> None:
    running(site)
    site.at(6).say("stopped", about={"reason": "rain"})
    assert "■ stopped since" in section(site.read("/today"), "runs")


def test_what_is_over_stays_at_the_head_until_it_is_decided(site: Race) -> None:
    running(site)
    late = site.at(45).read("/today")
    assert "Life of the mix: Shut by" in section(late, "bites")
    head = late.partition('class="answers"')[2].partition("</ul>")[0]
    assert "ago</span> Life of the mix: Shut by" in head
    # By hand: over at 36:20, decided it can be since then and not since it began.
    waits = late.partition('id="decide"')[2].partition("</ul>")[0]
    assert "waiting 8 min" in waits


def test_surveillance_is_never_what_a_joint_goes_on_with() -> None:
    points = {"seen": {"title": "Seen in passing", "class": "surveillance"}}
    steps = {"pot": {"title": "Pot looked at"}}
    raw = {"flow": ["seen", "pot"], "points": points, "steps": steps, "title": "J"}
    state = {
        "verdict": "incomplete",
        "points": {"seen": {"status": "ready", "refusals": []}},
        "steps": {"pot": {"status": "open", "refusals": []}},
    }
    sheet = SimpleNamespace(raw=raw, subject="j")
    found: Any = SimpleNamespace(sheet=sheet, state=state, entries=())
    assert [row["next"] for row in may_start(found)] == [steps["pot"]]


@pytest.mark.parametrize(
    ("wait", "levels", "expected"),
    [
        ("running", "failed", []),
        ("over", "failed", [("levels", True)]),
        ("over", "done", [("line", False)]),
    ],
)
def test_a_joint_goes_on_with_what_failed_and_with_nothing_while_its_gate_waits(
    wait: str, levels: str, expected: list[tuple[str, bool]]
) -> None:
    steps = {name: {"id": name, "title": name} for name in ("levels", "line")}
    points = {"mixing": {"title": "Mixing", "class": "hold"}}
    holds = [{"id": "day", "before": ["mixing"], "title": "24 hours"}]
    raw = {"flow": [*steps, *points], "points": points, "steps": steps, "title": "J",
           "holds": holds}  # fmt: skip
    state = {
        "verdict": "incomplete",
        "holds": {"day": {"status": wait}},
        "points": {"mixing": {"status": "waiting", "refusals": []}},
        "steps": {
            "levels": {"status": levels, "refusals": []},
            "line": {"status": "open", "refusals": []},
        },
    }
    sheet = SimpleNamespace(raw=raw, subject="j")
    found: Any = SimpleNamespace(sheet=sheet, state=state, entries=(1,))
    rows = [(row["next"]["id"], row["again"]) for row in may_start(found)]
    assert rows == expected


def test_what_is_shut_is_never_led_past() -> None:
    raced = {"status": "open", "refusals": []}
    shut = {"code": "nonconformance", "facts": {"id": "f"}}
    early = {"code": "hold_running", "facts": {"hold": "day", "until": 1}}
    found = [
        [row["next"]["id"] for row in may_start(_pair(first, raced))]
        for first in (
            {"status": "closed", "refusals": [shut]},
            {"status": "partial", "refusals": [shut]},
            {"status": "closed", "refusals": [early]},
            {"status": "failed", "refusals": [shut]},
        )
    ]
    assert found == [[], [], ["spread"], ["spread"]]


def _pair(first: dict[str, Any], second: dict[str, Any]) -> Any:
    steps = {name: {"id": name, "title": name} for name in ("mix", "spread")}
    raw = {"flow": [*steps], "points": {}, "steps": steps, "title": "J"}
    state = {
        "verdict": "incomplete",
        "points": {},
        "steps": {"mix": first, "spread": second},
    }
    sheet = SimpleNamespace(raw=raw, subject="j")
    return SimpleNamespace(sheet=sheet, state=state, entries=(1,))


def test_a_gate_shut_after_its_release_is_told_so_and_leads_nowhere(
    site: Race,
) -> None:
    amended, oily = amend(site), {"text": "oil on the face", "step": "wipe"}
    site.at(0).wiped(**amended)
    site.at(2).say("release", by=INSPECTOR, point="go", **amended)
    site.at(3).say("nonconformance", about=oily, **amended)
    text = site.read("/today")
    assert "Mix" not in section(text, "start")
    assert "Mixing: release ends, shut by a nonconformance" in section(text, "bites")
    for path in ("/nonconformances", f"/joints/{SUBJECT}"):
        assert "shuts: Mixing" in site.read(path), path
    joint = site.read(f"/joints/{SUBJECT}")
    assert "released, shut since by a nonconformance" in joint
    assert "Mix (shut)" in joint
    assert "An open nonconformance shuts this gate: oil on the face" in joint


NOTHING = {"arms": (), "called": [], "refused": [], "undecided": []}


def test_what_harms_stands_before_what_can_be_had_again_and_today_is_not_folded() -> (
    None
):
    rows = [
        {"at": at, "harms": harms, "today": today}
        for at, harms, today in [
            (1, False, True), (2, False, True), (3, True, True), (4, True, True),
            (5, True, False),
        ]
    ]  # fmt: skip
    told = answers(NOTHING | {"bites": rows})
    assert [row["at"] for row in told["bites"]] == [3, 4, 1, 2]
    assert (told["bites_more"], told["bites_today"]) == (1, 0)
    many = [{"at": at, "harms": True, "today": True} for at in range(11)]
    told = answers(NOTHING | {"bites": many})
    assert (told["bites_more"], told["bites_today"]) == (3, 3)


def test_a_refused_gate_waits_for_who_mends_it_until_it_is_called_again(
    site: Race,
) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    no = {"reason": "Not seen at the face"}
    site.at(2).say("refusal", by=INSPECTOR, point="go", about=no)
    text = site.at(5).read("/today")
    head = text.partition('class="answers"')[2].partition("</ul>")[0]
    assert "refused 3 min ago</span> Gang foreman: Mixing" in head
    assert "nobody for a release" not in head
    calls = section(text, "calls")
    assert "<strong>Gang foreman</strong> to mend it and call again" in calls
    assert "“Not seen at the face”, Omar Beck" in calls
    assert "then Inspector (Tarn Board) to release it anew" in calls
    assert "refused: Mixing" in site.read("/")
    site.at(6).say("called", point="go")
    text = site.at(7).read("/today")
    assert "refused" not in section(text, "calls")
    assert "waiting 1 min" in section(text, "calls")
