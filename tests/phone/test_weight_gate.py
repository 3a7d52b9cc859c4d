"""The gate of the weight: what shuts it besides, and limits as the form had them."""

from tests.phone.gang import JOINT, Gang

PRESSURE = "() => document.querySelector('[data-field=\"pressure\"]').innerText"


def test_a_gate_says_which_witness_shuts_the_same_step_and_leads_there(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    phone.tap('#dock [data-step="bars"]')
    gang.choose_first()
    phone.until(f"() => /1\\d\\d to 1\\d\\d/.test(({PRESSURE})())")
    low, _, high = page.evaluate(PRESSURE).partition(" to ")
    ends = (low.split()[-1], high.split()[0])
    phone.tap("#back")
    gang.go_on()
    page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/weight'; }}")
    # What the form allowed in round 1 stands beside what was read in it.
    phone.sees(f"({ends[0]}…{ends[1]})", "#screen")
    phone.sees("Also shut by: Witness", "#screen")
    phone.tap('[data-opens="weight-seen"]')
    phone.sees("Witness: bars, before weight off", "#head")
    page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.sees("before its time was over", "[data-won]")
    phone.tap('[data-step="weight-off"] .row')
    phone.tap('[data-step="weight-off"] [data-opens="weight-seen"]')
    phone.sees("Witness: bars, before weight off", "#head")
