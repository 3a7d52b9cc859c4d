"""What the phone says of a refusal, by the sheet it has in hand."""

from tests.javascript import JavaScript
from tests.records.joint import FROZEN

STATES = "static/phone/states.js"


def test_an_old_sheets_jack_is_out_of_calibration_and_a_lot_expires(
    javascript: JavaScript,
) -> None:
    # Frozen before fields said that what they name is calibrated.
    sheet = FROZEN["sheet"]
    for step, field, code in (
        ("bars", "jack", "item_uncalibrated"),
        ("mix-cool", "lot", "item_expired"),
    ):
        facts = {"step": step, "line": "", "check": field}
        said = javascript.call(STATES, "codeSaid", "item_expired", facts, sheet)
        assert said == code
