"""Tables answer between their points and refuse beyond them."""

import math

import pytest

from fieldapp.calc.refusals import CalcRefusal, OutOfTable
from fieldapp.calc.tables import LifeTable, StraightTable, life_min, straight_line

FALLING = LifeTable(points=((10.0, 120.0), (20.0, 60.0), (30.0, 30.0)))
STRAIGHT = StraightTable(quantity="height_m", points=((10.0, 1.0), (20.0, 1.1)))


@pytest.mark.parametrize(("at", "value"), [(10, 1.0), (15, 1.05), (20, 1.1)])
def test_a_straight_table_is_straight_between_its_points(
    at: float, value: float
) -> None:
    assert straight_line(STRAIGHT, at) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    "beyond", [math.nextafter(10, 0), math.nextafter(20, 99), math.nan, math.inf]
)
def test_a_straight_table_refuses_just_beyond_its_ends(beyond: float) -> None:
    with pytest.raises(OutOfTable, match=r"height_m is .*; allowed: from 10 to 20"):
        straight_line(STRAIGHT, beyond)


@pytest.mark.parametrize(("temp", "life"), [(10, 120.0), (20, 60.0), (30, 30.0)])
def test_a_life_table_gives_its_certified_points_exactly(
    temp: float, life: float
) -> None:
    assert life_min(FALLING, temp) == life


def test_life_is_straight_in_its_logarithm() -> None:
    # Half way between 60 and 30 minutes: the square root of their product.
    assert life_min(FALLING, 25) == pytest.approx(math.sqrt(60 * 30))


@pytest.mark.parametrize("beyond", [math.nextafter(10, 0), math.nextafter(30, 99)])
def test_a_life_table_refuses_just_beyond_its_ends(beyond: float) -> None:
    with pytest.raises(OutOfTable) as refusal:
        life_min(FALLING, beyond)
    assert refusal.value.key == "temp_c"
    assert (refusal.value.low, refusal.value.high) == (10, 30)
    assert refusal.value.allowed == "from 10 to 30"


@pytest.mark.parametrize(
    ("points", "words"),
    [
        (((10.0, 60.0),), "life_table is [[10, 60]]; allowed: two points or more"),
        (
            ((10.0, 60.0), (10.0, 50.0)),
            "life_table[1] is [10, 50]; allowed: a first value above 10",
        ),
        (
            ((10.0, 60.0), (20.0, 61.0)),
            (
                "life_table[1] is [20, 61]; "
                "allowed: a life of 60 or less: hotter is never longer"
            ),
        ),
        (
            ((10.0, 60.0), (20.0, 0.0)),
            "life_table[1] is [20, 0]; allowed: a life above 0",
        ),
    ],
)
def test_a_table_no_maker_would_certify_is_refused(
    points: tuple[tuple[float, float], ...], words: str
) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        LifeTable(points=points)
    assert str(refusal.value) == words


def test_equal_lives_stay_equal_between_their_points() -> None:
    flat = LifeTable(points=((5.0, 60.0), (15.0, 60.0), (25.0, 20.0)))
    assert life_min(flat, 11.3) == 60
