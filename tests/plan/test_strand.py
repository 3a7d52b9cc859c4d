"""Days a strand may lie bare by the air, and tests of grout that are good two hours."""

import pytest

from tests.plan.grouted import BATCH, DAY_MIN, faults, measured, pumped, threaded, tight

WEEK, FIFTEEN, TWENTY = (days * DAY_MIN for days in (7, 15, 20))


@pytest.mark.parametrize(
    ("air", "ratio", "days"),
    [
        ({"humidity": 71}, "by", WEEK),
        ({"humidity": 70}, "by-mild", FIFTEEN),
        ({"humidity": 40}, "by-mild", FIFTEEN),
        ({"humidity": 39}, "by-dry", TWENTY),
        ({"humidity": 39, "salt": 2}, "by", WEEK),
    ],
)
def test_the_days_a_strand_may_lie_bare_follow_the_air(
    air: dict[str, int], ratio: str, days: int
) -> None:
    told = threaded(**air)
    clock = told.state()["clocks"]["in-duct"]
    assert clock["left"] == {ratio: days * 60_000}
    blocks = "grout-signed"
    assert faults(told, 10 + days) == []
    (fault,) = told.state(10.1 + days)["nonconformances"]
    assert (fault["check"], fault["blocks"]) == (ratio, [blocks])


def test_air_that_grows_damper_takes_days_away_and_drier_gives_none() -> None:
    told = threaded(humidity=60)
    for day, humidity, ratio in ((2, 30, "by-mild"), (3, 85, "by"), (4, 60, "by")):
        values = {"humidity": humidity}
        told.at(day * DAY_MIN).done("damper", by="wystan", values=values)
        assert list(told.state()["clocks"]["in-duct"]["left"]) == [ratio]
    assert faults(told, 9 + WEEK) == []
    assert faults(told, 11 + WEEK) == ["by"]


def test_grout_is_tested_again_before_two_hours_are_over() -> None:
    told = tight()
    told.at(115).release("pump-go", by="wystan", needs=["3" * 64])
    told.at(120).done("grout-batch", by="wystan", line="batch-1", values=BATCH)
    told.at(130).done("batch-in", by="wystan", line="batch-1", values={})
    measured(told, 125)
    clock = told.at(200).state()["clocks"]["tested"]
    assert clock["left"] == {"again": 45 * 60_000}
    measured(told, 245)
    assert faults(told, 365) == []
    assert faults(told, 366) == ["again"]
    # A test made late does not make good what was pumped before it.
    measured(told, 370)
    assert [f for f in faults(told, 371) if f == "again"] == ["again"]


def test_a_test_copied_from_paper_counts_from_when_it_was_made() -> None:
    told = tight()
    told.at(115).release("pump-go", by="wystan", needs=["3" * 64])
    told.at(120).done("grout-batch", by="wystan", line="batch-1", values=BATCH)
    told.at(130).done("batch-in", by="wystan", line="batch-1", values={})
    measured(told, 125)
    measured(told, 300)
    assert faults(told, 310) == ["again"]
    values = {"lot": "grout-g1", "seconds": 19, "density": 2005}
    told.at(310).say("copied", by="wystan", step="flow-time", values=values, ago=90)
    assert faults(told, 419) == []
    assert told.state(419)["clocks"]["tested"]["left"] == {"again": 60_000}


def test_a_test_is_of_no_use_after_the_duct_is_shut_off() -> None:
    told = pumped()
    assert [f for f in faults(told, 400) if f == "again"] == []
    assert told.state(400)["clocks"]["tested"]["status"] == "met"
