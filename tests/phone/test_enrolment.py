"""Putting people on a phone by office codes, and what their keys withstand."""

from tests.people import FOREMAN, INSPECTOR
from tests.phone.conftest import Make
from tests.phone.office import Office

PIN, OTHER_PIN = "274951", "830264"


def test_two_people_are_enrolled_on_one_phone(office: Office, handset_of: Make) -> None:
    phone = handset_of(office).start()
    phone.sees("Code from the office")
    phone.enrol(office.code(FOREMAN), PIN)
    phone.sees("Ida Fell is on this phone now.", "#joined")
    phone.tap("#add-person")
    phone.enrol(office.code(INSPECTOR), OTHER_PIN)
    phone.sees("Omar Beck")
    keys = phone.storage("keys")
    assert {row["person"] for row in keys} == {FOREMAN, INSPECTOR}
    assert len({row["key"] for row in keys}) == 2


def test_a_shift_outlives_a_killed_browser(office: Office, handset_of: Make) -> None:
    phone = handset_of(office).start()
    phone.enrol(office.code(FOREMAN), PIN)
    phone.start_shift(FOREMAN, PIN)
    phone.until("() => navigator.serviceWorker.controller !== null")
    office.kill()
    phone.restart()
    phone.sees("Ida Fell", "#head")


def test_a_wrong_code_is_told_before_anybody_has_chosen_a_pin(
    office: Office, handset_of: Make
) -> None:
    phone = handset_of(office).start()
    for typed, said in (("AAAA-AAA0", "eight letters"), ("AAAA-AAAA", "not known")):
        phone.page.fill("#code", typed)
        phone.tap("#dock .main")
        phone.sees(said, "#screen .note")
    phone.page.fill("#code", office.code(FOREMAN))
    phone.tap_twice("#dock .main")
    phone.sees("Code of Ida Fell")
    # The pad came under the thumb: its second tap is no digit.
    phone.sees("Choose a PIN")
    assert phone.page.locator(".dot.full").count() == 0


def test_a_foreman_records_from_enrolment_on_and_nobody_else_takes_over(
    sample_office: Office, handset_of: Make
) -> None:
    phone = handset_of(sample_office).start()
    phone.enrol(sample_office.code("jorun"), PIN)
    phone.sees("records now", '[data-person="jorun"]')
    for person in ("leofric", "tamsin"):
        phone.tap("#add-person")
        phone.enrol(sample_office.code(person), OTHER_PIN)
        phone.sees("Start my shift", f'[data-person="{person}"]')
    phone.sees("Jorun Faleck", "#head .who")


def test_a_pin_is_not_called_wrong_while_it_is_not_tried_and_a_retired_key_is_told(
    office: Office, handset_of: Make
) -> None:
    phone = handset_of(office).start()
    phone.enrol(office.code(FOREMAN), PIN)
    phone.tap("#add-person")
    phone.enrol(office.code(INSPECTOR), OTHER_PIN)
    phone.tap(f'[data-person="{INSPECTOR}"] .act')
    for _ in range(3):
        phone.type_pin("111112")
        phone.sees("Wrong PIN", "#over .note")
    phone.sees("before the next try", "#over .note")
    phone.restart()
    phone.page.evaluate("() => { location.hash = '#/people'; }")
    phone.tap(f'[data-person="{INSPECTOR}"] .act')
    phone.sees("before the next try", "#over .note")
    # The right one: it waits like any other, and nobody says that it is wrong.
    phone.type_pin(OTHER_PIN)
    phone.page.wait_for_timeout(800)
    phone.sees("before the next try", "#over .note")
    assert "Wrong PIN" not in phone.page.inner_text("#over .note")
    phone.tap("#over .plain")

    key = next(r["key"] for r in phone.storage("keys") if r["person"] == INSPECTOR)
    office.command("person", "retire-key", INSPECTOR, key[:10], "--reason", "Forgot it")
    phone.until(f"() => !document.querySelector('[data-person={INSPECTOR}]')")
    phone.tap("#add-person")
    phone.sees("The office retired the key of Omar Beck", "#ended-keys")
    phone.sees("What it signed stands.", "#ended-keys")
    assert phone.faults == []
