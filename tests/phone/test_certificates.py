"""Certificates that come later, are corrected, or go from phone to phone."""

from tests.phone.conftest import Make
from tests.phone.gang import ALL_READ, JOINT, PINS, Gang
from tests.phone.handset import Handset
from tests.phone.office import Office
from tests.phone.screens import WHOLE, codes_shown, hold_before
from tests.phone.stores import POINTS, entered, go, shift, write

INSPECTOR = "leofric"
LOT, KIND = "Warm, A 5601 / B 5602", "lot-warm"


def test_a_jack_gets_a_new_certificate_with_all_its_points(stores: Gang) -> None:
    phone = stores.phone
    go(stores, "/register/renew/jack-a")
    write(stores, "JC-404")
    phone.type_figure("3112")
    stores.save()
    for pressure, force in POINTS:
        stores.figure(pressure)
        stores.figure(force)
    # One more point is asked for, and is not on the certificate.
    stores.tap_slowly('#dock [data-key="go"]')
    phone.sees("50 to 200", "dl.facts")
    entry = entered(stores)
    assert entry["about"]["item"] == "jack-a"
    assert entry["about"]["text"].startswith("JC-404 | 50 bar 71.2 kN; ")
    assert "reason" not in entry["about"]
    assert "replaces" in entry["about"]
    assert entry["values"]["high"] == 200


def test_points_typed_on_a_phone_are_corrected_one_by_one(stores: Gang) -> None:
    phone = stores.phone
    _renew_jack(stores, [*POINTS[:2], ("150", "216,8"), POINTS[3], ("250", "365,8")])
    go(stores, "/register/correct/jack-a")
    phone.tap('[data-field="points"]')
    phone.sees("change its points", "#dock")
    stores.choose("2")
    phone.tap('[data-field="force-3"]')
    phone.sees("216.8", ".field.active .echo")
    phone.type_figure("218,6")
    # What is not on the certificate at all is erased.
    for field in ("force-5", "pressure-5"):
        phone.tap(f'[data-field="{field}"]')
        phone.tap('#dock [data-key="erase"]')
    phone.tap('[data-field="reason"]')
    stores.tap_slowly("#dock .reasons .choice")
    stores.save()
    phone.sees("50 to 200", "dl.facts")
    entry = entered(stores)
    told = "50 bar 71.2 kN; 100 bar 145.1 kN; 150 bar 218.6 kN; 200 bar 292.3 kN"
    assert entry["about"]["text"] == f"JC-404 | {told}"
    assert entry["about"]["reason"] == "Misread from the certificate"


def test_a_form_of_a_label_with_a_stroke_is_found_again(stores: Gang) -> None:
    phone = stores.phone
    go(stores, "/register/new/Warm%2C%20A%205601%20%2F%20B%205602")
    stores.choose(KIND)
    write(stores, "QC-5601")
    go(stores, "/register")
    phone.tap("[data-left]")
    phone.sees("QC-5601", '[data-field="certificate"]')
    phone.sees(LOT, '[data-field="label"]')


def test_a_form_of_a_certificate_replaced_meanwhile_says_so_and_can_go(
    stores: Gang,
) -> None:
    phone = stores.phone
    go(stores, "/register/renew/thermo-1")
    write(stores, "TH-90")
    phone.sees("Not saved yet", "#unsaved")
    phone.page.evaluate(_REPLACED, "thermo-1")
    go(stores, "/register")
    phone.tap("[data-left]")
    phone.sees("Somebody else changed this item meanwhile", "#form-note")
    phone.tap('[data-away="ask"]')
    phone.tap('[data-away="sure"]')
    phone.until("() => location.hash === '#/register'")
    phone.page.wait_for_selector("#new-item")
    assert phone.page.locator("[data-left]").count() == 0


def test_what_stores_entered_goes_to_another_phone_by_code(
    stores: Gang, office_of_gang: Office, handset_of: Make
) -> None:
    phone = stores.phone
    other = _inspectors_phone(stores, office_of_gang, handset_of)
    go(stores, f"/register/new/{'Warm%2C%20A%205601%20%2F%20B%205602'}")
    stores.choose(KIND)
    write(stores, "QC-5601")
    phone.type_figure("3112")
    stores.save()
    phone.sees(LOT, "h2")
    lot = entered(stores)["about"]["item"]
    go(stores, "/register/renew/thermo-1")
    write(stores, "TH-90")
    phone.type_figure("3112")
    stores.save()
    phone.sees("TH-90", "dl.facts")
    shift(stores, "jorun", PINS["jorun"])
    stores.tell(
        {"step": "faces", "values": ALL_READ | {"thermometer": "thermo-1"}},
        {"step": "ready"},
        {"step": "lots-warm", "values": {"lot": lot}},
    )
    go(stores, f"/roads/{JOINT}")
    phone.sees("Show what is new here: 5", "#screen")
    phone.tap('[data-show="new"]')
    frames = codes_shown(phone)
    other.page.evaluate("() => { location.hash = '#/scan'; }")
    hold_before(other, frames)
    other.sees("5 new, signatures hold", "#received")
    assert other.page.evaluate(_KNOWN, [lot, "thermo-1"]) == ["QC-5601", "TH-90"]
    assert other.page.evaluate(_FAILED, JOINT) == []
    # The same as a whole joint, for a phone that has nothing of it.
    go(stores, f"/roads/{JOINT}")
    phone.tap('[data-show="all"]')
    assert len(codes_shown(phone)) > 1


def _renew_jack(stores: Gang, points: list[tuple[str, str]]) -> None:
    go(stores, "/register/renew/jack-a")
    write(stores, "JC-404")
    stores.phone.type_figure("3112")
    stores.save()
    for pressure, force in points:
        stores.figure(pressure)
        stores.figure(force)
    stores.tap_slowly('#dock [data-key="go"]')
    stores.phone.sees("JC-404", "dl.facts")


def _inspectors_phone(stores: Gang, office: Office, handset_of: Make) -> Handset:
    """Enrol the inspector on a phone of their own; both hear of it, the office dies."""
    office.start()
    other = handset_of(office, "inspector").start()
    other.enrol(office.code(INSPECTOR), PINS[INSPECTOR])
    Gang(other).open_joint()
    other.until(WHOLE)
    office.kill()
    return other


_REPLACED = """async (item) => {
  const { engine, model, refresh } = await import("/phone/screens/model.js");
  const was = model.items[item];
  await (await engine()).saveForSite({ kind: "registered", values: was.numbers,
    about: { item, kind: was.kind, label: was.label, text: "TH-91",
      expires: was.expires, replaces: was.entry } }, model.shift);
  await refresh();
}"""
_KNOWN = """async (items) => {
  const { readKnown } = await import("/phone/screens/register/known.js");
  const known = await readKnown();
  return items.map((id) => known.items.find((one) => one.id === id)?.text);
}"""
_FAILED = """async (joint) => {
  const { openSubject } = await import("/phone/screens/model.js");
  const { state } = await openSubject(joint);
  return Object.values(state.steps).flatMap(({ failed, lines }) =>
    [...failed, ...Object.values(lines).flatMap((one) => one.failed)]);
}"""


def test_what_was_decided_of_a_certificate_is_in_the_evidence_of_all_it_judged(
    gang: Gang,
) -> None:
    # It was chosen before the lift, and pressed before the weight; the bolts are of
    # neither. It shuts what is left, which is none of them any more.
    assert gang.phone.page.evaluate(_DECIDED) == {"lift": 1, "weight": 1, "bolts": 0}


_DECIDED = """async () => {
  const { cameBefore } = await import("/phone/screens/course.js");
  const line = (values) => ({ lines: { "": { values, entries: [] } } });
  const gate = (step) => ({ class: "hold", covers: [step], shuts: [] });
  const open = {
    sheet: { flow: ["chosen", "lift", "bars", "weight", "bolt", "bolts"], clocks: [],
      steps: { chosen: { title: "Chosen" }, bars: { title: "Bars" },
        bolt: { title: "Bolt" } },
      points: { lift: gate("chosen"), weight: gate("bars"), bolts: gate("bolt") } },
    state: { attempts: 1, clocks: {}, points: {}, nonconformances: [
      { id: "f", code: "item_corrected", step: "chosen", line: "", check: "jack",
        entry: "e", status: "disposed", verdict: "use_as_is", disposition: "d",
        blocks: ["last"] }],
    steps: { chosen: line({ jack: "j" }), bars: line({ jack: "j" }),
      bolt: line({ key: "k" }) } },
    entries: [{ id: "e", kind: "done", values: { jack: "j" }, about: {} },
      { id: "d", kind: "disposition", about: { reason: "small" }, person: "p", at: 0 }],
  };
  return Object.fromEntries(["lift", "weight", "bolts"].map((point) =>
    [point, cameBefore(open, point).filter((one) => one.dataset.decided).length]));
}"""
