"""The last round confirms each force by its extension: *At target* does not skip it."""

import json
from typing import Any

from tests.phone.gang import Gang

BARS = 6


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


def _bar(gang: Gang, line: str) -> dict[str, Any]:
    rows = [json.loads(row["bytes"]) for row in gang.phone.storage("entries")]
    [values] = [row["values"] for row in rows if row.get("line") == line]
    found: dict[str, Any] = values
    return found
