"""A sheet written by hand is copied in the evening: nothing on it is left out."""

from datetime import datetime, timedelta

from tests.phone.gang import ALL_READ, JOINT, Gang

WRITER = "Tamsin Orbell"


def test_what_is_asked_only_where_known_is_offered_from_paper(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    _face_read(gang, "19.5")
    # Here and now nobody is asked for the coldest point: the key would save.
    phone.sees("SAVE", '#dock [data-key="go"]')
    phone.tap('[data-field="paper"]')
    phone.tap('[data-value="paper"]')
    phone.page.fill("#writer", WRITER)
    gang.save()
    _done_at(gang, 3)
    phone.sees("not on the paper", '#dock [data-key="go"]')
    phone.sees("Coldest point", ".field.active")
    gang.figure("17.4")
    gang.save()
    phone.sees("Copying from paper", "#copying")
    # The sheet goes on; a point that was not written down is passed over.
    _face_read(gang, "19.8")
    gang.save()
    phone.sees("Coldest point", ".field.active")
    gang.save()
    phone.sees("Photos", ".field.active")
    gang.save()
    _done_at(gang, 2)
    # Still without its photo: asked once more, and saved without.
    gang.save()
    phone.until("() => location.hash.startsWith('#/joint/')")
    copied = _copied(gang)
    assert sorted('"coldest":174' in row for row in copied) == [False, True]
    assert sorted('"coldest"' in row for row in copied) == [False, True]


def test_a_lot_that_has_run_out_since_is_copied_from_paper_all_the_same(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    phone.page.evaluate(_RUN_OUT, LOT)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/lots-warm/-'; }}")
    gang.choose(LOT)
    phone.sees("Choose another", ".field .faulttext")
    phone.page.evaluate(
        f"() => {{ location.hash = '#/form/{JOINT}/lots-warm/-/paper'; }}"
    )
    phone.sees("copied from paper", '[data-field="paper"]')
    gang.choose(LOT)
    phone.until(_CHOSEN)
    # Left and come back to, it is there still.
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.tap("#unsaved")
    phone.until(_CHOSEN)


LOT = "lot-w1"
_RUN_OUT = """async (lot) => {
  const { engine, model } = await import("/phone/screens/model.js");
  const was = model.items[lot];
  const expires = Date.now() - 3_600_000;
  const certificates = { [was.entry]: { numbers: was.numbers, expires } };
  model.items = { ...model.items, [lot]: { ...was, expires, certificates } };
  await (await engine()).refold();
}"""
_CHOSEN = """() => /5501/.test(
  document.querySelector('[data-field="lot"] .echo')?.textContent ?? "")"""


def test_what_was_done_while_a_release_stood_is_copied_after_it_ran_out(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    released = datetime.now().astimezone()
    phone.page.evaluate(_IN_THE_EVENING)
    phone.sees("Look and decide", "#dock")
    phone.tap('[data-step="mix-warm"] .row')
    phone.sees("has expired", "#dock")
    # No reason, no nonconformance: the time written down says it was in time.
    phone.tap("#in-time")
    phone.sees("copied from paper", '[data-field="paper"]')
    assert phone.page.locator('[data-field="reason"]').count() == 0
    gang.choose_first()
    phone.sees("Temperature of the mix", ".field.active")
    gang.save()
    phone.tap('[data-field="when"]')
    gang.figure(released.strftime("%d%m%H%M"))
    gang.save()
    phone.until("() => location.hash.startsWith('#/joint/')")
    (row,) = _copied(gang)
    assert '"reason"' not in row
    phone.sees("1 of 2", '[data-step="mix-warm"]')
    told = phone.page.evaluate(_FAULTS)
    assert "gate_shut" not in told
    # What the race waits for is asked as the sheet has it: no reading of this evening.
    phone.sees("Kit 1", "#dock")
    assert "Hottest" not in phone.page.inner_text("#dock")


def test_what_happened_anyway_is_told_so_while_a_sheet_is_copied(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    gang.prepare_surfaces()
    gang.release("leofric")
    page.evaluate(_COPYING)
    page.evaluate(_IN_THE_EVENING)
    phone.sees("Look and decide", "#dock")
    phone.tap('[data-step="mix-warm"] .row')
    # The one key of the two says that it happened past a shut gate, and asks why.
    phone.tap("#dock .main.grey")
    phone.sees("has expired", ".caution")
    assert page.locator('[data-field="reason"]').count() == 1
    phone.tap("#back")
    # What leads here without saying which begins with the sheet in hand.
    page.evaluate("(route) => { location.hash = route; }",
                  f"#/form/{JOINT}/mix-warm/kit-1")  # fmt: skip
    phone.sees("copied from paper", '[data-field="paper"]')
    assert page.locator('[data-field="reason"]').count() == 0


def test_in_time_it_was_only_where_nothing_else_shuts_the_step(gang: Gang) -> None:
    page = gang.phone.page
    assert page.evaluate(_IN_TIME, ["gate_expired"]) == [True, "paper"]
    assert page.evaluate(_IN_TIME, ["gate_expired"] * 2) == [True, "paper"]
    # Something else was in the way as well, whatever the release says.
    for other in ("gate_shut", "condition_open"):
        assert page.evaluate(_IN_TIME, ["gate_expired", other]) == [False, "anyway"]
        assert page.evaluate(_IN_TIME, [other, "gate_expired"]) == [False, "anyway"]
    assert page.evaluate(_IN_TIME, []) == [False, None]


def test_a_gate_passed_over_is_asked_for_when_all_else_is_done(gang: Gang) -> None:
    page = gang.phone.page
    # All is done past the gate, whose release never came; or it came and ran out.
    assert page.evaluate(_ASKED_AT_LAST, "ready") == "gate"
    assert page.evaluate(_ASKED_AT_LAST, "called") == "gate"
    assert page.evaluate(_ASKED_AT_LAST, "expired") is None
    assert page.evaluate(_ASKED_AT_LAST, "released") is None


_COPYING = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { subject } = model.open;
  const shift = `${model.shift.person} ${model.shift.until}`;
  model.copying = { subject, shift, goesOn: true, writer: "Tamsin Orbell",
    at: Date.now(), noted: Date.now(), hashes: [] };
}"""
_IN_TIME = f"""async (codes) => {{
  await ({_COPYING})();
  const {{ besideAnyway }} = await import("/phone/screens/copying.js");
  const {{ modeOf }} = await import("/phone/screens/draft.js");
  const {{ model }} = await import("/phone/screens/model.js");
  const refusals = codes.map((code) => ({{ code, facts: {{}} }}));
  const anyway = document.createElement("button");
  const keys = besideAnyway(anyway, refusals, "mix", () => {{}});
  const state = {{ steps: {{ mix: {{ refusals }} }} }};
  const open = {{ subject: model.open.subject, state }};
  const mode = modeOf({{ open, step: "mix", mode: undefined, shut: refusals[0] }});
  return [keys !== anyway, mode ?? null];
}}"""
_ASKED_AT_LAST = """async (status) => {
  const { currentOf } = await import("/phone/screens/column.js");
  return currentOf({
    sheet: {
      flow: ["seen", "gate", "lift"], steps: { lift: { class: "gated" } },
      points: { gate: { class: "hold", shuts: ["lift"] },
        seen: { class: "surveillance" } },
    },
    state: {
      steps: { lift: { status: "done", lines: { "": {} } } },
      points: { gate: { status }, seen: { status: "ready" } },
    },
  });
}"""
_IN_THE_EVENING = """() => {
  const real = Date.now;
  Date.now = () => real() + 40 * 60_000;
}"""
"""Longer than a release lasts, sooner than the faces are too old."""
_FAULTS = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.nonconformances.map(({ code }) => code);
}"""


def _copied(gang: Gang) -> list[str]:
    rows = [row["bytes"] for row in gang.phone.storage("entries")]
    return [row for row in rows if '"copied"' in row]


def _face_read(gang: Gang, hottest: str) -> None:
    script = f"() => {{ location.hash = '#/form/{JOINT}/face-temp/-'; }}"
    gang.phone.page.evaluate(script)
    gang.phone.sees("Hottest point", ".field.active")
    gang.phone.type_figure(hottest)


def _done_at(gang: Gang, minutes_ago: int) -> None:
    gang.phone.sees("When", ".field.active")
    when = datetime.now().astimezone() - timedelta(minutes=minutes_ago)
    gang.figure(when.strftime("%H%M"))
