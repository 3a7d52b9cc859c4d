"""Which steps a rework may start again from: what it is about, then the stages."""

from typing import Any

from tests.javascript import JavaScript

RESTARTS = "static/phone/restarts.js"
READ = {"lines": {"": {"at": 1}}, "status": "done"}
OPEN = {"lines": {}, "status": "open"}


def the_open() -> dict[str, Any]:
    fresh = {"word": "elapsed", "from": {"step": "faces"}, "to": "now"}
    steps = ("plan", "lift", "fit", "clean", "faces", "mix", "bars", "ease")
    return {
        "sheet": {
            "flow": ["plan", "up", "lift", "fit", "faces", "clean", "go", "mix",
                     "bars", "off", "ease"],
            "steps": {
                name: {"title": name, "class": "gated", "again": name == "clean"}
                for name in steps
            },
            "points": {
                "up": {"class": "hold"},
                "go": {"class": "hold", "requires": [
                    {"id": "fresh", "must": {"word": "between", "value": fresh}}]},
                "off": {"class": "hold"},
            },
            "clocks": [{"id": "open", "start": "mix", "ratios": []}],
        },
        "state": {"steps": {
            name: OPEN if name in ("clean", "ease") else READ for name in steps
        }},
    }  # fmt: skip


def test_what_it_is_about_comes_first_then_what_stages_begin_with(
    javascript: JavaScript,
) -> None:
    found = javascript.call(RESTARTS, "restarts", the_open(), [{"step": "bars"}])
    assert found["about"] == ["bars"]
    # Behind each gate, and what a gate wants read shortly before; not what nobody has
    # begun (easing), nor the mixing, before which the faces must be cleaned.
    assert found["stages"] == ["plan", "lift", "faces"]
    assert found["others"] == ["fit", "mix", "ease"]


def test_a_time_over_does_not_offer_to_go_on_with_uncleaned_faces(
    javascript: JavaScript,
) -> None:
    found = javascript.call(RESTARTS, "restarts", the_open(), [{"step": "mix"}])
    assert found["about"] == []
    assert "faces" in found["stages"]
