"""A certified life as rates over temperature, for a clock that runs.

Between certified points the logarithm of the life is straight, so the rate curves
upwards and a straight line between two nodes reads it high: the clock runs fast,
never slow. Nodes are set so close that it runs fast by a thousandth at most.
"""

import math
from functools import lru_cache
from itertools import pairwise
from typing import Any

from fieldapp.calc.adhesive import rate_per_min
from fieldapp.calc.tables import LifeTable
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import COUNT, Quantity, TableShape
from fieldapp.plan.toml_node import Node

RATE_UNIT = 10**15
MS_PER_MIN = 60_000
MOST_FAST_RATIO = 0.001
GAPS = (40, 20, 10, 5, 2, 1)
# Far above the error of a floating point number, far below any rate.
ROUNDING_RATIO = 1e-12


def add(node: Node, draft: Draft) -> None:
    """Add a life table under the plan's name: a formulation's pot or open life."""
    name, life = node.text("table"), node.one_of("life", ("pot", "open"))
    place = node.child("formulation")
    formulation = draft.site.formulations.get(str(place.value))
    if formulation is None:
        allowed = "a formulation: " + ", ".join(draft.site.formulations)
        place.lacks(allowed, "products.toml")
        return
    if life not in formulation.lives:
        node.source.faults.spare()  # told with the table
        return
    body = rate_table(formulation.lives[life])
    draft.tables[name] = TableShape(body=body, x=Quantity("°C", 1), y=None, v=COUNT)


@lru_cache(maxsize=64)
def rate_table(life: LifeTable) -> dict[str, Any]:
    """Give temperatures in 0.1 °C, rates in 1e-15 of a life per ms, rounded up."""
    for gap in GAPS:
        temps = _nodes(life, gap)
        rates = [_rate(life, temp) for temp in temps]
        if fast_ratio(life, temps, rates) <= MOST_FAST_RATIO:
            break
    certified = [round(temp * 10) for temp, _ in life.points]
    return {"temps": temps, "rates": rates, "certified": certified}


def fast_ratio(life: LifeTable, temps: list[int], rates: list[int]) -> float:
    """By how much the straight lines run fast at worst, over every 0.1 °C."""
    worst = 0.0
    for index, low in enumerate(temps[:-1]):
        high = temps[index + 1]
        for temp in range(low, high):
            part = (temp - low) / (high - low)
            read = rates[index] + (rates[index + 1] - rates[index]) * part
            worst = max(worst, read / exact_rate(life, temp) - 1)
    return worst


def exact_rate(life: LifeTable, temp: int) -> float:
    """Rate at a temperature in 0.1 °C, in 1e-15 of a life per ms, not rounded."""
    return rate_per_min(life, temp / 10) * RATE_UNIT / MS_PER_MIN


def _nodes(life: LifeTable, gap: int) -> list[int]:
    points = [round(temp * 10) for temp, _ in life.points]
    between = [temp for low, high in pairwise(points) for temp in range(low, high, gap)]
    return [*between, points[-1]]


def _rate(life: LifeTable, temp: int) -> int:
    return math.ceil(exact_rate(life, temp) * (1 + ROUNDING_RATIO))
