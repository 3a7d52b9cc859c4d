"""What leads on the joint: the race's next thing, a reading that failed, and nothing
that would be too old by the time it counts.
"""

from typing import Any

from tests.javascript import JavaScript
from tests.phone.handset import Handset
from tests.phone.test_judged import call

MINUTES = "static/phone/minutes.js"
AT = 1_700_000_000_000
HOUR = 3_600_000
READ = {"at": AT, "status": "ok"}
OPEN: dict[str, Any] = {"status": "open", "lines": {}, "refusals": [], "failed": []}


def the_race() -> dict[str, Any]:
    """Kits mixed and spread by turns, a film read in the gap, which then is closed."""
    kits = [{"id": f"k{n}", "need": 1} for n in (1, 2)]
    flow = ["mix", "spread", "pot", "film", "close", "bars", "bead", "marks"]
    steps = {name: {"title": name, "class": "raced"} for name in flow}
    steps["mix"]["lines"] = steps["spread"]["lines"] = kits
    ratios: list[Any] = []
    clocks = [
        {"id": "open", "start": "mix", "until": "pressed", "ratios": ratios,
         "age_ms": HOUR, "temps": []},
        {"id": "life", "start": "mix", "until": "spread", "per_line": 1,
         "ratios": ratios},
    ]  # fmt: skip
    return {
        "sheet": {"flow": flow, "steps": steps, "points": {}, "clocks": clocks,
                  "milestones": [{"id": "pressed", "step": "bars"}]},
        "state": {"steps": {name: dict(OPEN) for name in flow},
                  "clocks": {"open": {"start": AT, "ended": 1}}},
    }  # fmt: skip


def recorded(race: dict[str, Any], *steps: str, status: str = "done") -> dict[str, Any]:
    for step in steps:
        lines = {"k1": READ, "k2": READ} if step in ("mix", "spread") else {"": READ}
        race["state"]["steps"][step] = OPEN | {"status": status, "lines": lines}
    return race


def led(javascript: JavaScript, race: dict[str, Any]) -> list[str]:
    acts = javascript.call(MINUTES, "nextActs", race, AT)
    return [act["step"] for act in acts]


def test_what_the_race_went_past_stands_beside_what_is_next(
    javascript: JavaScript,
) -> None:
    race = recorded(the_race(), "mix", "spread")
    assert led(javascript, race) == ["pot", "film"]
    # Closed: what was to be read in the gap is still asked for, and leads no more.
    assert led(javascript, recorded(race, "close")) == ["bars", "film"]
    assert led(javascript, recorded(race, "film")) == ["bars", "pot"]
    # Nor does it once all bars are stressed.
    race = recorded(the_race(), "mix", "spread", "close", "bars", "pot")
    assert led(javascript, race) == ["bead", "film"]
    # A race whose closing nobody noted goes on all the same.
    race = recorded(the_race(), "mix", "spread", "pot", "film", "bars")
    race["state"]["steps"]["bars"]["status"] = "partial"
    race["sheet"]["steps"]["bars"]["lines"] = [
        {"id": "", "need": 1}, {"id": "b2", "need": 1},
    ]  # fmt: skip
    assert led(javascript, race) == ["bars", "close"]


def test_what_goes_on_by_turns_is_not_gone_past(javascript: JavaScript) -> None:
    race = recorded(the_race(), "pot", "film")
    mixed = OPEN | {"status": "partial", "lines": {"k1": READ}}
    race["state"]["steps"] |= {"mix": mixed, "spread": dict(mixed)}
    assert led(javascript, race)[0] == "mix"
    # Behind the pressure any order is good: the plan's is kept.
    race = recorded(the_race(), *race["sheet"]["flow"][:-3], "bars", "marks")
    assert led(javascript, race) == ["bead"]


def test_what_was_recorded_by_mistake_leaves_nothing_behind(
    javascript: JavaScript,
) -> None:
    race = recorded(the_race(), "mix", "spread", "pot")
    thrown = {"": READ | {"status": "discarded"}}
    race["state"]["steps"]["close"] = OPEN | {"lines": thrown, "missing": 1}
    assert led(javascript, race) == ["film", "close"]


def test_no_kit_leads_once_the_joint_is_closed(javascript: JavaScript) -> None:
    race = recorded(the_race(), "pot", "film")
    spread = OPEN | {"status": "partial", "lines": {"k1": READ}}
    race["state"]["steps"] |= {"mix": spread, "spread": dict(spread)}
    assert led(javascript, race)[0] == "mix"
    assert led(javascript, recorded(race, "close")) == ["bars", "mix"]


def thrown_away(race: dict[str, Any], step: str) -> None:
    """Kit 2 of two was discarded; a spare is there."""
    lines = {"k1": READ, "k2": READ | {"status": "discarded"}}
    race["state"]["steps"][step] = OPEN | {
        "status": "partial", "lines": lines, "missing": 1,
    }  # fmt: skip


def with_a_spare() -> dict[str, Any]:
    race = the_race()
    kits = [*race["sheet"]["steps"]["mix"]["lines"], {"id": "k3"}, {"id": "k4"}]
    for step in ("mix", "spread"):
        race["sheet"]["steps"][step]["lines"] = kits
    return race


def test_what_takes_the_place_of_a_discarded_kit_leads(javascript: JavaScript) -> None:
    def acts() -> list[tuple[str, str]]:
        found = javascript.call(MINUTES, "nextActs", race, AT)
        return [(act["step"], act["line"]) for act in found]

    race = with_a_spare()
    # Kit 2 never came to the face: the next kit is mixed, then spread.
    thrown_away(race, "mix")
    spread = OPEN | {"status": "partial", "lines": {"k1": READ}, "missing": 1}
    race["state"]["steps"]["spread"] = spread
    assert acts() == [("mix", "k3"), ("pot", "")]
    mixed = race["state"]["steps"]["mix"]
    mixed["lines"] |= {"k3": READ}
    mixed |= {"status": "done", "missing": 0}
    assert acts() == [("spread", "k3"), ("pot", "")]
    # On the face: a further kit is only a spare again.
    spread["lines"] |= {"k3": READ}
    spread |= {"status": "done", "missing": 0}
    assert acts() == [("pot", ""), ("film", "")]
    # It was on the face and was taken off again.
    race = with_a_spare()
    thrown_away(race, "mix")
    thrown_away(race, "spread")
    assert acts()[0] == ("mix", "k3")


def test_a_reading_for_a_clock_that_has_ended_is_asked_for_no_more(
    javascript: JavaScript, bare_phone: Handset
) -> None:
    race = recorded(the_race(), "mix", "spread", "pot", "film", "close", "bars", "bead")
    sheet, state = race["sheet"], race["state"]
    sheet["steps"]["face"] = {"title": "face", "class": "raced", "series": True}
    sheet["flow"] = [*sheet["flow"][:3], "face", *sheet["flow"][3:], "weight"]
    sheet["points"]["weight"] = {"class": "hold", "title": "weight"}
    state["points"] = {"weight": {"status": "ready", "refusals": []}}
    state["steps"]["face"] = dict(OPEN)
    sheet["clocks"][0]["temps"] = [{"step": "pot"}, {"step": "face"}]
    state["clocks"]["open"]["ended"] = 0
    assert led(javascript, race) == ["marks", "face"]
    state["clocks"]["open"]["ended"] = 1
    assert led(javascript, race) == ["marks"]
    recorded(race, "marks")
    assert led(javascript, race) == []
    told = race | {"asOf": AT}
    assert call(bare_phone, "column", "currentOf", told) == "weight"
    # Passed and never released, the gate is asked for before what is never read again.
    sheet["points"]["weight"]["shuts"] = ["bead"]
    assert call(bare_phone, "column", "currentOf", told) == "weight"
    # Nothing else is left: what the record lacks is said last, never hidden.
    state["points"]["weight"]["status"] = "released"
    assert call(bare_phone, "column", "currentOf", told) == "face"


def the_joint() -> dict[str, Any]:
    flow = ["plan", "fit", "faces", "ready", "mixing", "mix", "eased"]
    return {
        "sheet": {
            "flow": flow,
            "steps": {name: {"title": name, "class": "gated"} for name in flow
                      if name != "mixing"},
            "points": {"mixing": {"class": "hold", "shuts": ["mix"], "requires": [
                {"id": "fresh", "must": {"word": "between", "high": HOUR, "value": {
                    "word": "elapsed", "from": {"step": "faces"}, "to": "now"}}}]}},
        },
        "state": {
            "steps": {name: dict(OPEN) for name in flow if name != "mixing"},
            "points": {"mixing": {"status": "waiting", "refusals": []}},
        },
        "asOf": AT,
    }  # fmt: skip


def failed(joint: dict[str, Any], step: str, line: str = "failed") -> dict[str, Any]:
    read = {"": READ | {"status": line}}
    joint["state"]["steps"][step] |= {"status": "failed", "lines": read}
    return joint


def test_a_reading_that_failed_leads_over_what_is_open_before_it(
    bare_phone: Handset,
) -> None:
    def current(joint: dict[str, Any]) -> Any:
        return call(bare_phone, "column", "currentOf", joint)

    assert current(the_joint()) == "plan"
    assert current(failed(the_joint(), "faces")) == "faces"
    # Unless something forbids it, or a gate is still to be passed before it.
    shut = failed(the_joint(), "faces")
    shut["state"]["steps"]["faces"]["refusals"] = [{"code": "needs", "facts": {}}]
    assert current(shut) == "plan"
    assert current(failed(the_joint(), "eased")) == "plan"
    # What a gate forbade is decided: nobody can do it again.
    assert current(failed(the_joint(), "faces", "anyway")) == "plan"


def test_what_would_be_too_old_by_then_does_not_lead(bare_phone: Handset) -> None:
    held = {"code": "hold_running", "facts": {"hold": "day", "until": AT + 24 * HOUR}}
    joint = the_joint()
    joint["state"]["points"]["mixing"]["refusals"] = [held]

    def current() -> Any:
        return call(bare_phone, "column", "currentOf", joint)

    assert current() == "plan"
    for step in ("plan", "fit"):
        joint["state"]["steps"][step]["status"] = "done"
    # Nothing else is left: it stands there, and is said to be too early.
    early = call(bare_phone, "turns", "tooEarly", joint)
    assert early == {"hold": "day", "until": AT + 24 * HOUR, "from": AT + 23 * HOUR,
                     "steps": ["faces", "ready", "mixing"]}  # fmt: skip
    assert current() == "faces"
    # Read too early, it hides nothing that is wanted behind it.
    joint["state"]["steps"]["faces"]["status"] = "done"
    assert current() == "ready"
    # An hour before, it counts.
    joint["asOf"] = AT + 23 * HOUR
    assert call(bare_phone, "turns", "tooEarly", joint) is None


def test_of_several_things_too_early_the_first_is_told_and_cleaning_never(
    bare_phone: Handset,
) -> None:
    held = {"code": "hold_running", "facts": {"hold": "day", "until": AT + 24 * HOUR}}
    joint = the_joint()
    joint["state"]["points"]["mixing"]["refusals"] = [held]
    joint["sheet"]["steps"]["ready"]["again"] = 1
    age = {"word": "elapsed", "from": {"step": "fit"}, "to": "now"}
    joint["sheet"]["points"]["mixing"]["requires"].append(
        {"id": "fit", "must": {"word": "between", "high": 12 * HOUR, "value": age}}
    )
    early = call(bare_phone, "turns", "tooEarly", joint)
    assert early["steps"] == ["fit", "faces", "mixing"]
    assert early["from"] == AT + 12 * HOUR
    # Half a day before, what keeps that long is of use, and the faces are not.
    joint["asOf"] = AT + 13 * HOUR
    early = call(bare_phone, "turns", "tooEarly", joint)
    assert early["steps"] == ["faces", "mixing"]
    # Adhesive that is on is taken off at once.
    assert call(bare_phone, "column", "currentOf", joint) == "ready"


def test_what_is_read_time_and_again_is_never_folded_away(
    bare_phone: Handset,
) -> None:
    race = recorded(the_race(), "mix", "spread", "pot", "film", "close")
    for step in race["state"]["steps"].values():
        step["cautions"] = []
        step["lines"] = {}
    told = race | {"subject": "j", "entries": []}
    flow = race["sheet"]["flow"]

    def folded() -> Any:
        return bare_phone.page.evaluate(_RUNS, [told, flow])

    assert folded()[0] == ["mix", "spread", "pot"]
    race["sheet"]["steps"]["spread"]["series"] = True
    assert folded()[:3] == [["mix"], ["spread"], ["pot"]]


_RUNS = """async ([open, flow]) => (await import("/phone/screens/folds.js"))
  .runsOf(open, flow, "marks", { unfolded: new Set() })"""
