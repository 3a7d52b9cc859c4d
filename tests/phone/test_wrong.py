"""What a nonconformance is about, in figures, and what a signer is told of it."""

from dataclasses import asdict
from typing import Any

import pytest

from tests.core.small import LIFE, raw_sheet, small_sheet
from tests.core.story import START_MS, Story
from tests.phone.gang import JOINT, Gang
from tests.phone.handset import Handset

ABOVE = {"step": "face-temp", "values": {"hottest": 412}}
PAGE = "(route) => { location.hash = route; }"


_RUNS = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.clocks["open-warm"]?.status === "running";
}"""


def _first_kit(gang: Gang) -> None:
    """Have the first kit mixed, and its clock run."""
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    gang.phone.until(_RUNS)


_THOUGHT = """async ([values, ahead]) => {
  const { model } = await import("/phone/screens/model.js");
  const { thoughtOf } = await import("/phone/screens/thought.js");
  const { moment } = await import("/phone/device/clock.js");
  const now = moment();
  const draft = { kind: "done", step: "face-temp", line: "", values,
    person: model.shift.person, device: model.identity.device };
  const then = thoughtOf(model.open, draft, { ...now, mono: now.mono + ahead });
  return then.state.clocks["open-warm"].status;
}"""


@pytest.mark.parametrize("ahead", [-5, 0, 5])
def test_what_saving_would_end_is_told_whichever_of_the_phones_clocks_runs_faster(
    gang: Gang, ahead: int
) -> None:
    _first_kit(gang)
    within, above = {"hottest": 212}, ABOVE["values"]
    assert gang.phone.page.evaluate(_THOUGHT, [within, ahead]) == "running"
    assert gang.phone.page.evaluate(_THOUGHT, [above, ahead]) == "over"


def test_a_reading_above_the_table_says_what_it_ends_and_is_shown_with_its_limit(
    gang: Gang,
) -> None:
    phone = gang.phone
    _first_kit(gang)
    phone.page.evaluate(PAGE, f"#/form/{JOINT}/face-temp/-")
    phone.type_figure("41.2")
    phone.sees("Ends, if saved: Open time, warm formulation", "#means")
    (read,) = gang.tell(ABOVE)
    phone.page.evaluate(PAGE, f"#/nonconformance/{JOINT}")
    # No pressure has come: that it came too late would be said of nothing.
    phone.sees("Time is over: Pressure by")
    assert "came after" not in phone.page.inner_text("#screen")
    phone.tap("[data-fault]", "Hottest point")
    about = "[data-about]"
    phone.sees("41.2 °C", about)
    phone.sees("35.0 °C", about)
    phone.sees("Jorun", about)
    phone.tap("[data-entry]")
    phone.until("() => document.body.dataset.screen === 'line'")
    # Whoever signs off the adhesive sees the figure that a correction replaced, and the
    # clock itself.
    gang.sign({
        "kind": "correction", "step": "face-temp", "values": {"hottest": 212},
        "about": {"target": read["id"], "reason": "Misread"},
    })  # fmt: skip
    phone.page.evaluate(PAGE, f"#/point/{JOINT}/life-signed")
    phone.sees("41.2 °C → 21.2 °C", '[data-rest="face-temp"]')
    phone.sees("Pressure by", '[data-clock="open-warm"]')
    phone.sees("21.5", '[data-clock="open-warm"]')


def test_whoever_decides_sees_which_joint_it_is_and_what_was_done_since(
    gang: Gang,
) -> None:
    phone = gang.phone
    _first_kit(gang)
    gang.tell(ABOVE)
    phone.page.evaluate(PAGE, f"#/nonconformance/{JOINT}")
    phone.sees("Nonconformance · Joint W1", "#head")
    phone.tap("[data-fault]", "Hottest point")
    phone.sees("41.2 °C", "[data-about]")
    phone.sees("Nonconformance · Joint W1", "#head")
    assert phone.page.locator("[data-since], #since").count() == 0

    # Not what another step says, nor the line beside it.
    gang.tell({"step": "face-temp", "values": {"hottest": 335}}, {"step": "spots"})
    gang.tell({"step": "cleaned"})
    phone.sees("Joint parted and cleaned: Jorun Faleck", "#since")
    phone.sees("Read again: Jorun Faleck", "[data-since]")
    phone.sees("33.5 °C · in limits", "[data-since]")
    assert phone.page.locator("[data-since]").count() == 1


@pytest.mark.parametrize("minute", range(6))
def test_what_two_phones_read_side_by_side_is_told_and_not_as_read_again(
    bare_phone: Handset, minute: int
) -> None:
    # The minute changes the names of the entries, and with them their order.
    story = Story(small_sheet(amended=2)).at(minute)
    story.done("wipe", on="a", values={"damp": 0})
    story.done("wipe", by="second", on="b", values={"damp": 1})
    story.at(minute + 1).say("made_safe", by="foreman", on="a", about={"how": "Off"})
    told, safe = _since(bare_phone, story)
    assert [each.split(":")[0] for each in told] == ["recorded"]
    assert told[0].startswith("recorded: foreman")
    assert told[0].endswith("damp 0 · disputed")
    assert safe.startswith("made safe: foreman")
    story.sync().at(minute + 2).done("wipe", on="a", values={"damp": 0})
    told, _ = _since(bare_phone, story)
    assert [each.split(":")[0] for each in told] == ["recorded", "Read again"]
    assert told[0].endswith("damp 0")
    assert told[1].endswith("damp 0 · in limits")


def _since(phone: Handset, story: Story) -> Any:
    entries = [
        {name: value for name, value in asdict(each).items() if value is not None}
        for each in story.entries.values()
    ]
    now = {"at": START_MS + round(story.minute * 60_000)}
    raw = raw_sheet(amended=2)
    tables = dict.fromkeys(raw["tables"].values(), LIFE)
    return phone.page.evaluate(_SINCE, [raw, tables, entries, story.standing(), now])


_SINCE = """async ([raw, tables, entries, standing, now]) => {
  const { prepare } = await import("/phone/core/sheet.js");
  const { present, stateOf } = await import("/phone/core/fold.js");
  const { laterSteps, readSince } = await import("/phone/screens/since.js");
  const { model } = await import("/phone/screens/model.js");
  model.people = standing.people;
  const scene = present(prepare(raw, tables), entries, standing, now);
  const state = stateOf(scene);
  const open = { sheet: raw, scene, state,
    entries: scene.view.history.graph.entries };
  const [fault] = state.nonconformances;
  return [readSince(open, fault, raw.steps.wipe.fields).map((one) => one.textContent),
    laterSteps(open, [fault])?.textContent];
}"""
