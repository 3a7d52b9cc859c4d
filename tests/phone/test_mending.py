"""What goes wrong at the face is said at once and mended openly."""

import json
from datetime import datetime, timedelta
from typing import Any

from tests.phone.gang import ALL_READ, FACES, JOINT, WARM, YES, Gang

DAMP = "2"


def test_a_wet_face_is_told_at_once_and_cleared_by_reading_again(gang: Gang) -> None:
    _faces(gang, rag=DAMP)
    gang.phone.sees("A face is wet or dirty: clean it, dry it, wipe again", "#notice")
    gang.phone.sees("failed", '[data-step="faces"]')
    _faces(gang, rag="1", again=True)
    gang.phone.sees("done", '[data-step="faces"]')
    gang.phone.tap('[data-step="faces"] .row')
    gang.phone.tap('[data-step="faces"] button.line')
    # Both readings stay to be seen.
    gang.phone.until("() => document.querySelectorAll('article.rest').length === 2")
    # What is corrected is the reading that stands, not the one it took the place of.
    assert gang.phone.page.evaluate(_CORRECTS) == _newest_row(gang)["id"]


def test_a_correction_signs_only_what_changed_with_its_reason(gang: Gang) -> None:
    now = datetime.now().astimezone()
    ago = round((now - timedelta(minutes=30)).timestamp() * 1000)
    gang.tell({"step": "faces", "values": ALL_READ, "at": ago}, {"step": "ready"})
    gang.phone.tap('[data-step="faces"] .row')
    gang.phone.tap('[data-step="faces"] button.line')
    gang.phone.tap("#correct")
    gang.phone.tap('[data-field="humidity"]')
    gang.phone.type_figure("64")
    gang.save()
    gang.phone.tap('[data-field="reason"]')
    gang.phone.tap("#dock .choice")
    gang.phone.tap('[data-field="when"]')
    gang.phone.type_figure((now - timedelta(minutes=5)).strftime("%d%m%H%M"))
    # That a later hour does not count is said before it is saved, after, and there.
    counts = (now - timedelta(minutes=30)).strftime("%H:%M still: to later only")
    gang.phone.sees(counts, "#means")
    gang.save()
    gang.phone.until("() => document.body.dataset.screen === 'joint'")
    gang.phone.sees(counts, "#notice.yellow")
    gang.phone.sees(counts, "#heard")
    entry = _newest(gang)
    assert entry["kind"] == "correction"
    assert entry["values"] == {"humidity": 64}
    assert entry["about"]["reason"] == "Misread"
    gang.phone.page.evaluate(f"() => {{ location.hash = '#/line/{JOINT}/faces/-'; }}")
    gang.phone.sees(counts, "#screen article.rest:last-child")


def test_a_correction_begins_with_the_figure_and_not_with_the_jack(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    far_off = {"step": "bars", "values": {"pressure": 180}}
    gang.tell(far_off, {"step": "face-temp", "values": {"hottest": 215}})
    phone.tap('[data-step="bars"] .row')
    phone.tap('[data-step="bars"] button.line')
    phone.tap("#correct")
    phone.sees("Pressure", ".field.active")
    phone.type_figure("124")
    gang.save()
    phone.sees("Why", ".field.active")
    # Of several figures without a fault the first is asked.
    route = f"#/form/{JOINT}/faces/-/correct"
    phone.page.evaluate("(route) => { location.hash = route; }", route)
    phone.sees("Coldest, new face", ".field.active")


def test_what_a_shut_gate_forbade_can_be_written_down_as_having_happened(
    gang: Gang,
) -> None:
    gang.prepare_surfaces()
    gang.phone.tap('[data-step="mix-warm"] .row')
    gang.phone.sees("It happened anyway", "#dock")
    gang.act()
    gang.phone.sees("it becomes a nonconformance")
    gang.choose_first()
    gang.phone.tap('[data-field="reason"]')
    gang.phone.tap("#dock .choice")
    gang.save()
    gang.phone.until("() => document.body.dataset.screen === 'joint'")
    assert _newest(gang)["kind"] == "anyway"
    gang.phone.sees("Nonconformances: 1/1", "#nonconformances")


def test_a_refusal_carries_its_reason_and_the_pin(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.act()
    gang.phone.tap("#refuse")
    gang.phone.tap("#screen .choice", "Not seen at the face")
    gang.phone.tap("#refuse-now")
    # Whoever types a PIN reads what it signs: where, which gate, why.
    for said in ("Joint W1, Pier 2 west", "Gate: mixing", "Not seen at the face"):
        gang.phone.sees(said, "section.sheet")
    gang.phone.type_pin("830264")
    gang.phone.sees("refused")
    entry = _newest(gang)
    assert entry["kind"] == "refusal"
    assert entry["about"] == {"reason": "Not seen at the face"}
    assert entry["unlocked"] == "pin"


def test_a_figure_too_fine_or_impossible_is_never_saved(gang: Gang) -> None:
    gang.act()
    gang.phone.tap('[data-field="air"]')
    gang.phone.type_figure("22,55")
    gang.phone.sees("digits after the point: at most 1", ".field.active")
    for _ in range(4):
        gang.phone.tap('#dock [data-key="erase"]')
    gang.phone.type_figure("77")
    gang.phone.sees("not possible here", ".field.active")
    gang.phone.tap('#dock [data-key="erase"]')
    gang.phone.sees("27.0\u00a0°C", ".field.active")


def test_a_double_tap_answers_one_question_only(gang: Gang) -> None:
    gang.act()
    gang.phone.page.wait_for_timeout(400)
    gang.phone.page.locator('#dock [data-value="1"]').dblclick()
    gang.phone.page.wait_for_timeout(400)
    gang.phone.sees("Dry rag, old face", ".field.active")


_IN_SIGHT = """() => {
  const at = (one) => document.querySelector(one).getBoundingClientRect();
  const [asked, screen] = [at(".field.active"), at("#screen")];
  return asked.top >= screen.top - 1 && asked.bottom <= screen.bottom + 1;
}"""


def _faces(gang: Gang, *, rag: str, again: bool = False) -> None:
    gang.act()
    # Over its answers, under whatever the notice says: the question.
    gang.phone.sees("Dry rag, new face", ".field.active")
    gang.phone.until(_IN_SIGHT)
    if again:
        gang.phone.sees("Correct", "#notice")
        gang.phone.until(_IN_SIGHT)
    gang.choose(rag)
    gang.choose("1")
    for figure in FACES:
        gang.figure(figure)
    if not again:
        # The second time the thermometer is carried over.
        gang.choose_first()
    gang.choose(WARM)
    gang.choose(YES)
    gang.save()
    gang.phone.until("() => !location.hash.includes('/faces/')")
    if again:
        # All is as it should be now: what is asked next opens by itself.
        gang.phone.sees("Ready to mix", "#head")
        gang.phone.tap("#back")
    gang.phone.until("() => document.body.dataset.screen === 'joint'")


def _newest(gang: Gang) -> dict[str, Any]:
    entry: dict[str, Any] = json.loads(_newest_row(gang)["bytes"])
    return entry


def _newest_row(gang: Gang) -> dict[str, Any]:
    rows = [row for row in gang.phone.storage("entries") if row.get("mine")]
    newest: dict[str, Any] = max(rows, key=lambda row: row["seq"])
    return newest


_CORRECTS = """async () => {
  const { model: { open } } = await import("/phone/screens/model.js");
  const { answersFor, draftOf } = await import("/phone/screens/draft.js");
  const entries = [...answersFor(open, "faces", "", "correct"),
    { reason: true, value: "Misread" }];
  return draftOf({ open, step: "faces", line: "", mode: "correct", entries })
    .about.target;
}"""


def test_what_the_sheet_in_force_does_not_have_leads_to_the_joint(gang: Gang) -> None:
    phone = gang.phone
    for lost in ("form/{}/taken-out/-", "line/{}/taken-out/-", "point/{}/taken-out"):
        phone.page.evaluate(_GO, f"#/{lost.format(JOINT)}")
        phone.until(f"() => location.hash === '#/joint/{JOINT}'")
        phone.until("() => document.querySelector('#dock .main') !== null")
        phone.sees("Faces and air", "#screen")


_GO = "(hash) => { location.hash = hash; }"


def test_what_nothing_asks_for_is_not_recorded_by_one_tap(gang: Gang) -> None:
    phone = gang.phone
    before = len(phone.storage("entries"))
    for step in ("set-down", "gap-open"):
        phone.page.evaluate(_GO, f"#/joint/{JOINT}/{step}")
        phone.tap(f'#dock [data-step="{step}"]')
        phone.until("() => document.body.dataset.screen === 'form'")
        phone.tap("#back")
    assert len(phone.storage("entries")) == before
