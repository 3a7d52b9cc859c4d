"""What says the same is told once on the phone, and decided by one form and one PIN."""

import json

from tests.phone.gang import JOINT, PINS, Gang

BARS = ("b1", "b3", "b5")
WRONG_BAR = 400
"""Far above what round 1 wants, and above a bar's cap: two nonconformances a bar."""


def test_one_wrong_pressure_on_three_bars_is_one_line_and_one_decision(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    gang.tell(
        *(
            {"step": "bars", "line": f"{bar}-r1",
             "values": {"jack": "jack-a", "pressure": WRONG_BAR}}
            for bar in BARS
        )
    )  # fmt: skip
    page.goto(f"{phone.url}/phone/#/point/{JOINT}/weight")
    phone.sees("Round 1, bar 1, wing left / Round 1, bar 3")
    shut = page.locator("ul.refusals li", has_text="The bar is above its cap")
    assert shut.count() == 1
    assert "outside the band" in shut.inner_text()
    page.goto(f"{phone.url}/phone/#/nonconformance/{JOINT}")
    phone.tap("[data-fault]", "The bar is above its cap")
    phone.sees("6 together")
    phone.sees("Bars, round by round", "#screen h2")
    assert page.locator("#screen .bad").count() == 2
    # What is to be decided comes first; one by one only for whoever asks for it.
    assert page.locator("[data-one]").count() == 0
    phone.tap("#apart")
    # One of them is left for later.
    phone.tap('[data-one][aria-pressed="true"]')
    phone.sees("5 together")
    phone.tap('[data-verdict="use_as_is"]')
    page.fill("#screen textarea", "Gauge read in other units: lifted off, within.")
    phone.tap("#dispose")
    phone.sees("5 together", "#over")
    phone.type_pin(PINS["caspar"])
    phone.until("() => location.hash.startsWith('#/joint/')")
    entries = [json.loads(row["bytes"]) for row in phone.storage("entries")]
    decided = [each for each in entries if each["kind"] == "disposition"]
    # Each nonconformance has its own decision, signed by whoever gave the PIN.
    assert len({each["about"]["target"] for each in decided}) == len(decided) == 5
    assert {each["person"] for each in decided} == {"caspar"}
    page.goto(f"{phone.url}/phone/#/nonconformance/{JOINT}")
    # What was left for later by itself; what was decided, by reason and lines.
    phone.sees("3 together")
    assert page.locator("[data-fault]").count() == 3


def test_stages_let_off_past_one_gate_are_one_line_and_one_decision(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    for line, hook in (("off-0", 470), ("off-25", 367)):
        values = {"hook": hook, "joint": 1}
        about = {"reason": "Released on paper"}
        gang.sign({"kind": "anyway", "step": "weight-off", "line": line,
                   "values": values, "about": about})  # fmt: skip
    page.goto(f"{phone.url}/phone/#/nonconformance/{JOINT}")
    phone.tap("[data-fault]", "Gate: weight off the gear")
    phone.sees("2 together")
    phone.sees("0 % off, about 489 kN left on the hook / 25 % off")
    # What somebody reported of one STOP is alike only where the words are.
    for text in ("Rain", "Water in duct 3", "Rain"):
        gang.sign({"kind": "nonconformance", "about": {"text": text}})
    ids = phone.page.evaluate(_BY_HAND)
    page.goto(f"{phone.url}/phone/#/nonconformance/{JOINT}/{'+'.join(ids)}")
    phone.sees("Water in duct 3")
    shown = page.locator("[data-fault]")
    assert sorted(one.split("\n")[0] for one in shown.all_inner_texts()) == [
        "Rain", "Water in duct 3"
    ]  # fmt: skip
    phone.tap("[data-fault]", "Rain")
    phone.sees("2 together", "#apart")


_BY_HAND = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.nonconformances.filter(({ code }) => code === "by_hand")
    .map(({ id }) => id);
}"""


def test_a_disputed_line_shows_what_either_phone_recorded(gang: Gang) -> None:
    said = gang.phone.page.evaluate(_DISPUTED)
    assert "Surface: 21.5" in said[0]
    assert "Read again" in said[1]
    # Only what differs, with who, when and on which phone.
    for own in ("Jorun", "This phone", "21.5"):
        assert own in said[2]
    for other in ("Leofric", "phone-b", "18.4"):
        assert other in said[3]
    assert "Humidity" not in said[2] + said[3]


_DISPUTED = """async () => {
  const { lineList } = await import("/phone/screens/steplines.js");
  const number = (id, label) =>
    ({ id, label, kind: "number", unit: "", places: 1, need: 1 });
  const line = {
    status: "disputed", at: 60_000, person: "jorun", entry: "x", entries: ["y", "x"],
    values: { t: 215, h: 600 }, failed: [], cautions: [], shows: {},
  };
  const { model } = await import("/phone/screens/model.js");
  const { device } = model.identity;
  const list = lineList({
    sheet: { points: {}, steps: { wipe: { title: "Wipe",
      fields: [number("t", "Surface"), number("h", "Humidity")] } } },
    state: { steps: { wipe: { lines: { "": line } } } }, subject: "j",
    entries: [
      { id: "x", at: 60_000, person: "jorun", device, values: { t: 215, h: 600 } },
      { id: "y", at: 30_000, person: "leofric", device: "phone-b",
        values: { t: 184, h: 600 } }],
  }, {}, "wipe").at(-1);
  while (!list.querySelector(".failtext")) {
    await new Promise((on) => setTimeout(on, 20));
  }
  return [list.querySelector("button").textContent,
    ...[...list.querySelectorAll(".failtext")].map((one) => one.textContent)];
}"""
