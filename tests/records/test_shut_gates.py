"""Which gates a nonconformance shuts, and which it came too late for."""

import pytest

from fieldapp.records.gates import point_status, shut_by

RAW = {"points": {"mixing": {"shuts": ["mix-cool", "mix-warm"]}}}
FAULT = {"id": "f", "blocks": ["mixing"]}


@pytest.mark.parametrize(
    ("cool", "warm", "is_shut"),
    [
        ("off", "off", True),  # no adhesive is chosen yet
        ("off", "open", True),
        ("off", "partial", True),
        ("off", "done", False),
    ],
)
def test_a_gate_is_behind_once_what_it_stood_before_is_done(
    cool: str, warm: str, is_shut: bool
) -> None:
    steps = {"mix-cool": {"status": cool}, "mix-warm": {"status": warm}}
    state = {"points": {"mixing": {"status": "waiting"}}, "steps": steps}
    shut, passed = shut_by(RAW, state, FAULT)
    assert (shut, passed) == ((["mixing"], []) if is_shut else ([], ["mixing"]))


@pytest.mark.parametrize("held_up", [True, False])
def test_a_released_gate_is_shut_by_what_its_steps_are_shut_by(held_up: bool) -> None:
    refusal = {"code": "nonconformance", "facts": {"id": "f"}}
    refusals = [refusal] if held_up else []
    step = {"status": "closed", "lines": {}, "refusals": refusals}
    state = {
        "points": {"mixing": {"status": "released", "release": ["r"]}},
        "steps": {"mix-cool": step, "mix-warm": step},
        "nonconformances": [FAULT],
    }
    found = shut_by(RAW, state, FAULT)
    assert found == ((["mixing"], []) if held_up else ([], ["mixing"]))
    status = point_status(RAW, state, (), "mixing", lambda _: None)
    assert status == ("shut" if held_up else "released")
