"""Dew point as a table over whole readings, and the margin of the coldest surface.

Straight lines between nodes read a dew point low, which is unsafe. The table is
therefore compared with the formula at every reading that can be typed and raised by
the largest shortfall: it reads high, so the margin reads low.
"""

import math
from functools import lru_cache
from typing import Any

from fieldapp.calc.dew_point import AIR_HIGH_C, AIR_LOW_C, dew_point_c
from fieldapp.plan.draft import Draft
from fieldapp.plan.expressions import reduced
from fieldapp.plan.quantities import FieldShape, Quantity, TableShape, Value
from fieldapp.plan.toml_node import Node

MOST_READINGS = 400_000
AIR_GAP_C = 5
HUMIDITY_GAP_RATIO = 0.1
DEW_POINT = Quantity("°C", 2)
PER_DEGREE = 100
SOURCE = "Magnus form, a 17.62, b 243.12 °C; table raised by its proven error"

Grid = tuple[int, int, int]
"""Lowest and highest reading as whole numbers, and how many of them make a unit."""


def add(node: Node, draft: Draft) -> None:
    """Add the table and the values `coldest` and `margin`, named by the plan."""
    air, humidity = (_grid(node, key, draft) for key in ("air", "humidity"))
    surfaces = [_surface(place, draft) for place in node.items("surfaces")]
    name, coldest, margin = (node.text(key) for key in ("table", "coldest", "margin"))
    good = [value for value in surfaces if value is not None]
    if air is None or humidity is None or len(good) < len(surfaces) or not good:
        return
    body, raised = dew_table(air[1], humidity[1])
    x, y = air[0].quantity, humidity[0].quantity
    draft.tables[name] = TableShape(body=body, x=x, y=y, v=DEW_POINT)
    draft.values[coldest] = reduced("min", good)
    dew = {
        "word": "table",
        "table": name,
        "x": _reading(node.child("air"), draft),
        "y": _reading(node.child("humidity"), draft),
    }
    per_tenth = PER_DEGREE // 10 ** good[0].quantity.places
    word = {"word": "form", "terms": [[per_tenth, coldest], [-1, dew]], "divisor": 1}
    draft.values[margin] = Value(word, DEW_POINT)
    draft.facts.append(
        {
            "label": "Dew point table",
            "value": f"reads high by at most {raised / PER_DEGREE:.2f} °C",
            "source": SOURCE,
        }
    )


@lru_cache(maxsize=8)
def dew_table(air: Grid, humidity: Grid) -> tuple[dict[str, Any], int]:
    """Give the table in 0.01 °C and the most it reads too high, in 0.01 °C.

    Checked against the formula at every pair of readings of the two grids.
    """
    xs, ys = _air_nodes(air), _humidity_nodes(humidity)
    rows = [[round(_dew(x, air, y, humidity) * PER_DEGREE) for y in ys] for x in xs]
    errors = [
        _straight(xs, ys, rows, x, y) - _dew(x, air, y, humidity) * PER_DEGREE
        for x in range(air[0], air[1] + 1)
        for y in range(humidity[0], humidity[1] + 1)
    ]
    raised = max(0, math.ceil(-min(errors) + 1e-6))
    body = {"x": xs, "y": ys, "v": [[v + raised for v in row] for row in rows]}
    return body, math.ceil(max(errors) + raised - 1e-6)


def _grid(node: Node, key: str, draft: Draft) -> tuple[FieldShape, Grid] | None:
    place = node.child(key)
    step, name = draft.field(place)
    if not step:
        return None
    shape = draft.shape(step, name)
    unit, least, most = ("°C", AIR_LOW_C, AIR_HIGH_C)
    if key == "humidity":
        unit, least, most = ("%", 1.0, 100.0)
    low, high = shape.low, shape.high
    inside = low is not None and high is not None and least <= low < high <= most
    if shape.quantity.unit != unit or draft.steps[step].many or not inside:
        place.fault(
            f"a field in {unit} from {least:g} to {most:g}, of a step of one line"
        )
        return None
    assert low is not None
    assert high is not None
    per_unit = 10**shape.quantity.places
    if (high - low) * per_unit > math.isqrt(MOST_READINGS) * 2:
        place.fault(f"fewer readings: {math.isqrt(MOST_READINGS) * 2} at most")
        return None
    return shape, (int(low * per_unit), int(high * per_unit), per_unit)


def _surface(node: Node, draft: Draft) -> Value | None:
    step, name = draft.field(node)
    if not step:
        return None
    quantity = draft.shape(step, name).quantity
    if quantity != Quantity("°C", 1) or draft.steps[step].many:
        node.fault("a field in °C with 1 place, of a step of one line")
        return None
    return Value(_reading(node, draft), quantity)


def _reading(node: Node, draft: Draft) -> dict[str, str]:
    step, name = draft.field(node)
    return {"word": "reading", "step": step, "field": name}


def _dew(x: int, air: Grid, y: int, humidity: Grid) -> float:
    return dew_point_c(x / air[2], y / humidity[2])


def _air_nodes(grid: Grid) -> list[int]:
    low, high, per_unit = grid
    return sorted({*range(low, high, AIR_GAP_C * per_unit), high})


def _humidity_nodes(grid: Grid) -> list[int]:
    """Nodes closer together in dry air, where the dew point bends more."""
    low, high, _ = grid
    nodes = [low]
    while nodes[-1] < high:
        gap = max(1, math.floor(nodes[-1] * HUMIDITY_GAP_RATIO))
        nodes.append(min(nodes[-1] + gap, high))
    return nodes


def _straight(
    xs: list[int], ys: list[int], rows: list[list[int]], x: int, y: int
) -> float:
    """Read the table as the kernel does: along y in two rows, then across."""
    i, ratio_x = _place(xs, x)
    j, ratio_y = _place(ys, y)
    low = rows[i][j] + (rows[i][j + 1] - rows[i][j]) * ratio_y
    high = rows[i + 1][j] + (rows[i + 1][j + 1] - rows[i + 1][j]) * ratio_y
    return low + (high - low) * ratio_x


@lru_cache(maxsize=4096)
def _place_in(nodes: tuple[int, ...], value: int) -> tuple[int, float]:
    index = max(i for i in range(len(nodes) - 1) if nodes[i] <= value)
    return index, (value - nodes[index]) / (nodes[index + 1] - nodes[index])


def _place(nodes: list[int], value: int) -> tuple[int, float]:
    return _place_in(tuple(nodes), value)
