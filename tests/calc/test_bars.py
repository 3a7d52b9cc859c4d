"""Extension of a bar and what seating costs it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.bars import bar_extension_mm, locked_force_kn
from fieldapp.calc.refusals import CalcRefusal

BAR = {"length_m": 3.5, "force_kn": 400.0, "area_mm2": 804.0, "modulus_gpa": 205.0}


def test_extension_counts_from_the_datum_and_over_the_grip_too() -> None:
    # (400 - 40) kN x 4.0 m / (804 mm2 x 205 GPa) = 8.737 mm.
    extension = bar_extension_mm(**BAR, datum_force_kn=40, grip_length_m=0.5)
    assert extension == pytest.approx(360e3 * 4000 / (804 * 205e3))


def test_seating_is_lost_over_the_length_nut_to_nut() -> None:
    # 1 mm on 3.5 m: 804 x 205 000 / 3500 N = 47.09 kN.
    locked = locked_force_kn(**BAR, seating_mm=1)
    assert locked == pytest.approx(400 - 804 * 205 / 3500)


@given(st.floats(0, 3))
def test_more_seating_leaves_less_force(seating_mm: float) -> None:
    assert locked_force_kn(**BAR, seating_mm=seating_mm + 0.1) < locked_force_kn(
        **BAR, seating_mm=seating_mm
    )


@pytest.mark.parametrize("datum", [400, 500])
def test_a_datum_at_or_above_the_force_is_refused(datum: float) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        bar_extension_mm(**BAR, datum_force_kn=datum)
    assert str(refusal.value) == f"datum_force_kn is {datum}; allowed: below 400"


def test_seating_beyond_the_whole_extension_is_refused() -> None:
    with pytest.raises(CalcRefusal) as refusal:
        locked_force_kn(**BAR, seating_mm=9)
    assert str(refusal.value) == (
        "seating_mm is 9; allowed: 0 to 8.49411, the bar slack"
    )
