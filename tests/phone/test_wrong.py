"""What a nonconformance is about, in figures, and what a signer is told of it."""

from tests.phone.gang import JOINT, Gang

ABOVE = {"step": "face-temp", "values": {"hottest": 412}}
PAGE = "(route) => { location.hash = route; }"


def test_a_reading_above_the_table_says_what_it_ends_and_is_shown_with_its_limit(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
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
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
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
