"""The line of figures under a reading: its ends can be told apart however near."""

import pytest

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


def test_of_a_limit_on_one_side_a_figure_stands_by_its_distance_from_nought(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/lift-ready/-'; }}")
    phone.tap('[data-field="gust"]')
    phone.type_figure("6.8")
    page.locator("#dock .scale .end").wait_for()
    # 6.8 of at most 12 m/s: somewhat above the middle between nought and the limit.
    hand, end, line = page.evaluate(_PLACES)
    assert (hand - line) / (end - line) == pytest.approx(6.8 / 12, abs=0.05)


_PLACES = """() => [".hand", ".end", ""].map((one) => {
  const { left, right } = document.querySelector(`#dock .scale ${one}`)
    .getBoundingClientRect();
  return one ? (left + right) / 2 : left;
})"""
_ENDS = """(all) => all.map((one) => {
  const { left, right } = one.getBoundingClientRect();
  return [left, right];
})"""
