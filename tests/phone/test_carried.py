"""What a line takes over from the one before: the same thing, and no other."""

from typing import Any

from tests.javascript import UNDEFINED, JavaScript
from tests.phone.gang import JOINT, Gang
from tests.phone.test_running import ANOTHER

CARRY = "static/phone/carry.js"
MINE, THEIRS = "mine", "theirs"
TOOL = {"id": "tool", "kind": "item", "items": "tool", "same": 1}
LINES = [
    {"id": "level-1", "group": "level"},
    {"id": "level-2", "group": "level"},
    {"id": "line-1", "group": "line"},
]


def taken_over(
    javascript: JavaScript, line: str, *, stopped_at: int | None = None, **parts: Any
) -> Any:
    """Give what a line takes over once the first was read with the level, at 5."""
    stops = [] if stopped_at is None else [{"kind": "stopped", "at": stopped_at}]
    first = {"at": 5, "values": {"tool": "level"}, "entries": ["level-1"]}
    opened = {
        "sheet": {
            "items": {"level": {"kind": "tool"}},
            "steps": {"survey": {"lines": LINES, **parts}},
        },
        "state": {"steps": {"survey": {"lines": {"level-1": first}}}},
        "entries": [{"id": "level-1", "kind": "done", "device": MINE}, *stops],
    }
    return javascript.call(CARRY, "carriedOver", opened, "survey", line, TOOL, MINE)


def after(javascript: JavaScript, *read: tuple[str, str, str, Any]) -> Any:
    """Give what the next line takes over after some: device, value, status, failed."""
    lines, entries = {}, []
    for at, (device, value, status, failed) in enumerate(read, 1):
        name = f"k{at}"
        entries.append({"id": name, "kind": "done", "device": device})
        entries.append({"id": f"{name}+", "kind": "correction", "device": MINE})
        lines[name] = {
            "at": at, "status": status, "values": {"tool": value},
            "failed": failed, "entries": [name, f"{name}+"],
        }  # fmt: skip
    opened = {
        "sheet": {"steps": {"mix": {}}},
        "state": {"steps": {"mix": {"lines": lines}}},
        "entries": entries,
    }
    return javascript.call(CARRY, "carriedOver", opened, "mix", "k9", TOOL, MINE)


def test_an_instrument_is_taken_over_among_the_lines_it_serves(
    javascript: JavaScript,
) -> None:
    assert taken_over(javascript, "level-2") == "level"
    assert taken_over(javascript, "line-1") is UNDEFINED, "a level measures no line"


def test_without_groups_every_line_takes_over(javascript: JavaScript) -> None:
    bare = [{"id": each["id"]} for each in LINES]
    assert taken_over(javascript, "line-1", lines=bare) == "level"


def test_after_a_stop_nothing_is_taken_over(javascript: JavaScript) -> None:
    assert taken_over(javascript, "level-2", stopped_at=6) is UNDEFINED
    assert taken_over(javascript, "level-2", stopped_at=4) == "level"


def test_what_another_phone_had_in_hand_is_not_taken_over(
    javascript: JavaScript,
) -> None:
    mine, theirs = (MINE, "a", "ok", []), (THEIRS, "b", "ok", [])
    assert after(javascript, mine, theirs) == "a"
    # Who corrected a figure there did not hold that jack.
    assert after(javascript, theirs) is UNDEFINED


def test_what_was_discarded_last_hands_nothing_on(javascript: JavaScript) -> None:
    a, b = (MINE, "a", "ok", []), (MINE, "b", "ok", [])
    gone = (MINE, "b", "discarded", [])
    assert after(javascript, a, b) == "b"
    assert after(javascript, a, gone) is UNDEFINED
    assert after(javascript, gone, a) == "a"
    assert after(javascript, (MINE, "a", "disputed", [])) is UNDEFINED


def test_what_was_not_fit_hands_nothing_on(javascript: JavaScript) -> None:
    bad = (MINE, "b", "ok", ["item_foreign:tool"])
    assert after(javascript, (MINE, "a", "ok", []), bad) is UNDEFINED
    other = (MINE, "b", "ok", ["item_foreign:other", "streaks"])
    assert after(javascript, other) == "b"
    # Found wrong on another phone since, it is not taken over here either.
    theirs = (THEIRS, "a", "discarded", [])
    assert after(javascript, (MINE, "a", "ok", []), theirs) is UNDEFINED
    assert after(javascript, (MINE, "b", "ok", []), theirs) == "b"


def test_a_lot_nobody_looked_at_is_named_before_and_after_and_not_handed_on(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/mix-warm/kit-1'; }}")
    # What was looked at is first, and what was not says so.
    phone.sees("looked at before the gate", '#dock [data-value="lot-w1"]')
    phone.sees("not looked at before the gate", '#dock [data-value="lot-w2"]')
    gang.choose("lot-w2")
    said = (
        "Warm, A 5523 / B 5524 is none of those looked at before the gate "
        "(Warm, A 5501 / B 5502)."
    )
    phone.sees(said, "#means.red")
    phone.sees("Nonconformance", "#means.red .verdict")
    gang.save()
    phone.sees(said, "#notice")
    # It is not the next kit's: that is asked, with what was looked at first.
    phone.until("() => document.querySelectorAll('#dock small').length === 0")
    phone.tap('#dock [data-step="mix-warm"]')
    phone.until(
        "() => document.querySelector('#dock [data-value]')?.dataset.first === 'yes'"
    )
    assert (
        phone.page.locator("#dock [data-value]").first.get_attribute("data-value")
        == "lot-w1"
    )


def test_at_target_names_its_jack_and_another_phones_is_asked_for(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell({"step": "bars", "values": {"jack": "jack-b"}})
    phone.tap('#dock [data-step="bars"]')
    phone.sees("Jack B", "#dock .target")
    # The same bar, read with a jack on another phone: it is named and never taken.
    phone.page.evaluate(ANOTHER)
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.tap('#dock [data-step="bars"]')
    phone.sees("last on another phone: ", '#dock [data-value="jack-b"]')
    phone.until(
        "() => document.querySelector('#dock [data-value]').dataset.value === 'jack-b'"
    )
    assert phone.page.locator("#dock .target").count() == 0
    gang.choose("jack-a")
    phone.sees("Jack A", "#dock .target")
