"""Stores enter an item with a thumb, and the gang chooses it on the same phone."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from fieldapp.app import create_app
from fieldapp.clock import utc_now_ms
from fieldapp.config import Settings, open_door
from fieldapp.plan.register import end_of_day_ms
from fieldapp.store.accounts import Account, set_account
from fieldapp.store.database import connected, writing
from tests.desk import OFFICE_NAME, PASSWORD, TOKEN
from tests.phone.gang import ALL_READ, JOINT, PINS, Gang
from tests.phone.office import Office
from tests.phone.stores import POINTS, STORES, STORES_PIN, entered, go, shift, write

LOT, KIND = "Warm, A 5601 / B 5602", "lot-warm"
SITE_ZONE = 60


def test_a_lot_is_entered_by_thumb_and_chosen_at_the_face(stores: Gang) -> None:
    phone = stores.phone
    phone.tap("#more")
    phone.tap("#to-register")
    phone.tap("#new-item")
    stores.choose(KIND)
    write(stores, "")
    phone.sees("a label, as people on the site know it", ".field.active .faulttext")
    write(stores, "warm a5501 / b5502")
    write(stores, "Warm, A 5501 / B 5502")
    phone.sees("is in the register already", ".field.active .faulttext")
    write(stores, LOT)
    write(stores, "QC-5601")
    phone.type_figure("3102")
    phone.sees("there is no such day", ".field.active .faulttext")
    # Nobody enters a lot without an end where every other lot has one.
    assert phone.page.locator("#no-day").count() == 0
    for _ in "3102":
        phone.tap('#dock [data-key="erase"]')
    last = datetime.now(UTC).date() + timedelta(days=90)
    phone.type_figure(last.strftime("%d%m%y"))
    phone.sees(str(last.year), ".field.active .echo")
    stores.save()
    phone.sees(LOT, "h2")
    phone.sees("It can be chosen on this phone at once", "#registered")
    entry = entered(stores)
    assert entry["about"] == {
        "item": entry["about"]["item"], "kind": KIND, "label": LOT, "text": "QC-5601",
        "expires": end_of_day_ms(last, SITE_ZONE),
    }  # fmt: skip
    assert entry["unlocked"] == "shift"
    shift(stores, "jorun", PINS["jorun"])
    stores.tell({"step": "faces", "values": ALL_READ})
    go(stores, f"/form/{JOINT}/lots-warm/-")
    stores.choose(entry["about"]["item"])
    phone.sees(LOT, ".field .echo")


def test_a_corrected_certificate_is_told_once_where_it_was_used(
    stores: Gang, office_of_gang: Office
) -> None:
    phone = stores.phone
    shift(stores, "jorun", PINS["jorun"])
    stores.tell({"step": "faces", "values": ALL_READ | {"thermometer": "thermo-1"}})
    shift(stores, STORES, STORES_PIN)
    go(stores, "/register/item/thermo-1")
    phone.tap("#correct")
    phone.sees("what was read on the wrong certificate is reported")
    # The day comes first, filled with what was entered.
    phone.sees("2036", ".field.active .echo")
    phone.type_figure("300936")
    stores.save()
    stores.tap_slowly("#dock .reasons .choice")
    stores.save()
    phone.sees("Sep 30, 2036", "dl.facts")
    entry = entered(stores)
    assert entry["about"]["expires"] == end_of_day_ms(date(2036, 9, 30), SITE_ZONE)
    assert entry["about"]["reason"] == "Misread from the certificate"
    assert entry["about"]["replaces"] in _offices_own(stores)
    assert len(_faults(stores)) == 1
    office_of_gang.start()
    phone.try_office()
    phone.sees("all at the office", "#office-mark")
    office_of_gang.kill()
    page = _desk(office_of_gang.data, "/register/thermo-1")
    assert "Good until 2036-09-30" in page
    assert "Misread from the certificate" in page
    assert "Sunniva Crake" in page


def test_a_lot_corrected_to_a_day_that_is_over_is_said_to_have_ended(
    stores: Gang,
) -> None:
    phone = stores.phone
    go(stores, "/register/item/lot-w1")
    phone.sees("Registered by the office", "#entered-by")
    assert phone.page.locator("#ended-item").count() == 0
    phone.tap("#correct")
    over = datetime.now(UTC).date() - timedelta(days=3)
    phone.type_figure(over.strftime("%d%m%y"))
    stores.save()
    stores.tap_slowly("#dock .reasons .choice")
    stores.save()
    phone.sees("Its last day is over", "#ended-item")
    phone.sees("Saved", "#registered")
    assert "can be chosen" not in phone.page.inner_text("#screen")
    phone.sees("Corrected by Sunniva Crake", "#entered-by")
    phone.sees("Misread from the certificate", "#entered-by")


def test_a_jack_comes_with_the_points_of_its_certificate(stores: Gang) -> None:
    phone = stores.phone
    go(stores, "/register/new/Jack%20C%20with%20gauge%20C1")
    stores.choose("jack")
    write(stores, "JC-303")
    phone.type_figure("3112")
    stores.save()
    for pressure, force in POINTS[:3]:
        stores.figure(pressure)
        stores.figure(force)
    # A figure wrong by far is no line: it is asked for again, and nothing is lost.
    stores.figure("200")
    stores.figure("242,3")
    stores.tap_slowly('#dock [data-key="go"]')
    phone.sees("look for a wrong figure", "#form-note")
    phone.tap('[data-field="force-4"]')
    for _ in "242.3":
        phone.tap('#dock [data-key="erase"]')
    stores.figure("292,3")
    phone.sees("50 to 200", "dl.facts")
    entry = entered(stores)
    assert entry["values"]["low"] == 50
    assert entry["values"]["high"] == 200
    # About 1.47 kN a bar, in ten-millionths.
    assert entry["values"]["slope"] == pytest.approx(1.4734e7, abs=2e4)
    assert entry["about"]["text"].endswith("150 bar 218.6 kN; 200 bar 292.3 kN")


def test_a_form_left_half_filled_waits_and_the_face_is_come_back_to(
    stores: Gang,
) -> None:
    phone = stores.phone
    go(stores, f"/form/{JOINT}/faces/-")
    phone.tap('[data-field="thermometer"]')
    phone.page.fill("#label", "Surface thermometer 9")
    phone.tap("#enter-item")
    phone.sees("Adhesive, cool", "#dock")
    phone.tap("#back")
    phone.until(f"() => location.hash === '#/form/{JOINT}/faces/-'")
    go(stores, "/register/new/Surface%20thermometer%209")
    stores.choose("thermometer")
    write(stores, "TH-99")
    phone.restart()
    phone.sees("Sunniva", "#head")
    go(stores, "/register/new/Surface%20thermometer%209")
    phone.sees("Not saved yet", "#unsaved")
    phone.sees("TH-99", '[data-field="certificate"]')
    phone.type_figure("3112")
    stores.save()
    phone.sees("Surface thermometer 9", "h2")


def test_a_bar_is_taken_out_of_use_and_chosen_before_no_gate(stores: Gang) -> None:
    phone = stores.phone
    go(stores, "/register/item/bar-07")
    phone.tap("#out")
    phone.sees("From now on not to be chosen", ".hint")
    # Without a reason nothing is signed.
    assert phone.page.locator("#dock .main.ready").count() == 0
    stores.tap_slowly("#dock .reasons .choice")
    stores.save()
    phone.sees("It is out of use", "#ended-item")
    phone.sees("Taken out of use by Sunniva Crake", "#entered-by")
    phone.sees("Broken", "#entered-by")
    phone.sees("MT-207", "dl.facts")
    assert phone.page.locator("#out, #correct").count() == 0
    assert "Earlier" not in phone.page.inner_text("dl.facts")
    entry = entered(stores)
    about = entry["about"]
    assert (about["text"], about["expires"]) == ("Broken", entry["at"])
    # The moment it was saved: nobody typed an hour.
    assert (entry["at_by"], entry["made"]) == ("tap", entry["at"])
    assert about["replaces"] in _offices_own(stores)
    assert "reason" not in about
    assert entry["values"] == {"uses_max": 10}
    place, other = phone.page.evaluate(_PLACES)[:2]
    _told_at_the_gate(stores, other)
    # Whoever leaves a gate to start a shift is led back to it.
    for route, screen in ((f"/joint/{JOINT}", "joint"), ("/", "site")):
        go(stores, route)
        phone.until(f"() => document.body.dataset.screen === '{screen}'")
    shift(stores, "jorun", PINS["jorun"])
    go(stores, f"/form/{JOINT}/bars-in/{place}")
    unfit = '#dock [data-value="bar-07"][data-unfit]'
    phone.sees("Broken", unfit)
    phone.sees("out of use", unfit)
    stores.choose("bar-07")
    phone.sees("heat K207: Broken. Choose another", ".field.active .faulttext")


def _told_at_the_gate(stores: Gang, place: str) -> None:
    """Take out of use what hangs in the joint already, and put it back."""
    phone = stores.phone
    shift(stores, "jorun", PINS["jorun"])
    stores.tell({"step": "bars-in", "line": place,
                 "values": {"bar": "bar-08", "coupler": 1}})  # fmt: skip
    shift(stores, STORES, STORES_PIN)
    go(stores, "/register/out/bar-08")
    stores.tap_slowly("#dock .reasons .choice")
    stores.save()
    go(stores, f"/point/{JOINT}/mixing")
    told = '#out-of-use [data-item="bar-08"]'
    phone.sees("Bar 08, 32 mm, heat K207: out of use since", told)
    phone.sees(": Broken", told)
    # It is put back by a certificate of its own.
    go(stores, "/register/item/bar-08")
    phone.tap("#renew")
    write(stores, "MT-207")
    stores.tap_slowly("#no-day")
    stores.figure("10")
    phone.sees("New certificate entered by Sunniva Crake", "#entered-by")
    go(stores, f"/point/{JOINT}/mixing")
    phone.page.wait_for_selector("#unfold")
    assert phone.page.locator("#out-of-use").count() == 0


def test_a_foreman_reads_the_register_and_enters_nothing(gang: Gang) -> None:
    phone = gang.phone
    phone.tap("#more")
    phone.tap("#to-register")
    phone.sees("Entered and corrected by: Stores", "#who-may")
    phone.page.fill("#find", "qc 5501")
    phone.tap('[data-item="lot-w1"]')
    phone.sees("Jun 30, 2036", "dl.facts")
    assert phone.page.locator("#new-item, #correct, #renew").count() == 0
    go(gang, "/register/correct/lot-w1")
    phone.sees("Entered and corrected by: Stores", "#who-may")
    assert phone.page.locator(".fields, #dock .main").count() == 0
    # Nor is it offered where a label is not known.
    go(gang, f"/form/{JOINT}/faces/-")
    phone.tap('[data-field="thermometer"]')
    phone.page.fill("#label", "nothing of ours")
    phone.sees("Nothing of this kind", "#dock")
    assert phone.page.locator("#enter-item").count() == 0


def _desk(data: Path, path: str) -> str:
    """Give a page of the desk, its white space set to single blanks."""
    store = open_door(data).store
    with connected(store), writing(store):
        account = Account(name=OFFICE_NAME, person="odalys", office=True)
        set_account(store, account, PASSWORD, 0)
    client = create_app(Settings(data=data), clock=utc_now_ms).test_client()
    token = TOKEN.search(client.get("/sign-in").text)
    assert token is not None
    fields = {"csrf_token": token[1], "name": OFFICE_NAME, "password": PASSWORD}
    client.post("/sign-in", data=fields)
    return " ".join(client.get(path).text.split())


def _offices_own(gang: Gang) -> set[str]:
    return {row["id"] for row in gang.phone.storage("entries") if not row.get("mine")}


def _faults(gang: Gang) -> list[Any]:
    found: list[Any] = gang.phone.page.evaluate(
        """async (joint) => {
          const { openSubject } = await import("/phone/screens/model.js");
          return (await openSubject(joint)).state.nonconformances
            .filter(({ code }) => code === "item_corrected").map(({ id }) => id);
        }""",
        JOINT,
    )
    return found


_PLACES = """async () => {
  const { openSubject } = await import("/phone/screens/model.js");
  return (await openSubject("j-w1")).sheet.steps["bars-in"].lines.map(({ id }) => id);
}"""
