"""Finding one's way in: a mark painted on the concrete, a language of one's own."""

import pytest

from tests.phone.gang import JOINT, Gang
from tests.phone.letters import letters


def test_a_joint_is_found_by_its_segments_mark(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Grouting group 1", "#dock")
    phone.page.fill("#find", "w 1")
    phone.until("() => document.querySelectorAll('[data-subject]').length === 1")
    phone.page.fill("#find", "nowhere")
    phone.sees('Nothing on this site is called "nowhere"', "#dock")
    phone.page.fill("#find", "W1")
    phone.page.press("#find", "Enter")
    phone.until(f"() => location.hash === '#/joint/{JOINT}'")


def test_the_list_says_of_a_joint_that_something_is_to_be_decided(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Nonconformances: 1", f'#dock [data-subject="{JOINT}"]')


def test_the_picture_says_how_far_each_segment_is_and_names_all(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Lifted, not bonded", ".stages")
    stages, names = phone.page.evaluate(_DRAWN)
    assert stages.pop("W1") == "hung"
    assert set(stages.values()) == {"yard"}
    assert names == ["W1", *stages]


@pytest.mark.parametrize(("width", "least"), [(360, 12.0), (320, 11.0)])
def test_the_letters_of_the_picture_can_be_read_on_a_small_phone(
    gang: Gang, width: int, least: float
) -> None:
    phone, page = gang.phone, gang.phone.page
    page.set_viewport_size({"width": width, "height": 640})
    page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Lifted, not bonded", ".stages")
    told = letters(page)
    assert len(told) > 40
    assert [each for each in told if each[0] < least] == []
    assert page.evaluate(_OVER_ONE_ANOTHER) == []


def test_a_tap_on_the_picture_names_what_it_may_mean_and_opens_no_neighbour(
    gang: Gang,
) -> None:
    # At the line of any joint of an arm the thumb covers its neighbours as well.
    phone, page = gang.phone, gang.phone.page
    page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Lifted, not bonded", ".stages")
    marks = page.evaluate(_MARKS)
    assert len(marks) > 12
    for joint, x, y in marks:
        page.mouse.click(x, y)
        phone.until(f"() => {_FIRST}?.dataset.subject === '{joint}'")
        assert page.evaluate("() => location.hash") == "#/"
        first = page.evaluate(f"() => {_FIRST}.getBoundingClientRect().toJSON()")
        assert first["top"] >= 0
        assert first["bottom"] <= page.evaluate("() => innerHeight")
    assert 2 <= page.locator("button.joint.meant").count() <= 3
    page.locator("button.joint").first.click()
    phone.until(f"() => location.hash === '#/joint/{marks[-1][0]}'")


_CAPITAL = 0.73
"""Height of a capital, of the letters' size: so wide is a line set upright."""
_OVER_ONE_ANOTHER = f"""() => {{
  const ink = (one) => {{
    const {{ left, right, top, bottom }} = one.getBoundingClientRect();
    const upright = one.classList.contains("segmentname");
    const spare = upright ? (right - left)
      - {_CAPITAL} * parseFloat(getComputedStyle(one).fontSize)
        * one.getScreenCTM().b * -1 : 0;
    return {{ name: one.textContent, left: left + spare / 2, right: right - spare / 2,
      top, bottom }};
  }};
  const all = [...document.querySelectorAll(".segmentname, .piername")].map(ink);
  return all.flatMap((a, place) => all.slice(place + 1)
    .filter((b) => a.left < b.right && b.left < a.right
      && a.top < b.bottom && b.top < a.bottom)
    .map((b) => `${{a.name}} ${{b.name}}`));
}}"""
_FIRST = "document.querySelector('button.joint')"
_MARKS = """() => [...document.querySelectorAll("[data-joint]")].map((one) => {
  const { left, width, top, height } = one.querySelector(".jointline")
    .getBoundingClientRect();
  return [one.dataset.joint, left + width / 2, top + height / 2];
})"""
_DRAWN = """() => [
  Object.fromEntries([...document.querySelectorAll("[data-segment]")]
    .map(({ dataset }) => [dataset.segment, dataset.stage])),
  [...document.querySelectorAll(".segmentname")].map((one) => one.textContent),
]"""


def test_a_language_is_chosen_once_and_speaks_figures_too(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate("() => { location.hash = '#/more'; }")
    # It came behind the first screen; nobody needs a network now.
    phone.tap('[data-language="de"]')
    phone.sees("Zurück", "#bar")
    # The words change at once; the key shows it when it is kept.
    phone.page.locator('[data-language="de"][aria-pressed="true"]').wait_for()
    phone.restart()
    phone.sees("STOPP", "#bar")
    assert phone.page.evaluate("() => document.documentElement.lang") == "de"
    gang.act()
    phone.tap('[data-field="air"]')
    phone.type_figure("22.5")
    phone.sees("22,5\u00a0°C", ".field.active")
    phone.type_figure("5")
    phone.sees("Stellen nach dem Komma: höchstens 1", ".field.active")
    phone.tap("#back")
    phone.tap('[data-point="mixing"] .row')
    phone.sees("ist noch nicht aufgeschrieben.", '[data-point="mixing"]')


def test_where_to_go_is_shown_before_all_that_is_kept_was_read(gang: Gang) -> None:
    phone = gang.phone
    phone.kill()
    phone.wake()
    phone.page.add_init_script(_WATCH)
    phone.page.goto(f"{phone.url}/phone/#/")
    phone.until("() => window.drawn.at(-1)?.[1] > 0")
    drawn = phone.page.evaluate("() => window.drawn")
    # Names first, then how each of them stands; never fewer of them.
    assert drawn[0][0] > 10
    assert drawn[0] == [drawn[-1][0], 0]
    assert drawn[-1][1] == drawn[-1][0]


_WATCH = """window.drawn = [];
new MutationObserver(() => {
  const [keys, states] = ["", " .badge"].map((part) =>
    document.querySelectorAll(`#dock [data-subject]${part}`).length);
  if (keys && window.drawn.at(-1)?.join() !== [keys, states].join()) {
    window.drawn.push([keys, states]);
  }
}).observe(document, { childList: true, subtree: true });"""
"""Notes how many subjects there are to tap, and how many of them with their state."""


def test_what_another_joint_waits_for_is_opened_by_its_address(gang: Gang) -> None:
    # The key of another subject that must come first leads here: by a step's name,
    # or by what it reaches.
    opened = "() => document.querySelector('[data-step=recheck] .card') !== null"
    for name in ("recheck", "next-may-hang"):
        for route in ("#/", f"#/joint/{JOINT}/{name}"):
            gang.phone.page.evaluate("(to) => { location.hash = to; }", route)
        gang.phone.until(opened)


def test_what_is_under_way_stands_before_what_may_begin_and_that_before_the_rest(
    gang: Gang,
) -> None:
    phone = gang.phone
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Lifted, not bonded", ".stages")
    # The joint whose segment hangs first, then those that may begin; of both kinds.
    shown = phone.page.evaluate(_SHOWN)
    assert shown[0] == [JOINT, "under way"]
    states = [state for _, state in shown]
    assert states[1:] == sorted(states[1:], key=["open", "shut"].index)
    assert "shut" in states

    assert phone.page.evaluate(_SORTED, _ANY_ORDER) == [
        "raced", "broken", "begun", "next", "strand", "duct", "done", "allowed",
        "tomorrow", "far",
    ]  # fmt: skip


_SHOWN = """() => [...document.querySelectorAll("#dock [data-subject]")].map((one) =>
  [one.dataset.subject, one.querySelector(".badge").textContent])"""
_SORTED = """async (known) => {
  const { inOrderOfWork } = await import("/phone/screens/site.js");
  const kind = ({ subject }) => (["strand", "duct"].includes(subject) ? "d" : "j");
  const site = { kinds: [{ id: "j" }, { id: "d" }],
    subjects: known.map((one) => ({ id: one.subject, kind: kind(one) })) };
  return inOrderOfWork({ site, known }).map(({ subject }) => subject);
}"""
_ANY_ORDER = [
    {"subject": subject, "title": subject, "status": status, "slow": slow}
    for subject, status, slow in (
        ("tomorrow", "closed", False), ("far", "unknown", False),
        ("strand", "race", True), ("done", "complete", False), ("duct", "open", False),
        ("allowed", "concession", False), ("next", "open", False),
        ("begun", "partial", False), ("raced", "race", False),
        ("broken", "failed", False),
    )
]  # fmt: skip
"""`strand` runs for days."""
