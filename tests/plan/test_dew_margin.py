"""The margin above the dew point is never read larger than it is."""

import math

import pytest

from fieldapp.core.kernel import Kernel
from tests.plan.sample import FIRST, GOOD_FACES, compiled, story

AIR = range(-200, 501)
HUMIDITY = range(10, 101)


def magnus_c(air_c: float, humidity: float) -> float:
    """Dew point. Source: WMO guide, a 17.62, b 243.12 °C, set out here on its own."""
    gamma = math.log(humidity / 100) + 17.62 * air_c / (243.12 + air_c)
    return 243.12 * gamma / (17.62 - gamma)


def read_c(air: int, humidity: int) -> float:
    """Dew point as the phone reads it from the table, by the kernel itself."""
    site = compiled()
    sheet = site.sheets[FIRST]
    tables = {name: site.tables[key] for name, key in sheet["tables"].items()}
    word = {"word": "table", "table": "dew-point", "x": air, "y": humidity}
    found = Kernel(sheet, tables).value(word)(None, "")  # type: ignore[arg-type]
    assert found is not None
    return found[0] / found[1] / 100


def test_the_table_reads_high_by_a_little_and_never_low() -> None:
    errors = [
        read_c(air, humidity) - magnus_c(air / 10, humidity)
        for air in (*AIR[::37], AIR[-1])
        for humidity in HUMIDITY
    ]
    assert min(errors) >= 0
    assert max(errors) <= 0.05


def test_the_largest_error_is_told_with_the_sheet() -> None:
    facts = {fact["label"]: fact for fact in compiled().sheets[FIRST]["facts"]}
    told = float(facts["Dew point table"]["value"].split()[-2])
    errors = [
        read_c(air, humidity) - magnus_c(air / 10, humidity)
        for air in AIR[::50]
        for humidity in HUMIDITY[::3]
    ]
    assert max(errors) <= told + 1e-9


@pytest.mark.parametrize(
    ("surface", "margin_c", "cautioned"),
    [
        # Trade reference 1.A: 25 °C and 80 % give 21.31 °C; margins 1.59 and 3.09.
        (229, 1.59, True),
        (244, 3.09, False),
    ],
)
def test_a_face_close_to_the_dew_point_is_cautioned(
    surface: int, margin_c: float, cautioned: bool
) -> None:
    joint = story()
    values = {"cold-new": surface, "cold-old": 300, "hot-new": 300, "hot-old": 300}
    air = {"air": 250, "humidity": 80, "formulation": 2}
    joint.at(1).done("faces", by="tamsin", values={**GOOD_FACES, **values, **air})
    step = joint.state()["steps"]["faces"]
    assert margin_c - 0.05 <= step["shows"]["margin"] / 100 <= margin_c + 0.005
    assert ("dew" in step["cautions"]) == cautioned
    assert step["status"] == "done"


def test_frost_stops_whatever_the_margin() -> None:
    joint = story()
    values = {**GOOD_FACES, "cold-new": 0, "air": -100, "humidity": 20}
    joint.at(1).done("faces", by="tamsin", values=values)
    assert "frost" in joint.state()["steps"]["faces"]["failed"]
    assert joint.state()["steps"]["faces"]["status"] == "failed"


def test_a_face_below_the_dew_point_stops_the_mixing() -> None:
    joint = story()
    # Trade reference 1.A: at 25 °C and 80 % water settles on what is below 21.31 °C.
    values = {"cold-new": 212, "cold-old": 300, "hot-new": 300, "hot-old": 300}
    air = {"air": 250, "humidity": 80, "formulation": 2}
    joint.at(1).done("faces", by="tamsin", values={**GOOD_FACES, **values, **air})
    state = joint.state()
    assert state["steps"]["faces"]["status"] == "failed"
    assert {"code": "step_failed", "facts": {"step": "faces"}} in (
        state["points"]["mixing"]["refusals"]
    )
