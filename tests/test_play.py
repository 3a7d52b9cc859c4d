"""Stories: what each entry led to, concurrency, wrong clocks, and wrong stories."""

import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.commands import play as command
from fieldapp.play.changes import differences
from fieldapp.play.player import Player
from fieldapp.play.story import Story, read_story, story_of
from fieldapp.play.world import PlayFault
from fieldapp.store.database import connected
from tests.commands import at_hand, run
from tests.people import stage
from tests.plan.sample import SAMPLE

HEAD = """
subject = "J1"
start = 2026-05-28T20:26:40Z
zone = 120
[people]
ida = { person = "ida", phone = "gang" }
omar = { person = "omar", phone = "own" }
[story]
lines = [
"""
WIPE = '{ at = "0:01", who = "ida", do = "done", step = "wipe",'
WIPE += " values = { temp = 21.5 } },"
MIX = 'who = "ida", do = "done", step = "mix"'
DISPOSE = '{ who = "omar", do = "disposition", target = "warm", verdict = "use_as_is",'
DISPOSE += ' reason = "Warm enough by the maker" },'
CORRECT = '{ who = "ida", do = "correction", step = "wipe", target = "wiped",'
CORRECT += ' reason = "misread", values = { temp = 20.5 } },'
RELEASE = '{ who = "omar", do = "release", point = "go" },'


def story(*lines: str) -> Story:
    text = HEAD + "\n".join(lines) + "\n]\n"
    return story_of(tomllib.loads(text, parse_float=Decimal))


def play(tmp_path: Path, *lines: str) -> tuple[list[str], list[str]]:
    made = stage(tmp_path)
    with connected(made.wired.door.store):
        told = story(*lines)
        player = Player(world=made.world, reader=made.wired.reader, story=told)
        return list(player.play()), player.faults


def test_a_story_says_what_each_entry_led_to(tmp_path: Path) -> None:
    told, faults = play(tmp_path, WIPE, RELEASE, "{ " + MIX + " },")
    assert faults == []
    text = "\n".join(told)
    for words in ("0:01:00  ida on gang: done wipe temp=21.5", "stored at index",
                  "wipe: open -> done", "go: waiting -> ready", "go: ready -> released",
                  "verdict: incomplete -> complete"):  # fmt: skip
        assert words in text


def test_an_expectation_that_does_not_hold_is_a_fault_with_what_was_found(
    tmp_path: Path,
) -> None:
    wrong = '{ expect = { verdict = "complete", "steps.wipe.status" = "done" } },'
    told, faults = play(tmp_path, WIPE, wrong)
    assert faults == ["line 2: verdict: found 'incomplete', expected 'complete'"]
    assert "NOT as expected" in "\n".join(told)


def test_the_phone_says_no_before_anything_is_signed(tmp_path: Path) -> None:
    no = "{ " + MIX + ', refused = "gate_shut" },'
    told, faults = play(tmp_path, WIPE, no, '{ expect = { "steps.mix.missing" = 1 } },')
    assert faults == []
    assert any("no: " in line for line in told)


def test_a_no_that_was_not_expected_is_a_fault(tmp_path: Path) -> None:
    _, faults = play(tmp_path, WIPE, "{ " + MIX + " },")
    assert faults == ["line 2: the phone says no: gate_shut, not_reached"]


def test_a_no_that_does_not_come_is_a_fault(tmp_path: Path) -> None:
    expecting = WIPE.replace("who =", 'refused = "gate_shut", who =')
    _, faults = play(tmp_path, expecting)
    assert faults == ["line 1: expected a no (gate_shut), found none"]


def test_what_was_signed_in_spite_of_a_no_is_evidence_all_the_same(
    tmp_path: Path,
) -> None:
    forced = "{ " + MIX + ', force = true, result = "stored" },'
    expect = '{ expect = { "steps.mix.status" = "failed" } },'
    _, faults = play(tmp_path, WIPE, forced, expect)
    assert faults == []


def test_what_two_phones_do_without_knowing_of_each_other_meets_at_the_office(
    tmp_path: Path,
) -> None:
    lines = (
        WIPE.replace("who =", 'name = "wiped", who ='),
        '{ phone = "own", online = false },',
        CORRECT,
        RELEASE.replace(" },", ', result = "waiting" },'),
        '{ phone = "own", expect = { "points.go.status" = "released" } },',
        '{ expect = { "points.go.status" = "ready" } },',
        '{ phone = "own", online = true },',
        # The release had not seen the correction of what it rests on.
        '{ expect = { "points.go.status" = "lapsed" } },',
    )
    told, faults = play(tmp_path, *lines)
    assert faults == []
    assert any("kept on the phone" in line for line in told)


def test_a_clock_wrong_by_days_and_a_flat_battery_change_nothing_of_the_order(
    tmp_path: Path,
) -> None:
    lines = (
        '{ phone = "gang", clock = "-48:00", restart = true },',
        WIPE,
        '{ phone = "gang", restart = true },',
        RELEASE,
        "{ " + MIX + " },",
        '{ expect = { "steps.mix.status" = "done" } },',
        '{ expect = { "points.go.status" = "released" } },',
    )
    assert play(tmp_path, *lines)[1] == []


def test_a_nonconformance_is_aimed_at_by_its_check(tmp_path: Path) -> None:
    lines = (
        WIPE.replace("21.5", "4.9"),
        '{ expect = { nonconformances = ["warm"] } },',
        DISPOSE,
        '{ who = "ida", do = "note", text = "seen", name = "n" },',
    )
    assert play(tmp_path, *lines)[1] == []


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("{ nothing = 1 },", "found nothing"),
        ('{ at = "0:01" },', "allowed: do, expect or phone"),
        ('{ who = "eve", do = "note" },', "found 'eve', allowed: ida, omar"),
        ('{ who = "ida", do = "dance" },', "found 'dance', allowed: done"),
        ('{ who = "ida", do = "note", colour = 1 },', "found colour"),
        ('{ at = "ten", phone = "gang", online = true },', "hours:minutes"),
        ('{ at = 10, phone = "gang", online = true },', "hours:minutes"),
        ("{ expect = 1 },", "allowed: a map"),
        ("3,", "allowed: a map"),
    ],
)
def test_a_line_that_cannot_be_read_is_named(line: str, words: str) -> None:
    with pytest.raises(PlayFault, match="line 2") as fault:
        story(WIPE, line)
    assert words in str(fault.value)


def test_time_may_not_go_back() -> None:
    with pytest.raises(PlayFault, match="line 2: at 0:00"):
        story(WIPE, '{ at = "0:00", phone = "gang", online = true },')


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (WIPE.replace("21.5", "21.55"), "at most 1 places"),
        (WIPE.replace("temp =", "heat ="), "found heat, allowed: temp"),
        (WIPE.replace("21.5", "true"), "a number or text"),
        (CORRECT, "found 'wiped' 0 times"),
        ('{ who = "ida", do = "note", text = "x", subject = "J9" },', "J9"),
    ],
    ids=range(5),
)  # fmt: skip
def test_a_line_that_does_not_fit_the_sheet_stops_the_play(
    tmp_path: Path, line: str, words: str
) -> None:
    with pytest.raises(PlayFault) as fault:
        play(tmp_path, line)
    assert words in str(fault.value)


@pytest.mark.parametrize(
    "text",
    ["", "title = 1", "start = 2026-05-28T20:26:40\n[people]\n[story]\nlines=[]",
     'start = "now"', "not toml at all", HEAD + "]", "[people]\nida = 1"],
    ids=range(7),
)  # fmt: skip
def test_a_file_that_is_no_story_is_refused(tmp_path: Path, text: str) -> None:
    file = tmp_path / "story.toml"
    file.write_text(text)
    with pytest.raises(PlayFault):
        read_story(file)


def test_a_place_in_the_state_is_found_even_when_an_id_holds_a_dot() -> None:
    state = {"steps": {"a.b": {"status": "done"}, "a": {"b": 1}}}
    assert differences(state, {"steps.a.b.status": "done"}) == []
    assert differences(state, {"steps.c.status": "done"}) == [
        "steps.c.status: found None, expected 'done'"
    ]


@pytest.mark.parametrize(
    "name",
    ["one_joint.toml", "over_time.toml", "wrong_certificate.toml", "grouting.toml"],
)
def test_the_stories_of_the_sample_site_come_out_as_they_say(
    name: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    if name != "one_joint.toml":  # which loads its site as anybody's does
        monkeypatch.setattr(command, "compiled_site", at_hand)
    assert run("play", SAMPLE / "stories" / name) == 0
    told = capsys.readouterr().out
    assert "verdict: incomplete -> complete" in told
    assert "NOT AS EXPECTED" not in told
