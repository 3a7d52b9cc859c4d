"""The numbers of a compiled sheet are those the named calculations give.

Each is worked out again by the door an engineer uses, from the site's own tables. What
is changed in a formula changes both or fails here.
"""

import csv
import math
from pathlib import Path
from typing import Any

import pytest

from fieldapp.calc.catalogue import run
from tests.plan.sample import SAMPLE, SECOND, compiled

DUCT = "t-1L"


def rows(name: str, **wanted: str) -> list[dict[str, str]]:
    """The rows of a site's table in which these columns read so."""
    with Path(SAMPLE / name).open(encoding="utf-8") as table:
        found = list(csv.DictReader(table))
    return [row for row in found if all(row[k] == v for k, v in wanted.items())]


def sheet(subject: str = SECOND) -> dict[str, Any]:
    return dict(compiled().sheets[subject])


def lines(step: str) -> list[dict[str, Any]]:
    return list(sheet()["steps"][step]["lines"])


def certificate(jack: str) -> list[list[float]]:
    return [
        [float(row["pressure_bar"]), float(row["force_kn"])]
        for row in rows("calibrations.csv", jack=jack)
    ]


def bar(name: str) -> dict[str, float]:
    (row,) = rows("bars.csv", pattern="six-2", id=name)
    return {key: float(row[key]) for key in ("length_m", "area_mm2", "modulus_gpa")}


def face() -> dict[str, Any]:
    rings: dict[str, list[list[float]]] = {}
    for row in rows("sections.csv", section="face-2"):
        point = [float(row["x_m"]), float(row["y_m"])]
        rings.setdefault(row["ring"], []).append(point)
    return {"outline": rings.pop("outline"), "voids": list(rings.values())}


@pytest.mark.parametrize("jack", ["jack-a", "jack-b"])
def test_the_line_of_a_jack_is_the_fitted_one(jack: str) -> None:
    answer = run("jack", {"calibration": certificate(jack), "pressure_bar": 200})
    numbers = sheet()["items"][jack]["numbers"]
    assert numbers["slope"] == round(answer["slope"] * 10**7)
    assert numbers["intercept"] == round(answer["intercept"] * 10**7)


@pytest.mark.parametrize("jack", ["jack-a", "jack-b"])
def test_the_pressure_to_aim_at_is_the_mark_for_the_force(jack: str) -> None:
    for line in lines("bars"):
        asked = {"force_kn": line["numbers"]["target"] / 10, "graduation_bar": 5}
        answer = run("jack", {"calibration": certificate(jack), **asked})
        assert line["numbers"][f"aim.{jack}"] == answer["set_pressure_bar"]


def test_the_extension_of_a_bar_and_what_its_seating_costs() -> None:
    for line in lines("bars"):
        steel, numbers = bar(line["item"]), line["numbers"]
        # The plan: datum 90 kN, 0.9 m in the jack, 0.5 mm of seating of 450 kN.
        asked = {"force_kn": numbers["target"] / 10, "datum_force_kn": 90}
        answer = run("bar-extension", {**steel, **asked, "grip_length_m": 0.9})
        assert numbers["extension"] == round(answer["extension_mm"] * 100)
        per_kn = answer["extension_mm"] / (asked["force_kn"] - 90)
        assert numbers["less_mm_per_kn"] == pytest.approx(-per_kn * 10**7, abs=1)
        locked = run("bar-extension", {**steel, "force_kn": 450, "seating_mm": 0.5})
        lost = 450 - locked["locked_force_kn"]
        assert numbers["seating"] == math.ceil(lost * 10 - 1e-6)


def adhesive(thickness_mm: float, waste_ratio: float) -> dict[str, Any]:
    return run(
        "adhesive-quantity",
        {
            "area_m2": run("section", face())["area_m2"],
            "thickness_mm": thickness_mm,
            "faces": 1,
            "density_kg_per_l": 1.65,
            "waste_ratio": waste_ratio,
            "kit_kg": 10,
        },
    )


def test_the_kits_of_a_joint_and_the_film_they_make() -> None:
    wanted = [line for line in lines("spread") if line["need"]]
    assert len(wanted) == adhesive(1.6, 0.10)["kits"]
    per_kit = sheet()["values"]["film-mean"]["cases"][0][1]["terms"][0][0]
    one = adhesive(1.0, 0.0)["mass_kg"]
    assert per_kit == pytest.approx(10 / one * 10**8, abs=1)


def test_the_stress_of_the_bars_is_the_calculated_one() -> None:
    # Six bars at 300 kN, weight on the bars: each corner as joint-stress gives it.
    answer = run(
        "joint-stress",
        {
            **face(),
            "bars": [
                {"x_m": float(row["x_m"]), "y_m": float(row["y_m"]), "force_kn": 300}
                for row in rows("bars.csv", pattern="six-2")
            ],
            "moment_x_knm": -472 * 1.49,
        },
    )
    values = sheet()["values"]
    corners = [key for key in values if key.startswith("stress.bars.corner-")]
    assert len(corners) >= 4
    found = [stress_mpa(values, key, 300) for key in corners]
    assert min(found) == pytest.approx(answer["min_mpa"], abs=0.001)
    assert max(found) == pytest.approx(answer["max_mpa"], abs=0.001)


def stress_mpa(values: dict[str, Any], key: str, force_kn: float) -> float:
    """A linear form of bars' forces, each the same, in MPa with four places."""
    word = values[key]
    whole = word.get("constant", 0)
    for factor, term in word["terms"]:
        inner = values.get(term)
        if isinstance(inner, dict) and inner["word"] == "form":
            whole += factor * stress_mpa(values, term, force_kn) * 10**4
        else:
            whole += factor * force_kn * 10
    return float(whole / word["divisor"] / 10**4)


def test_wind_at_the_lift_is_the_forecasts_at_thirty_metres() -> None:
    factor = run("wind", {"speed_10m_m_per_s": 1, "height_m": 30})["factor"]
    word = sheet()["values"]["gust-aloft"]
    assert word["terms"][0][0] / word["divisor"] == pytest.approx(factor * 1000)


def test_the_moment_during_a_lift_is_the_balance_after_it() -> None:
    # The pier's table is 2.5 m to each side; W1 and E1 hang when W2 is lifted.
    first, second = (rows("segments.csv", id=name)[0] for name in ("W1", "W2"))
    levers = (2.5 + float(first["lever_m"]), 5.5 + float(second["lever_m"]))
    hung = {"weight_kn": float(first["weight_kn"]), "lever_m": levers[0]}
    lifted = {"weight_kn": float(second["weight_kn"]), "lever_m": levers[1]}
    answer = run(
        "balance",
        {
            "arms": {"A": [hung], "B": [hung]},
            "limit_knm": 18_000,
            "next": {"A": lifted},
        },
    )
    (fact,) = (f for f in sheet()["facts"] if f["label"].startswith("Out of balance"))
    assert fact["value"].startswith(f"{answer['after_a_knm']:.0f} kNm towards west")


def test_the_grout_that_must_stay_is_around_the_net_volume() -> None:
    (row,) = rows("ducts.csv", id=DUCT)
    answer = run(
        "grout-volume",
        {
            "duct_bore_mm": float(row["bore_mm"]),
            "steel_area_mm2": float(row["steel_mm2"]),
            "length_m": float(row["length_m"]),
            "waste_ratio": 0,
        },
    )
    values = sheet(DUCT)["values"]
    assert values["grout-least"] == math.ceil(answer["net_l"] * 0.95)
    assert values["grout-most"] == math.floor(answer["net_l"] * 1.20)


def test_the_angle_of_a_joint_is_that_of_a_shim_of_the_difference() -> None:
    # 0.1 mm wider above: as a shim of 0.1 mm over the marks' lever, in 0.001 mm/m.
    depth = max(y for _, y in face()["outline"]) - min(y for _, y in face()["outline"])
    for name, lever in (("angle-vertical", depth - 0.8), ("angle-plan", 5.0)):
        shim = {"thickness_mm": 0.1, "depth_m": lever, "tip_distance_m": 1}
        word = sheet()["values"][name]
        wider = sum(factor for factor, _ in word["terms"] if factor > 0)
        turned = run("shim", shim)["angle_rad"] * 10**6
        assert wider / word["divisor"] == pytest.approx(turned, rel=1e-9)
