"""The last round confirms each force by its extension: *At target* does not skip it."""

import json
from typing import Any

from tests.phone.gang import Gang
from tests.phone.handset import DOUBLE_TAP_MS

BARS = 6
EXTENSION = 11


def test_at_target_goes_on_to_the_extension_of_the_last_round_only(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * (2 * BARS - 1))
    phone.tap('#dock [data-step="bars"]')
    # The last bar of the second round: one tap, and the next bar's form is there.
    gang.tap_slowly("#dock .target")
    phone.until("() => location.hash.endsWith('/bars/b1-r3')")
    gang.tap_slowly("#dock .target")
    phone.sees("Extension", ".field.active")
    phone.sees("asked for here", ".field.active")
    phone.sees("SAVE", '#dock [data-key="go"]')
    phone.sees("missing: Extension", '#dock [data-key="go"]')
    phone.type_figure("1")
    phone.until("() => document.querySelector('#dock [data-wanted]') === null")
    phone.tap('#dock [data-key="erase"]')
    phone.sees("missing: Extension", '#dock [data-key="go"]')
    gang.figure("11")
    phone.until("() => location.hash.endsWith('/bars/b2-r3')")
    assert _bar(gang, "b1-r3")["extension"] == 11
    assert "extension" not in _bar(gang, "b6-r2")
    # Force accepts a bar: without its extension it can be saved all the same.
    gang.tap_slowly("#dock .target")
    phone.sees("Extension", ".field.active")
    gang.save()
    phone.until("() => location.hash.endsWith('/bars/b3-r3')")
    assert "extension" not in _bar(gang, "b2-r3")


def test_a_double_tap_on_at_target_types_nothing_into_what_comes_next(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * (2 * BARS))
    phone.tap('#dock [data-step="bars"]')
    phone.sees("At target", "#dock")
    page.wait_for_timeout(DOUBLE_TAP_MS)
    # What a keyboard types at once is no second tap: the first 1 is its.
    page.evaluate(_TWICE)
    phone.sees("asked for here", ".field.active")
    gang.figure("1")
    phone.until("() => location.hash.endsWith('/bars/b2-r3')")
    assert _bar(gang, "b1-r3")["extension"] == EXTENSION


_TWICE = """() => {
  document.querySelector("#dock .target").click();
  document.querySelector('#dock [data-key="7"]').click();
  document.body.dispatchEvent(new KeyboardEvent("keydown",
    { key: "1", bubbles: true }));
}"""


def _bar(gang: Gang, line: str) -> dict[str, Any]:
    rows = [json.loads(row["bytes"]) for row in gang.phone.storage("entries")]
    [values] = [row["values"] for row in rows if row.get("line") == line]
    found: dict[str, Any] = values
    return found
