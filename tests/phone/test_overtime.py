"""A race short of time: little in hand is yellow; past its time with the joint still
open, what leads, and what the alarm says to do. Nothing is locked.
"""

from typing import Any

from tests.phone.gang import JOINT, TIMES_OVER, Gang
from tests.phone.handset import Handset

_ENDS = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { deadlines } = model.open.state.clocks["open-warm"];
  return ["pressure", "over", "part"].map((id) =>
    Math.ceil((deadlines[id] - Date.now()) / 60_000));
}"""
_REPORT = f"() => {{ location.hash = '#/nonconformance/{JOINT}/new'; }}"
_REFOLD = """async () => {
  const { engine } = await import("/phone/screens/model.js");
  (await engine()).refold();
}"""


def _race(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm"}, {"step": "spread"})


def _on_to(gang: Gang, end: int) -> None:
    """One minute past the end of that number."""
    gang.clock_on(gang.phone.page.evaluate(_ENDS)[end] + 1)
    gang.phone.page.evaluate(_REFOLD)


def _report_names_the_time(gang: Gang) -> None:
    """A report by hand names nothing that the race would have come to."""
    gang.phone.page.evaluate(_REPORT)
    gang.phone.until("() => document.querySelector('#screen textarea') !== null")
    assert gang.phone.page.input_value("#screen textarea") == "Open time over: "


def test_a_joint_still_open_when_its_time_is_over_is_parted_and_decided(
    gang: Gang,
) -> None:
    phone = gang.phone
    _race(gang)
    _on_to(gang, 0)
    # Late, and still in time to press: the race leads.
    phone.sees("Go on while the open time lasts", "#alarm")
    assert phone.page.locator("#overtime").count() == 0
    _on_to(gang, 1)
    phone.sees("part and clean while it parts clean", "#alarm")
    phone.sees("Joint parted and cleaned", "#made-apart")
    phone.sees("Open time over", "#overtime")
    assert phone.page.locator("#dock .main[data-step]").count() == 0
    _report_names_the_time(gang)
    phone.tap("#back")
    # Whoever goes on all the same records it from the column.
    phone.tap('[data-step="close"] .row')
    phone.sees("joint closed", '#dock [data-step="close"]')
    phone.tap('[data-step="close"] .row')
    phone.sees("Joint parted and cleaned", "#made-apart")
    _on_to(gang, 2)
    # Nothing is closed or under force: there is nothing to force apart.
    phone.sees("nothing under force, as far as recorded: do not close it", "#alarm")
    phone.sees("nobody forces the joint apart", "#alarm")
    phone.sees("nobody forces the joint apart", "#part-past")
    phone.sees("Joint parted and cleaned", "#made-apart.plain")
    phone.tap("#overtime")
    phone.until(f"() => location.hash === '#/nonconformance/{JOINT}'")


def test_once_closed_or_decided_the_race_leads_again(gang: Gang) -> None:
    phone = gang.phone
    _race(gang)
    _on_to(gang, 1)
    phone.sees("Open time over", "#overtime")
    gang.tell({"step": "close", "values": {"out": 1}})
    phone.sees("Bars", '#dock [data-step="bars"]')
    phone.sees("Joint closed: hold the force", "#alarm")
    # However old the last temperature is, none makes the time any longer.
    assert phone.page.locator('#dock [data-step="face-temp"]').count() == 0
    assert "counts as hottest" not in phone.page.inner_text("#minutes")
    _report_names_the_time(gang)


def test_what_the_engineer_decides_lets_the_race_lead(gang: Gang) -> None:
    phone = gang.phone
    _race(gang)
    _on_to(gang, 1)
    phone.sees("Open time over", "#overtime")
    for fault in phone.page.evaluate(TIMES_OVER):
        about = {"target": fault, "verdict": "use_as_is", "reason": "Gel seen later"}
        gang.sign({"kind": "disposition", "about": about}, "caspar")
    phone.until("() => !document.getElementById('overtime')")
    assert phone.page.locator("#dock .main[data-step]").count() > 0


def test_a_line_past_its_own_time_is_named_and_leads_to_being_discarded(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm"})
    asked = phone.page.locator("#dock .main").all_inner_texts()
    assert phone.page.locator("#too-old").count() == 0
    gang.clock_on(21)
    phone.page.evaluate(_REFOLD)
    phone.sees("Kit 1", "#too-old")
    phone.sees("Kit 1 · Kit on the face by: time is past", "#alarm")
    phone.sees("Do not use it", "#alarm")
    # It takes no key away: the kit may be on the face and not be written down.
    assert set(phone.page.locator("#dock .main").all_inner_texts()) & set(asked)
    # What was mixed as long ago says so before it is saved.
    assert phone.page.evaluate(_MIXED_EARLIER, [40, 0])[0] == "red"
    assert "Kit on the face by" in phone.page.evaluate(_MIXED_EARLIER, [40, 0])[1]
    assert "Kit on the face by" not in phone.page.evaluate(_MIXED_EARLIER, [1, 0])[1]
    phone.tap("#too-old")
    phone.tap("#dock .choice", "Too old")
    phone.tap("#discard-now")
    phone.until("() => document.body.dataset.screen === 'joint'")
    phone.until("() => !document.getElementById('too-old')")


_MIXED_EARLIER = """async ([minutes]) => {
  const { model } = await import("/phone/screens/model.js");
  const { answersFor } = await import("/phone/screens/draft.js");
  const { foreseen } = await import("/phone/screens/meaning.js");
  const entries = answersFor(model.open, "mix-warm", "kit-2");
  entries.find(({ when }) => when).value = Date.now() - minutes * 60_000;
  const form = { open: model.open, step: "mix-warm", line: "kit-2", entries };
  const { tone, graver } = foreseen(form);
  return [tone, graver.join()];
}"""
"""What the form of the second kit says would be raised, mixed so long ago."""


def test_a_batch_past_its_time_is_red_whatever_days_its_tendon_has(
    bare_phone: Handset,
) -> None:
    def told(minutes: int, status: str = "open") -> Any:
        return bare_phone.page.evaluate(_BATCH, [minutes * 60_000, status])

    assert told(29) == ["green", "Batch 2 · in by"]
    assert told(4) == ["yellow", "Batch 2 · in by"]
    assert told(-6) == ["red", "TIME OVER · Batch 2 · in by"]
    # Decided it wants nothing more, and the days are too far off to press.
    assert told(-6, "disposed")[1] == "by"


_BATCH = """async ([left, status]) => {
  const now = Date.now();
  const { minutesStrip } = await import("/phone/screens/strip.js");
  const day = 86_400_000;
  const line = { at: now - 60_000, entries: ["b"], entry: "b", status: "ok" };
  const steps = { mix: { lines: { b2: line }, refusals: [] },
    thread: { lines: {}, refusals: [] }, press: { lines: {}, refusals: [] } };
  const clock = (id, start, more) => ({ id, start, until: "press", temps: [],
    ratios: [{ id: "by", title: id === "pot" ? "in by" : "by", raises: "x" }],
    ...more });
  const run = (end) => ({ status: end > 0 ? "running" : "over", ended: 0, start: now,
    deadlines: { by: now + end }, left: { by: end }, expected: now });
  const open = { subject: "t", asOf: now, entries: [],
    sheet: { flow: [], points: {}, holds: [], milestones: [],
      steps: { thread: { title: "thread" }, press: { title: "press" },
        mix: { title: "mix", lines: [{ id: "b2", label: "Batch 2" }] } },
      clocks: [clock("days", "thread", {}), clock("pot", "mix", { per_line: 1 })] },
    state: { points: {}, holds: {}, steps, verdict: "incomplete",
      nonconformances: [{ code: "clock_over", status, step: "mix", line: "b2",
        check: "by", entry: "b" }],
      clocks: { days: run(3 * day), "pot/b2": run(left) } },
  };
  const { element } = minutesStrip(open, []);
  const chalk = element.querySelector(".chalk");
  return [["green", "yellow", "red"].find((one) => chalk.classList.contains(one)),
    chalk.querySelector("b").textContent];
}"""


def test_little_in_hand_is_yellow_before_it_is_too_late(bare_phone: Handset) -> None:
    def tones(in_hand: int, guessed: bool) -> Any:
        return bare_phone.page.evaluate(_TONES, [in_hand * 60_000, guessed])

    # Minutes, the chalk, GO, and the key of the first kit.
    assert tones(5, False) == ["green", "green", None, "large"]
    assert tones(4, False) == ["yellow", "yellow", "yes", "large"]
    assert tones(0, True) == ["yellow", "yellow", "yes", "large"]
    assert tones(-1, True) == ["yellow", "yellow", "yes", "large"]
    assert tones(-1, False) == ["red", "yellow", "late", "small"]


_TONES = """async ([inHandMs, guessed]) => {
  const now = Date.now();
  const { minutesStrip } = await import("/phone/screens/strip.js");
  const { sayShort } = await import("/phone/screens/beforehand.js");
  const ratios = [{ id: "by", title: "by" }];
  const found = { status: "running", start: now, deadlines: { by: now + 3_600_000 },
    guessed: guessed ? 1 : undefined, surely: now,
    left: { by: 3_600_000 }, expected: now + 3_600_000 - inHandMs - 1 };
  if (inHandMs >= 0) found.expected -= 2_000;
  const open = { subject: "j", asOf: now, entries: [],
    sheet: { flow: ["mix", "press"], points: {}, holds: [],
      milestones: [{ id: "pressed", title: "pressed", step: "press" }],
      steps: { mix: { title: "mix" }, press: { title: "press" } },
      clocks: [{ id: "open", start: "mix", until: "pressed", temps: [], ratios }] },
    state: { points: {}, holds: {}, nonconformances: [], clocks: { open: found },
      steps: { mix: { lines: {}, refusals: [] }, press: { lines: {}, refusals: [] } } },
  };
  const { element } = minutesStrip(open, []);
  const tone = (one) => ["green", "yellow", "red"].find((name) =>
    element.querySelector(one).classList.contains(name));
  const [place, dock] = [document.createElement("div"), document.createElement("div")];
  dock.id = "dock";
  dock.innerHTML = `<button class="main" data-step="mix"></button>`;
  document.documentElement.append(dock);
  if (inHandMs < 300_000) sayShort(place, { inHandMs, guessed }, { start: "mix" });
  dock.remove();
  return [tone(".inhand"), tone(".chalk"), place.dataset.short ?? null,
    dock.firstChild.classList.contains("late") ? "small" : "large"];
}"""
