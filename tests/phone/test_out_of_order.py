"""What stands out of order: times that cannot be, as somebody typed them; entries that
came in another order than they were made in.
"""

from datetime import datetime, timedelta

from tests.phone.gang import JOINT, Gang
from tests.phone.handset import Handset

SAID = "one of these times is wrong"
THROWN = "what becomes of it is to be decided"
MINUTE_MS = 60_000
KIT_3 = '#dock [data-step="spread"][data-line="kit-3"]'


def test_a_kit_spread_before_it_was_mixed_is_marked_wherever_it_is_read(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    typed = datetime.now().astimezone() - timedelta(minutes=20)
    # At an hour before its gate was released it is against that, now open as it is.
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/mix-warm/kit-1'; }}")
    gang.choose_first()
    phone.tap('[data-field="when"]')
    phone.type_figure(typed.strftime("%d%m%H%M"))
    phone.sees("Gate: mixing", "#means.red")
    # What is read again that a release rests on ends it, though it be within limits.
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/faces/-/again'; }}")
    phone.tap('[data-field="hot-new"]')
    phone.type_figure("21.5")
    phone.sees("Ends the release of Gate: mixing", "#means.yellow")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/spread/kit-1'; }}")
    phone.tap('[data-field="when"]')
    phone.type_figure(typed.strftime("%d%m%H%M"))
    # Said before it is saved.
    phone.sees(SAID, "#means.yellow")
    gang.save()
    phone.until("() => document.body.dataset.screen === 'joint'")
    for step in ("spread", "mix-warm"):
        phone.tap(f'[data-step="{step}"] > .row')
        phone.sees(SAID, f'[data-step="{step}"] [data-early="kit-1"]')
    phone.page.evaluate(f"() => {{ location.hash = '#/line/{JOINT}/spread/kit-1'; }}")
    phone.sees(SAID, "#screen")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/weight'; }}")
    phone.sees(SAID, "#screen")


def test_a_kit_discarded_that_is_on_the_face_is_marked_wherever_it_is_read(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell(
        {"step": "mix-warm", "line": "kit-1"},
        {"step": "mix-warm", "line": "kit-2"},
        {"step": "spread", "line": "kit-1"},
    )
    thrown = {"kind": "discarded", "step": "mix-warm", "about": {"reason": "Wrong kit"}}
    # What never came to the face is out of order nowhere.
    gang.sign({**thrown, "line": "kit-2"})
    phone.tap('[data-step="mix-warm"] > .row')
    phone.sees("discarded", '[data-step="mix-warm"]')
    assert phone.page.locator("[data-early]").count() == 0
    gang.sign({**thrown, "line": "kit-1"})
    for step in ("spread", "mix-warm"):
        phone.page.evaluate(
            f"() => {{ location.hash = '#/line/{JOINT}/{step}/kit-1'; }}"
        )
        phone.sees(THROWN, "#screen")
    gang.open_joint()
    phone.tap('[data-step="spread"] > .row')
    phone.sees(THROWN, '[data-step="spread"] [data-early="kit-1"]')
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/weight'; }}")
    phone.sees(THROWN, "#screen")
    # The spare that takes its place leads out of its bucket as well.
    gang.tell({"step": "mix-warm", "line": "kit-3"})
    gang.open_joint()
    phone.sees("Kit 3", '#dock .main[data-step="spread"]')
    gang.tell({"step": "spread", "line": "kit-3"})
    phone.until(f"() => document.querySelector('{KIT_3}') === null")


def test_only_more_than_the_minute_that_is_typed_is_out_of_order(
    bare_phone: Handset,
) -> None:
    assert _told(bare_phone, mixed=10 * MINUTE_MS, spread=8 * MINUTE_MS)
    assert not _told(bare_phone, mixed=10 * MINUTE_MS, spread=9 * MINUTE_MS)
    # By the office's clock, which both phones had heard, it was after.
    assert not _told(
        bare_phone, mixed=10 * MINUTE_MS, spread=8 * MINUTE_MS, slow=3 * MINUTE_MS
    )


def test_what_another_phone_reported_of_a_stop_belongs_to_it_whoever_numbers_first(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    gang.sign({"kind": "made_safe", "about": {"how": "Covered"}})
    gang.sign({"kind": "nonconformance", "about": {"text": "Rain in the joint"}})
    phone.sees("Rain", "#stopped-before")
    # As a phone with few entries would have numbered it, heard of by code.
    phone.page.evaluate(_EARLIER, "nonconformance")
    phone.restart()
    phone.tap("#stopped-before")
    phone.until("() => location.hash.startsWith('#/nonconformance/')")
    phone.sees("Rain in the joint", "h2")


def _told(phone: Handset, *, mixed: int, spread: int, slow: int = 0) -> bool:
    found: list[object] = phone.page.evaluate(_BACKWARDS, [mixed, spread, slow])
    return found != []


_BACKWARDS = """async ([mixed, spread, offset]) => {
  const { backwards } = await import("/phone/screens/backwards.js");
  const moments = { mix: { at: mixed, offset: 0, unknown: false },
    spread: { at: spread, offset, unknown: false } };
  const scene = { lines: (step) => new Map([["k1", { step, discarded: false }]]),
    view: { moment: ({ step }) => moments[step] } };
  const sheet = { steps: { mix: {}, spread: {} },
    clocks: [{ start: "mix", until: "spread", per_line: 1 }] };
  return backwards({ sheet, scene }, "spread", "k1");
}"""
_EARLIER = """async (kind) => {
  const { transact } = await import("/phone/device/database.js");
  const rows = await transact(["entries"], "readonly", (store) =>
    store("entries").getAll());
  const row = rows.find(({ bytes }) => JSON.parse(bytes).kind === kind);
  await transact(["entries", "meta"], "readwrite", (store, then) => {
    store("entries").put({ ...row, seq: 0 });
    then(store("meta").get("revision"), (was = 0) => {
      store("meta").put(was + 1, "revision");
    });
  });
}"""
