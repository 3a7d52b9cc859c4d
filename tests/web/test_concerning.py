"""Which nonconformances a gate is told: the desk and the phone say the same."""

from types import SimpleNamespace
from typing import Any, cast

from fieldapp.web.concerning import concerns
from tests.javascript import JavaScript

MODULE = "static/phone/concerning.js"
LINE = {"lines": {"": {"values": {"jack": "j"}}}}
EMPTY: dict[str, Any] = {"lines": {}}
CHECK = {"id": "held", "blocks": ["last"]}
SHEET = {
    "flow": ["wipe", "first", "press", "seen", "second", "bolt", "last"],
    "steps": {"wipe": {}, "press": {"checks": [CHECK]}, "bolt": {}},
    "points": {
        "first": {"class": "hold", "covers": ["wipe"]},
        "seen": {"class": "witness", "covers": ["press"]},
        "second": {"class": "hold", "covers": ["press"]},
        "last": {"class": "hold", "covers": ["bolt"]},
    },
    "clocks": [{"start": "wipe", "ratios": [{"id": "by", "blocks": ["second"]}]}],
}
ENTRY = {"id": "e", "values": {"jack": "j"}}
FAULTS: dict[str, tuple[dict[str, Any], set[str]]] = {
    # Words never signed are of no step: they shut what they say and nothing else.
    "words never signed": ({"code": "spoken_unsigned", "blocks": ["last"]}, {"last"}),
    "of nothing any more": ({"code": "spoken_unsigned"}, set()),
    "of a step that went": ({"code": "check_failed", "step": "gone"}, set()),
    "of the work it covers": ({"code": "gate_shut", "step": "wipe"}, {"first"}),
    "as its rule names": (
        {"code": "check_failed", "step": "press", "check": "held"},
        {"seen", "second", "last"},
    ),
    "as its clock names": (
        {"code": "clock_over", "step": "wipe", "check": "by"},
        {"first", "second"},
    ),
    "by hand": ({"code": "by_hand"}, {"first", "second", "last"}),
    "of a certificate": (
        {"code": "item_corrected", "check": "jack", "entry": "e"},
        {"seen", "second"},
    ),
    "reworked": ({"code": "gate_shut", "verdict": "rework"}, set()),
}


def test_desk_and_phone_tell_a_gate_the_same(javascript: JavaScript) -> None:
    for attempts in (1, 2):
        state = {"attempts": attempts,
                 "steps": {"wipe": EMPTY, "press": LINE, "bolt": EMPTY}}  # fmt: skip
        site = SimpleNamespace(sheet=SimpleNamespace(raw=SHEET), state=state)
        for what, (said, wanted) in FAULTS.items():
            fault = {"blocks": [], **said}
            again = attempts > 1 and said.get("verdict") == "rework"
            expected = set(SHEET["points"]) if again else wanted
            raised = cast(Any, SimpleNamespace(**ENTRY)) if "entry" in fault else None
            desk = {
                point
                for point in SHEET["points"]
                if concerns(cast(Any, site), fault, point, raised)
            }
            opened = {"sheet": SHEET, "state": state, "entries": [ENTRY]}
            phone = {
                point
                for point in SHEET["points"]
                if javascript.call(MODULE, "concerns", opened, fault, point)
            }
            assert (what, desk) == (what, expected)
            assert (what, phone) == (what, expected)
