"""Stress on the face agrees with another integration and errs to the safe side."""

import csv
import random
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from fieldapp.core.kernel import Kernel
from fieldapp.plan.bindings.hull import hull
from tests.plan.sample import FIRST, SAMPLE, compiled, told

Ring = list[tuple[float, float]]


def rows(name: str) -> Iterator[dict[str, str]]:
    with (SAMPLE / name).open(encoding="utf-8") as file:
        yield from csv.DictReader(file)


def rings(section: str) -> list[Ring]:
    """Read a section's rings; a point lies in the concrete if in an odd number."""
    found: dict[str, Ring] = {}
    for row in rows("sections.csv"):
        if row["section"] == section:
            point = (float(row["x_m"]), float(row["y_m"]))
            found.setdefault(row["ring"], []).append(point)
    return list(found.values())


@cache
def plane_matrix(section: str) -> Any:
    """Integrals of 1, x, y and their products, level by level.

    Between two levels with corners the chords are straight, so Gauss' rule with three
    points is exact. Source: Gauss-Legendre quadrature (textbook).
    """
    sides = [
        (a, b)
        for ring in rings(section)
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    ]
    levels = sorted({a[1] for a, _ in sides})
    total = np.zeros((3, 3))
    for low, high in pairwise(levels):
        for at, weight in zip(*np.polynomial.legendre.leggauss(3), strict=True):
            y = (low + high) / 2 + at * (high - low) / 2
            total += _chords(sides, y) * weight * (high - low) / 2
    return total


def _chords(sides: list[Any], y: float) -> Any:
    """Integrals along one level, over the chords that lie in the concrete."""
    cuts = sorted(
        a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        for a, b in sides
        if (a[1] > y) != (b[1] > y)
    )
    found = np.zeros((3, 3))
    for left, right in zip(cuts[::2], cuts[1::2], strict=True):
        w, x1, x2 = right - left, (right**2 - left**2) / 2, (right**3 - left**3) / 3
        found += np.array([[w, x1, w * y], [x1, x2, x1 * y], [w * y, x1 * y, w * y**2]])
    return found


def stresses_mpa(
    section: str, forces: dict[str, float], moment_knm: float
) -> list[float]:
    """Stress at each outline point, from three equations of equilibrium."""
    bars = {
        r["id"]: r for r in rows("bars.csv") if r["pattern"] == f"six-{section[-1]}"
    }
    load = np.zeros(3)
    for bar, force in forces.items():
        load += force * np.array([1, float(bars[bar]["x_m"]), float(bars[bar]["y_m"])])
    load[2] += moment_knm
    plane = np.linalg.solve(plane_matrix(section), load) / 1000
    outline = rings(section)[0]
    return [float(plane @ np.array([1, x, y])) for x, y in outline]


def mean_mpa(section: str, forces: dict[str, float]) -> float:
    return sum(forces.values()) / float(plane_matrix(section)[0, 0]) / 1000


def shown(subject: str, forces: dict[str, int]) -> dict[str, float]:
    """Give the sheet's stresses in MPa for forces in 0.1 kN, by the kernel."""
    site = compiled()
    sheet = dict(site.sheets[subject])
    sheet["values"] = {
        **sheet["values"],
        **{f"stress.force.{bar}": force for bar, force in forces.items()},
    }
    tables = {name: site.tables[key] for name, key in sheet["tables"].items()}
    kernel = Kernel(sheet, tables)
    found = {}
    for state in ("gear", "bars"):
        for key in ("mean", "least", "greatest", "spread"):
            at = Situation()
            value = kernel.value(f"stress.{state}.{key}")(at, "")
            assert value is not None
            found[f"{state}.{key}"] = value[0] / value[1] / 10_000
    return found


class Situation:
    """A world in which nothing was read."""

    def __init__(self) -> None:
        self.memo: dict[Any, Any] = {}


def weight_knm(subject: str) -> float:
    segment = next(r["segment"] for r in rows("joints.csv") if r["id"] == subject)
    row = next(r for r in rows("segments.csv") if r["id"] == segment)
    return -float(row["weight_kn"]) * float(row["lever_m"])


@pytest.mark.parametrize("subject", [FIRST, "j-e5", "j-w9"])
@pytest.mark.parametrize("seed", range(4))
def test_stress_agrees_with_another_integration(subject: str, seed: int) -> None:
    chance = random.Random(seed)
    forces = {f"b{bar}": chance.randrange(0, 5071) for bar in range(1, 7)}
    found = shown(subject, forces)
    section = f"face-{subject[-1]}"
    in_kn = {bar: force / 10 for bar, force in forces.items()}
    for state, moment in (("gear", 0.0), ("bars", weight_knm(subject))):
        wanted = stresses_mpa(section, in_kn, moment)
        assert found[f"{state}.least"] == pytest.approx(min(wanted), abs=1e-7)
        assert found[f"{state}.greatest"] == pytest.approx(max(wanted), abs=1e-7)
        spread = max(wanted) - min(wanted)
        assert found[f"{state}.spread"] == pytest.approx(spread, abs=1e-7)
        mean = mean_mpa(section, in_kn)
        assert found[f"{state}.mean"] == pytest.approx(mean, abs=1e-7)


def test_the_forms_err_to_the_safe_side_and_by_less_than_they_can_show() -> None:
    from fieldapp.calc.joint_stress import Bar, face_stress, stress_plane
    from fieldapp.calc.section import section_properties

    outline, void = (tuple(ring) for ring in rings("face-1"))
    section = section_properties(outline, (void,))
    places = [r for r in rows("bars.csv") if r["pattern"] == "six-1"]
    chance = random.Random(20)
    for _ in range(200):
        forces = {each["id"]: chance.randrange(0, 5071) for each in places}
        bars = [
            Bar(x_m=float(r["x_m"]), y_m=float(r["y_m"]), force_kn=forces[r["id"]] / 10)
            for r in places
        ]
        found = shown(FIRST, forces)
        for state, moment in (("gear", 0.0), ("bars", weight_knm(FIRST))):
            plane = stress_plane(section, bars, moment_x_knm=moment)
            face = face_stress(section, outline, plane)
            for key, exact, side in (
                ("mean", face.mean_mpa, 1),
                ("least", face.min_mpa, 1),
                ("greatest", face.max_mpa, -1),
                ("spread", face.spread_mpa, -1),
            ):
                safe = (exact - found[f"{state}.{key}"]) * side
                assert -1e-12 <= safe < 1e-7, (key, safe)


def test_weight_on_the_bars_takes_from_the_deck_and_gives_to_the_floor() -> None:
    found = shown(FIRST, {f"b{bar}": 4500 for bar in range(1, 7)})
    assert found["bars.mean"] == found["gear.mean"]
    wanted = stresses_mpa("face-1", {f"b{b}": 450.0 for b in range(1, 7)}, 0.0)
    heavy = stresses_mpa(
        "face-1", {f"b{b}": 450.0 for b in range(1, 7)}, weight_knm(FIRST)
    )
    outline = rings("face-1")[0]
    for (_, y), before, after in zip(outline, wanted, heavy, strict=True):
        assert (after < before) == (y > 1.832)


def test_a_hull_keeps_corners_and_drops_what_lies_inside() -> None:
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    assert set(hull([*square, (2.0, 0.0), (2.0, 1.0)])) == set(square)


def test_a_lost_bar_carries_nothing_and_shuts_the_gate() -> None:
    joint = told("clean")
    assert joint.state()["points"]["weight"]["refusals"] == []
    before = joint.state()["values"]["stress.gear.mean"]
    joint.at(45).done("bar-lost", by="tamsin", line="b5", values={})
    state = joint.state()
    # Five bars of six equal ones are left: 5/6 of the mean.
    assert state["values"]["stress.force.b5"] == 0
    assert state["values"]["stress.gear.mean"] == pytest.approx(before * 5 / 6, abs=1)
    refused = [each["facts"] for each in state["points"]["weight"]["refusals"]]
    # A bar of the web on one side: the floor's corner far from it falls below 0.207.
    assert {each.get("requirement") for each in refused} == {"gear-least", "bars-least"}
    # Contact pressure was reached all the same: what breaks later undoes no milestone.
    assert "pressure" in state["milestones"]
