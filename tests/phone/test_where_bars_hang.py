"""A bar that hangs in another joint is marked where it is chosen and at the gate."""

from typing import Any

from tests.phone.gang import JOINT, Gang
from tests.phone.handset import Handset

DAY_MS = 86_400_000
OTHER, OTHER_TITLE = "j-e1", "Joint E1"
BAR, FREE = "bar-01", "bar-02"


def test_a_bar_in_another_joint_is_marked_and_may_be_chosen(gang: Gang) -> None:
    phone = gang.phone
    place = phone.page.evaluate(_THREAD, [OTHER, JOINT, BAR])
    form = f"#/form/{JOINT}/bars-in/{place}"
    phone.page.evaluate(f"() => {{ location.hash = '{form}'; }}")
    phone.sees(f"in {OTHER_TITLE}", f'#dock [data-value="{BAR}"]')
    assert phone.page.locator(f'#dock [data-value="{FREE}"][data-hangs]').count() == 0
    # What is free comes before it, and what is typed is the label's own number first.
    phone.until(f"() => ({_ORDER})().at(-1) === '{BAR}'")
    phone.page.fill("#label", "1")
    phone.until(f"() => ({_ORDER})()[0] === '{BAR}'")
    assert len(phone.page.evaluate(_ORDER)) > 1
    phone.page.fill("#label", "")
    gang.choose(BAR)
    phone.sees("Bar 01", '[data-field="bar"] .echo')
    phone.sees(f"in {OTHER_TITLE}", '[data-field="bar"].yellow')
    gang.choose("1")
    gang.save()
    phone.until(f"() => location.hash !== '{form}'")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees(f"in {OTHER_TITLE}", f'#hanging [data-item="{BAR}"]')


def test_the_next_bar_is_looked_for_after_the_last(gang: Gang) -> None:
    phone = gang.phone
    places = phone.page.evaluate(_PLACES)
    gang.tell({"step": "bars-in", "line": places[0],
               "values": {"bar": "bar-09", "coupler": 1}})  # fmt: skip
    form = f"#/form/{JOINT}/bars-in/{places[1]}"
    phone.page.evaluate(f"() => {{ location.hash = '{form}'; }}")
    phone.until(f"() => ({_ORDER})()[0] === 'bar-10'")
    order = phone.page.evaluate(_ORDER)
    assert order[-2:] == ["bar-07", "bar-08"]


def test_out_of_use_is_out_of_use_whatever_the_hour_and_a_planned_day_is_past(
    bare_phone: Handset,
) -> None:
    """Taken out by a phone whose clock is a day ahead, ms beside now."""

    def unfit(at: int | None = None, ends: int = DAY_MS, **item: Any) -> str | None:
        known = {"kind": "bar", "label": "Bar", "numbers": {}, **item}
        told = [known, ends, at]
        found: str | None = bare_phone.page.evaluate(_UNFIT, told)
        return found

    assert unfit(out="Broken") == "Broken"
    assert unfit(out="Broken", at=0) is None, "as paper says of an hour before"
    assert unfit(out="Broken", at=2 * DAY_MS) == "Broken"
    assert unfit() is None
    assert (unfit(ends=-DAY_MS) or "").startswith("expired since")
    past = unfit(ends=-DAY_MS, kind="segment")
    assert past is not None
    assert past.startswith("its day is past")


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
_ORDER = """() => [...document.querySelectorAll("#dock .choices [data-value]")]
  .map((one) => one.dataset.value)"""
_PLACES = """async () => (await import("/phone/screens/model.js"))
  .model.open.sheet.steps["bars-in"].lines.map(({ id }) => id)"""
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
_UNFIT = """async ([item, ends, at]) => {
  const [{ unfit }, { model }] = await Promise.all([
    import("/phone/screens/items.js"), import("/phone/screens/model.js")]);
  model.planned = { segment: 1 };
  const now = Date.now();
  return unfit({ ...item, expires: now + ends }, { items: item.kind },
    at === null ? undefined : now + at) ?? null;
}"""
