"""Two phones on one joint, of which one was away since yesterday with its readings."""

from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.config import open_door
from fieldapp.play.phone import Phone
from fieldapp.play.world import World
from fieldapp.store.database import connected
from fieldapp.store.roster import sheets_issued
from tests.phone.gang import ALL_READ, JOINT, Gang
from tests.phone.office import Office

TIMEKEEPER, AWAY = "tamsin", "phone-away"
YESTERDAY_MS = 20 * 3_600_000
COLDER = ALL_READ | {"cold-new": 99, "thermometer": "thermo-1"}
COLD = "A face is colder than the window of the adhesive chosen"
FITS = {"fit": 1, "offsets": 2, "offset": 40, "shims": 1, "scribed": 1}
NOTICE_MS = 8_500
_BEFORE = """async () => {
  const { model } = await import("/phone/screens/model.js");
  window.before = model.open.state;
}"""
_HEARD_NOW = """async () => {
  const { lastHeard } = await import("/phone/screens/model.js");
  return Date.now() - lastHeard() < 60_000;
}"""
_SAY_SAVED = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { saidSaved } = await import("/phone/screens/notice.js");
  const entry = model.open.entries.findLast(({ step }) => step === "faces");
  saidSaved(entry, "Faces", window.before);
}"""


def test_what_comes_late_from_another_phone_contradicts_and_is_settled(
    gang: Gang, office_of_gang: Office
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    phone.sees("GO", "#go")

    _brings_yesterday(office_of_gang)
    office_of_gang.start()
    phone.try_office()
    phone.sees("disputed", '[data-step="faces"]')
    # The release rested on one of two readings: it holds no longer, and says why.
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("Tamsin Orbell", "#lapsed-by")
    phone.sees("Faces and air", "#lapsed-by")
    phone.sees("two readings contradict each other")
    phone.page.evaluate(f"() => {{ location.hash = '#/line/{JOINT}/faces/-'; }}")
    for said in ("18.4 °C", "9.9 °C", "Tamsin Orbell", "Recorded late"):
        phone.sees(said)
    # Neither is what was read: both stand above, and what becomes of them is said.
    assert phone.page.locator("[data-reading]").count() == 2
    phone.sees("read it again: that settles it", "#settles")
    phone.sees("takes away both readings", "#discard")
    phone.tap("#discard")
    phone.sees("takes away both readings", "#discard-now")
    # Of two that contradict each other the phones are named as well.
    for said in (f"Tamsin Orbell · {AWAY}", "Jorun Faleck · This phone"):
        phone.sees(said)
    # While neither stands, the one out of its limits is told whichever came first.
    phone.page.evaluate(f"() => {{ location.hash = '#/nonconformance/{JOINT}'; }}")
    phone.sees(COLD)

    # Whoever has seen both reads again: then one reading stands. The cold one, on which
    # a release was given elsewhere perhaps, stays to be disposed of.
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.sees("Read again: Faces and air", '#dock [data-step="faces"]')
    gang.tell({"step": "faces", "values": ALL_READ})
    phone.sees("done", '[data-step="faces"]')
    phone.sees(COLD)


def test_what_anothers_reading_fails_is_no_fault_of_who_reads_after_it(
    gang: Gang, office_of_gang: Office
) -> None:
    phone = gang.phone
    _brings_yesterday(office_of_gang)
    office_of_gang.start()
    phone.try_office()
    phone.sees(COLD)
    phone.page.evaluate(_BEFORE)
    gang.tell({"step": "faces", "values": ALL_READ})
    phone.sees("done", '[data-step="faces"]')
    phone.page.evaluate(_SAY_SAVED)
    phone.sees(f"The other reading: Outside its limits: {COLD}", "#notice.yellow")
    phone.page.wait_for_timeout(NOTICE_MS)
    assert phone.page.locator("#notice").count() == 0
    # Nothing more comes: that the office answers is told for as long as it does.
    gang.clock_on(2)
    phone.until(_HEARD_NOW)


def _brings_yesterday(
    office: Office,
    step: str = "faces",
    values: dict[str, Any] = COLDER,
    *,
    knew: bool = True,
) -> None:
    """Have a phone bring what it read yesterday, knowing nothing since the lift.

    Or nothing at all of the joint.
    """
    door, now = open_door(office.data), utc_now_ms()
    with connected(door.store):
        world = World(door=door)
        phone: Phone = world.phone(AWAY, now=now - YESTERDAY_MS)
        world.enrol(phone, TIMEKEEPER, now - YESTERDAY_MS)
        if knew:
            world.pull(phone)
        phone.write(
            "done", person=TIMEKEEPER, subject=JOINT, step=step,
            now=now - YESTERDAY_MS, at=now - YESTERDAY_MS - YESTERDAY_MS,
            sheet=sheets_issued(door.store, door.office.id)[JOINT][-1], values=values,
        )  # fmt: skip
        results = world.push(phone, now)
    assert [one.result for one in results] == ["stored"]


def test_what_another_phone_shuts_while_a_form_is_open_is_told_before_it_is_saved(
    gang: Gang, office_of_gang: Office
) -> None:
    phone = gang.phone
    phone.page.evaluate(
        f"() => {{ location.hash = '#/form/{JOINT}/survey/level-lf'; }}"
    )
    phone.sees("Left web, front")
    _brings_yesterday(office_of_gang, "dry-fit", FITS, knew=False)
    office_of_gang.start()
    phone.try_office()
    phone.until(_IS_DISPUTED)
    before = len(phone.storage("entries"))
    gang.figure("1")
    # Another phone's level is another thing in another hand.
    gang.choose_first()
    gang.save()
    phone.sees("This gate is shut", "#screen")
    phone.sees("First: Dry fit", "#screen")
    phone.sees("1.0", '[data-field="off"]')
    assert len(phone.storage("entries")) == before
    # Written down all the same, it is told as that, not as a release of no gate.
    phone.tap('[data-field="reason"]')
    phone.tap("#dock .choice")
    gang.save()
    phone.sees("Levels \u00b7 Left web, front \u00b7 happened anyway", "#notice")


def test_what_is_read_again_at_a_step_shut_meanwhile_is_asked_as_well(
    gang: Gang, office_of_gang: Office
) -> None:
    phone = gang.phone
    gang.tell({"step": "survey", "line": "level-lf", "values": {"off": 10}})
    phone.page.evaluate(
        f"() => {{ location.hash = '#/form/{JOINT}/survey/level-lf/again'; }}"
    )
    phone.sees("Left web, front")
    assert "This gate is shut" not in phone.page.inner_text("#screen")
    _brings_yesterday(office_of_gang, "dry-fit", FITS, knew=False)
    office_of_gang.start()
    phone.try_office()
    phone.until(_IS_DISPUTED)
    before = len(phone.storage("entries"))
    gang.figure("2")
    phone.sees("This gate is shut", "#screen")
    phone.sees("2.0", '[data-field="off"]')
    assert len(phone.storage("entries")) == before


def test_whoever_settled_a_dispute_goes_back_to_what_they_left_for_it(
    gang: Gang, office_of_gang: Office
) -> None:
    phone, level = gang.phone, f"#/form/{JOINT}/survey/level-lf"
    phone.page.evaluate("(hash) => { location.hash = hash; }", level)
    phone.sees("Left web, front")
    phone.type_figure("1")
    _brings_yesterday(office_of_gang, "dry-fit", FITS, knew=False)
    office_of_gang.start()
    phone.try_office()
    phone.until(_IS_DISPUTED)
    phone.tap("#back")
    # The big key leads to the line that two have read, not to one that nobody has.
    phone.sees("Read again: Dry fit", "#dock")
    gang.act()
    # What either phone read stands above the questions asked once more.
    for said in (f"Tamsin Orbell · {AWAY}", "yard", "Offset in figures: 4.0"):
        phone.sees(said, "#two-readings")
    for choice in ("1", "2"):
        gang.choose(choice)
    gang.figure("4")
    for choice in ("1", "1"):
        gang.choose(choice)
    gang.save()
    phone.until(f"() => location.hash === '{level}'")
    phone.sees("1.0", '[data-field="off"]')


_IS_DISPUTED = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.steps["dry-fit"].status === "disputed";
}"""
