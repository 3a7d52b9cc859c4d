"""The line of figures under a reading: its ends can be told apart however near."""

from tests.phone.gang import JOINT, Gang


def test_the_ends_of_a_narrow_band_do_not_stand_one_upon_the_other(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/bars/b1-r1'; }}")
    gang.choose("jack-a")
    # 112 to 136 bar beside a cap at 345: the band is a twentieth of the line.
    phone.type_figure("36")
    page.locator("#dock .scale .end").nth(1).wait_for()
    boxes = page.locator("#dock .scale .end").evaluate_all(_ENDS)
    (low_left, low_right), (high_left, high_right) = boxes
    assert low_left < low_right <= high_left < high_right


_ENDS = """(all) => all.map((one) => {
  const { left, right } = one.getBoundingClientRect();
  return [left, right];
})"""
