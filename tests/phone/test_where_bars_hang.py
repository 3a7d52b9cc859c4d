"""A bar that hangs in another joint is marked where it is chosen and at the gate."""

from typing import Any

from tests.phone.gang import JOINT, Gang
from tests.phone.handset import Handset

OTHER, OTHER_TITLE = "j-e1", "Joint E1"
BAR, FREE = "bar-01", "bar-02"


def test_a_bar_in_another_joint_is_marked_and_may_be_chosen(gang: Gang) -> None:
    phone = gang.phone
    place = phone.page.evaluate(_THREAD, [OTHER, JOINT, BAR])
    form = f"#/form/{JOINT}/bars-in/{place}"
    phone.page.evaluate(f"() => {{ location.hash = '{form}'; }}")
    phone.sees(f"in {OTHER_TITLE}", f'#dock [data-value="{BAR}"]')
    assert phone.page.locator(f'#dock [data-value="{FREE}"][data-hangs]').count() == 0
    gang.choose(BAR)
    phone.sees("Bar 01", '[data-field="bar"] .echo')
    gang.choose("1")
    gang.save()
    phone.until(f"() => location.hash !== '{form}'")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees(f"in {OTHER_TITLE}", f'#hanging [data-item="{BAR}"]')


def test_a_bar_hangs_until_the_step_that_gives_it_back_is_done(
    bare_phone: Handset,
) -> None:
    assert _hangs(bare_phone, back=None) == ["w1"]
    assert _hangs(bare_phone, back=5) == ["w1"], "given back before it hung again"
    assert _hangs(bare_phone, back=20) == []
    assert _hangs(bare_phone, back=20, status="partial") == ["w1"]
    assert _hangs(bare_phone, back=None, line="discarded") == []
    assert _hangs(bare_phone, back=None, later=15) == ["e1"]


def _hangs(
    phone: Handset,
    *,
    back: int | None,
    status: str = "done",
    line: str = "ok",
    later: int | None = None,
) -> list[str]:
    def subject(name: str, at: int | None, said: str = "ok") -> dict[str, Any]:
        read = {"at": at, "status": said, "values": {"bar": BAR}}
        lines = {} if at is None else {"p1": read}
        state = {"steps": {"in": {"status": "done", "lines": lines}}}
        return {"subject": name, "sheet": {"steps": {"in": {}}}, "state": state}

    lines = {} if back is None else {"": {"at": back, "status": "ok", "values": {}}}
    returning = {
        "subject": "x-w1",
        "sheet": {"steps": {"back": {"gives_back": ["w1"]}}},
        "state": {"steps": {"back": {"status": status if lines else "open",
                                     "lines": lines}}},
    }  # fmt: skip
    told = [subject("w1", 10, line), subject("e1", later), returning]
    found: list[str] = phone.page.evaluate(_STANDING, [told, [BAR]])
    return found


_STANDING = """async ([told, counted]) => {
  const { standing } = await import("/phone/screens/hanging.js");
  return [...standing(told, new Set(counted)).values()].map((one) => one.subject);
}"""
_THREAD = """async ([other, joint, bar]) => {
  const { model, openSubject, save } = await import("/phone/screens/model.js");
  await openSubject(other);
  const [{ id }] = model.open.sheet.steps["bars-in"].lines;
  await save({ kind: "done", step: "bars-in", line: id,
    values: { bar, coupler: 1 } }, model.shift);
  await openSubject(joint);
  return model.open.sheet.steps["bars-in"].lines[0].id;
}"""
"""Threads a bar in another joint; gives the first place of this one's bars."""
