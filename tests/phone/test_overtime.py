"""A race whose time is past while its joint is still open: what leads, and what the
alarm says to do. Nothing is locked.
"""

from tests.phone.gang import JOINT, Gang

_ENDS = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { deadlines } = model.open.state.clocks["open-warm"];
  return ["pressure", "over", "part"].map((id) =>
    Math.ceil((deadlines[id] - Date.now()) / 60_000));
}"""
_REFOLD = """async () => {
  const { engine } = await import("/phone/screens/model.js");
  (await engine()).refold();
}"""
_FAULTS = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.nonconformances.filter(({ code }) => code === "clock_over")
    .map(({ id }) => id);
}"""


def _race(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm"}, {"step": "spread"})


def _on_to(gang: Gang, end: int) -> None:
    """One minute past the end of that number."""
    gang.clock_on(gang.phone.page.evaluate(_ENDS)[end] + 1)
    gang.phone.page.evaluate(_REFOLD)


def test_a_joint_still_open_when_its_time_is_over_is_parted_and_decided(
    gang: Gang,
) -> None:
    phone = gang.phone
    _race(gang)
    _on_to(gang, 0)
    # Late, and still in time to press: the race leads.
    phone.sees("Go on while the open time lasts", "#alarm")
    assert phone.page.locator("#overtime").count() == 0
    _on_to(gang, 1)
    phone.sees("part and clean while it parts clean", "#alarm")
    phone.sees("Joint parted and cleaned", "#made-apart")
    phone.sees("Open time over", "#overtime")
    assert phone.page.locator("#dock .main[data-step]").count() == 0
    # Whoever goes on all the same records it from the column.
    phone.tap('[data-step="close"] .row')
    phone.sees("joint closed", '#dock [data-step="close"]')
    phone.tap('[data-step="close"] .row')
    phone.sees("Joint parted and cleaned", "#made-apart")
    _on_to(gang, 2)
    # Nobody forces it apart any more.
    phone.sees("Past this nobody forces the joint apart", "#alarm")
    phone.until("() => !document.getElementById('made-apart')")
    phone.tap("#overtime")
    phone.until(f"() => location.hash === '#/nonconformance/{JOINT}'")


def test_once_closed_or_decided_the_race_leads_again(gang: Gang) -> None:
    phone = gang.phone
    _race(gang)
    _on_to(gang, 1)
    phone.sees("Open time over", "#overtime")
    gang.tell({"step": "close", "values": {"out": 1}})
    phone.sees("Bars", '#dock [data-step="bars"]')
    phone.sees("Joint closed: hold the force", "#alarm")


def test_what_the_engineer_decides_lets_the_race_lead(gang: Gang) -> None:
    phone = gang.phone
    _race(gang)
    _on_to(gang, 1)
    phone.sees("Open time over", "#overtime")
    for fault in phone.page.evaluate(_FAULTS):
        about = {"target": fault, "verdict": "use_as_is", "reason": "Gel seen later"}
        gang.sign({"kind": "disposition", "about": about}, "caspar")
    phone.until("() => !document.getElementById('overtime')")
    assert phone.page.locator("#dock .main[data-step]").count() > 0
