"""Minutes in hand: which time goes on the chalk, what is left, what comes next.

The figures are those of the practice: first kit 10:16, 60 minutes open time, 70 %
allowed, pressure expected 10:47, so 10:58 on the chalk and 11 minutes in hand.
"""

from typing import Any

from tests.javascript import JavaScript

MINUTES = "static/phone/minutes.js"
TURNS = "static/phone/turns.js"
MINUTE = 60_000
DAY = 24 * 60 * MINUTE
FIRST_KIT = (10 * 60 + 16) * MINUTE
NOW = FIRST_KIT + 4 * MINUTE
READ = {"at": FIRST_KIT, "status": "ok"}


def the_open(**changes: Any) -> dict[str, Any]:
    ratios = [
        {"id": "by", "title": "pressure by", "num": 7, "den": 10, "text": "late"},
        {"id": "over", "title": "open time over", "num": 1, "den": 1, "text": "over"},
    ]
    kits = [{"id": f"k{n}", "label": f"Kit {n}", "need": 1} for n in (1, 2, 3)]
    sheet = {
        "flow": ["mix", "spread", "bars"],
        "steps": {
            "mix": {"title": "Mix", "class": "raced", "lines": kits},
            "spread": {"title": "Spread", "class": "raced", "lines": kits},
            "bars": {"title": "Bars", "class": "raced"},
        },
        "points": {},
        "milestones": [{"id": "pressed", "title": "pressure", "step": "bars"}],
        "clocks": [
            {"id": "open", "start": "mix", "until": "pressed", "ratios": ratios,
             "age_ms": 15 * MINUTE, "temps": [{"step": "mix", "field": "t"}]}
        ],
    }  # fmt: skip
    clock = {
        "status": "running",
        "ended": 0,
        "start": FIRST_KIT,
        "deadlines": {"by": FIRST_KIT + 42 * MINUTE, "over": FIRST_KIT + 60 * MINUTE},
        "left": {"by": 38 * MINUTE, "over": 56 * MINUTE},
        "expected": (10 * 60 + 47) * MINUTE,
    }
    state = {
        "steps": {
            "mix": {"status": "partial", "lines": {"k1": READ}},
            "spread": {"status": "open", "lines": {}},
            "bars": {"status": "open", "lines": {}},
        },
        "points": {},
        "clocks": {"open": clock},
    }
    return {"sheet": sheet, "state": state, "asOf": NOW, **changes}


def test_the_practice_example_is_shown_as_it_stands_there(
    javascript: JavaScript,
) -> None:
    found = javascript.call(MINUTES, "minutesInHand", the_open(), NOW)
    assert found["running"] is True
    assert found["start"] == FIRST_KIT
    assert found["chalk"]["title"] == "pressure by"
    assert found["chalk"]["at"] == (10 * 60 + 58) * MINUTE
    assert found["inHandMs"] == 11 * MINUTE


def test_of_two_lives_that_run_the_one_over_soonest_is_told(
    javascript: JavaScript,
) -> None:
    asked = the_open()
    open_clock, state = asked["sheet"]["clocks"][0], asked["state"]["clocks"]["open"]
    damp, bare = "in-duct", "tensioned"
    asked["sheet"]["clocks"] = [open_clock | {"id": name} for name in (damp, bare)]
    begun = state | {"start": FIRST_KIT - 9 * DAY, "left": {"by": 11 * DAY},
                     "deadlines": {"by": NOW + 11 * DAY}}  # fmt: skip
    later = state | {"left": {"by": 5 * DAY}, "deadlines": {"by": NOW + 5 * DAY}}
    asked["state"]["clocks"] = {damp: begun, bare: later}
    found = javascript.call(MINUTES, "minutesInHand", asked, NOW)
    assert found["chalk"]["id"] == f"{bare}.by"
    begun["deadlines"]["by"] = NOW - MINUTE
    begun["left"]["by"] = -MINUTE
    found = javascript.call(MINUTES, "minutesInHand", asked, NOW)
    assert found["chalk"]["id"] == f"{damp}.by"


def test_what_is_expected_moves_on_while_nothing_is_recorded(
    javascript: JavaScript,
) -> None:
    later = javascript.call(MINUTES, "minutesInHand", the_open(), NOW + 3 * MINUTE)
    assert later["inHandMs"] == 8 * MINUTE


def test_what_surely_takes_too_long_is_no_guess(javascript: JavaScript) -> None:
    """The 38 minutes that were timed fill what is left, then they do not fit."""
    asked = the_open()
    clock = asked["state"]["clocks"]["open"]
    clock |= {"expected": NOW + 45 * MINUTE, "guessed": 1, "surely": NOW + 38 * MINUTE}
    found = javascript.call(MINUTES, "minutesInHand", asked, NOW)
    assert (found["inHandMs"], found["guessed"]) == (-7 * MINUTE, True)
    later = javascript.call(MINUTES, "minutesInHand", asked, NOW + 1)
    assert later["guessed"] is False


def test_the_chalk_shows_the_next_deadline_after_one_has_passed(
    javascript: JavaScript,
) -> None:
    past = FIRST_KIT + 43 * MINUTE
    found = javascript.call(MINUTES, "minutesInHand", the_open(asOf=NOW), past)
    assert found["chalk"]["title"] == "open time over"


def test_a_clock_put_back_wins_no_time(javascript: JavaScript) -> None:
    put_back = the_open()
    # Folded with half an hour less left than the wall pretends.
    put_back["state"]["clocks"]["open"]["left"]["by"] = 8 * MINUTE
    found = javascript.call(MINUTES, "minutesInHand", put_back, NOW)
    assert found["chalk"]["at"] == NOW + 8 * MINUTE


def test_the_two_next_acts_overlap_and_come_from_the_sheet(
    javascript: JavaScript,
) -> None:
    acts = javascript.call(MINUTES, "nextActs", the_open(), NOW)
    assert acts == [{"step": "mix", "line": "k2"}, {"step": "spread", "line": "k1"}]


def test_a_kit_is_not_offered_on_the_face_before_it_is_mixed(
    javascript: JavaScript,
) -> None:
    asked = the_open()
    pot = {"id": "pot", "start": "mix", "until": "spread", "per_line": 1, "ratios": []}
    asked["sheet"]["clocks"].append(pot)
    read = {"at": FIRST_KIT, "status": "ok"}
    asked["state"]["steps"]["spread"]["lines"] = {"k1": read}
    acts = javascript.call(MINUTES, "nextActs", asked, NOW)
    assert acts == [{"step": "mix", "line": "k2"}, {"step": "bars", "line": ""}]
    # What was mixed out of turn, or thrown away, moves the offer with it.
    asked["state"]["steps"]["mix"]["lines"] = {
        "k1": read, "k2": read | {"status": "discarded"}, "k3": read,
    }  # fmt: skip
    acts = javascript.call(MINUTES, "nextActs", asked, NOW)
    assert {"step": "spread", "line": "k3"} in acts
    assert {"step": "spread", "line": "k2"} not in acts


def test_a_photo_still_missing_is_asked_for_and_not_the_reading_again(
    javascript: JavaScript,
) -> None:
    asked = the_open()
    asked["sheet"]["steps"]["bars"]["photos"] = 2
    asked["state"]["steps"] = {
        "bars": {"status": "partial", "lines": {"": {"at": NOW, "status": "partial"}}},
        "mix": {"status": "done", "lines": {}},
        "spread": {"status": "done", "lines": {}},
    }
    acts = javascript.call(MINUTES, "nextActs", asked, NOW)
    assert acts == [{"step": "bars", "line": "", "photo": True}]


def test_a_temperature_about_to_grow_too_old_is_asked_first(
    javascript: JavaScript,
) -> None:
    asked = the_open()
    asked["sheet"]["steps"]["face"] = {"title": "Face", "class": "raced", "series": 1}
    asked["sheet"]["flow"].append("face")
    asked["sheet"]["clocks"][0]["temps"] = [{"step": "face", "field": "hot"}]
    asked["state"]["steps"]["face"] = {
        "status": "done",
        "lines": {"e1": {"at": FIRST_KIT, "status": "ok"}},
    }
    soon = FIRST_KIT + 13 * MINUTE
    assert javascript.call(MINUTES, "nextActs", asked, soon)[0]["step"] == "face"
    early = FIRST_KIT + 8 * MINUTE
    assert javascript.call(MINUTES, "nextActs", asked, early)[0]["step"] == "mix"


def test_days_make_no_race_and_the_batch_in_the_mixer_is_chalked_up(
    javascript: JavaScript,
) -> None:
    week = the_open()
    week["state"]["clocks"]["open"] |= {
        "deadlines": {"by": NOW + 7 * DAY}, "left": {"by": 7 * DAY},
    }  # fmt: skip
    found = javascript.call(MINUTES, "minutesInHand", week, NOW)
    assert found["slow"] is True
    assert found["chalk"]["at"] == NOW + 7 * DAY
    in_mixer = {"id": "mixer", "title": "In the mixer", "start": "mix",
                "until": "spread", "per_line": 1, "temps": [], "age_ms": MINUTE,
                "ratios": [{"id": "by", "title": "in the duct by"}]}  # fmt: skip
    week["sheet"]["clocks"].append(in_mixer)
    week["state"]["clocks"]["mixer/k1"] = {
        "status": "running", "ended": 0, "start": NOW,
        "deadlines": {"by": NOW + 30 * MINUTE}, "left": {"by": 30 * MINUTE},
    }  # fmt: skip
    found = javascript.call(MINUTES, "minutesInHand", week, NOW)
    assert found["slow"] is False
    assert found["chalk"]["at"] == NOW + 30 * MINUTE
    assert (found["chalk"]["line"], found["chalk"]["title"]) == ("k1", "in the duct by")


def test_a_gate_that_time_alone_will_open_says_from_when(
    javascript: JavaScript,
) -> None:
    cured = the_open()
    held = {"word": "between", "value": "held", "low": DAY}
    strong = {"word": "between", "value": "strength", "low": 20}
    cured["sheet"] |= {
        "values": {"held": {"word": "elapsed", "from": "pressed", "to": "now",
                            "as": "not_before"},
                   "strength": {"word": "reading", "step": "mix", "field": "t"}},
        "conditions": {"hardened": {"word": "any", "of": [held, strong]}},
        "points": {"cured": {"requires": [{"id": "hard", "must": "hardened"}]}},
    }  # fmt: skip
    unmet = [{"code": "requirement", "facts": {"requirement": "hard"}}]
    cured["state"] |= {
        "points": {"cured": {"status": "waiting", "refusals": unmet}},
        "values": {"held": 3 * MINUTE},
    }
    gates = javascript.call(MINUTES, "timeGates", cured)
    assert gates == [{"point": "cured", "until": NOW + DAY - 3 * MINUTE}]
    # What rests on a specimen as well is not promised for a time.
    cured["sheet"]["conditions"]["hardened"]["word"] = "all"
    assert javascript.call(MINUTES, "timeGates", cured) == []


def test_a_broken_bar_is_asked_for_only_when_nothing_else_is(
    javascript: JavaScript,
) -> None:
    asked = the_open()
    bars = [{"id": f"b{n}", "item": f"b{n}", "need": 1} for n in (1, 2)]
    asked["sheet"]["steps"]["bars"]["lines"] = bars
    asked["sheet"]["steps"]["lost"] = {"class": "make_safe", "lines": bars}
    asked["state"]["steps"]["lost"] = {"status": "done", "lines": {"b1": dict(READ)}}
    told = (asked["sheet"], asked["state"], "bars")
    next_bar = javascript.call(TURNS, "nextLine", *told)
    assert next_bar == "b2"
    replaced = {"b1": READ | {"status": "discarded"}}
    asked["state"]["steps"]["lost"]["lines"] = replaced
    next_bar = javascript.call(TURNS, "nextLine", *told)
    assert next_bar == "b1"


def test_a_spare_kit_is_asked_for_after_what_is_due(javascript: JavaScript) -> None:
    asked = the_open()
    asked["sheet"]["steps"]["mix"]["lines"][2]["need"] = 0
    # Kits gone past a gate are mixed and yet failed: the spare is still open.
    mixed = {kit: READ | {"status": "anyway"} for kit in ("k1", "k2")}
    asked["state"]["steps"]["mix"] = {"status": "failed", "lines": mixed}
    acts = javascript.call(MINUTES, "nextActs", asked, NOW)
    assert acts == [{"step": "spread", "line": "k1"}, {"step": "bars", "line": ""}]
    third = javascript.call(MINUTES, "nextActs", asked, NOW, 3)
    assert third[2] == {"step": "mix", "line": "k3"}


def test_a_step_failed_as_a_whole_is_read_again_by_its_line(
    javascript: JavaScript,
) -> None:
    asked = the_open()
    sheet, state = asked["sheet"], asked["state"]
    sheet["steps"]["spread"]["checks"] = [
        {"id": "sum", "must": {"word": "between", "value": {"line": "k2"}}}
    ]
    read = {"k1": READ, "k2": READ, "k3": READ}
    state["steps"]["spread"] = {"status": "failed", "failed": ["sum"], "lines": read}
    assert javascript.call(TURNS, "failedLine", sheet, state, "spread") == "k2"
    # What names none of its lines begins with the first.
    sheet["steps"]["spread"]["checks"][0]["must"] = "carried"
    assert javascript.call(TURNS, "failedLine", sheet, state, "spread") == "k1"
    state["steps"]["spread"]["status"] = "done"
    assert javascript.call(TURNS, "failedLine", sheet, state, "spread") is None


def test_the_other_arm_ahead_is_told_apart_from_the_race(
    javascript: JavaScript,
) -> None:
    found = the_open()
    hung = {"id": "arm", "title": "Other arm ahead", "start": "hung", "until": "hung",
            "other": {"subject": "j-w1"}, "temps": [], "age_ms": MINUTE,
            "ratios": [{"id": "by", "title": "hang by"}]}  # fmt: skip
    found["sheet"]["clocks"].append(hung)
    found["state"]["steps"]["hung"] = {"status": "open", "lines": {}}
    (told,) = javascript.call(MINUTES, "minutesInHand", found, NOW)["ahead"]
    # Nothing heard: neither since when nor until when, and never "level".
    assert told == {"title": "Other arm ahead", "other": "j-w1"}
    since = {"status": "running", "ended": 0, "start": NOW - 3 * MINUTE,
             "deadlines": {"by": NOW + MINUTE}, "left": {"by": MINUTE}}  # fmt: skip
    found["state"]["clocks"]["arm"] = since
    minutes = javascript.call(MINUTES, "minutesInHand", found, NOW)
    assert minutes["ahead"][0]["start"] == NOW - 3 * MINUTE
    assert minutes["ahead"][0]["deadline"]["at"] == NOW + MINUTE
    # The chalk time stays the race's, though the other deadline comes first.
    assert minutes["chalk"]["title"] == "pressure by"
    found["state"]["clocks"]["arm"]["ended"] = 1
    assert javascript.call(MINUTES, "minutesInHand", found, NOW)["ahead"] == []
