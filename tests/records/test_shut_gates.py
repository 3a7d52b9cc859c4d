"""Which gates a nonconformance shuts, and which it came too late for."""

import pytest

from fieldapp.records.gates import shut_by

RAW = {"points": {"mixing": {"shuts": ["mix-cool", "mix-warm"]}}}
FAULT = {"blocks": ["mixing"]}


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
