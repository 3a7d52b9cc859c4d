"""A compiled life runs a little fast, never slow, at every temperature."""

import csv
import math
from fractions import Fraction
from itertools import pairwise

import pytest

from fieldapp.core.kernel import straight
from tests.plan.sample import FIRST, SAMPLE, compiled

MS_PER_MIN = 60_000


def certified(formulation: str, life: str) -> list[tuple[float, float]]:
    """Read a certified table from the sample's file, on its own."""
    with (SAMPLE / "life.csv").open(encoding="utf-8") as file:
        return [
            (float(row["temp_c"]), float(row["life_min"]))
            for row in csv.DictReader(file)
            if (row["formulation"], row["life"]) == (formulation, life)
        ]


def log_linear_min(points: list[tuple[float, float]], temp_c: float) -> float:
    """Life straight in its logarithm between certified points, set out on its own."""
    for (low, long), (high, short) in pairwise(points):
        if low <= temp_c <= high:
            part = (temp_c - low) / (high - low)
            return math.exp(math.log(long) + part * (math.log(short) - math.log(long)))
    raise AssertionError(temp_c)


def table(name: str) -> dict[str, list[int]]:
    site = compiled()
    return site.tables[site.sheets[FIRST]["tables"][name]]


@pytest.mark.parametrize("formulation", ["cool", "warm"])
@pytest.mark.parametrize("life", ["pot", "open"])
def test_a_rate_is_safe_and_close_at_every_tenth_of_a_degree(
    formulation: str, life: str
) -> None:
    points, made = certified(formulation, life), table(f"{life}-{formulation}")
    assert made["certified"] == [round(temp * 10) for temp, _ in points]
    for temp in range(made["temps"][0], made["temps"][-1] + 1):
        top, bottom = straight(made["temps"], made["rates"], (temp, 1))
        exact = 1e15 / (log_linear_min(points, temp / 10) * MS_PER_MIN)
        assert exact * (1 - 1e-9) <= top / bottom <= exact * 1.001 + 1


def test_a_certified_life_of_an_hour_has_the_rate_of_an_hour() -> None:
    # 60 min are 3,600,000 ms: 1e15 / 3.6e6 = 277,777,777.8, rounded up.
    assert table("open-warm")["rates"][-1] == 277_777_778
    assert Fraction(277_777_778, 10**15) * 3_600_000 >= 1


def test_two_joints_share_the_table_they_both_use() -> None:
    sheets = [s for s in compiled().sheets.values() if s["kind"] == "glued-joint"]
    assert len({sheet["tables"]["open-cool"] for sheet in sheets}) == 1
    # The dew point, pot and open life of three formulations, the other arm ahead.
    assert len({key for s in sheets for key in s["tables"].values()}) == 8
