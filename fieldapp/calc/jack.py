"""Force of a jack from its gauge, by the certificate of the pair and nothing else.

Force is fitted as a straight line on pressure. Outside the certified range the answer
is a refusal, and a force from the ram's area alone is marked as not certified.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.calc.refusals import CalcRefusal, OutOfTable
from fieldapp.calc.tables import StraightTable, straight_line

# One bar on one square centimetre is 10 N.
KN_PER_BAR_CM2 = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """Certified points (pressure_bar, force_kn) and the line fitted through them."""

    points: tuple[tuple[float, float], ...]
    slope_kn_per_bar: float
    intercept_kn: float
    fit_residual_percent: float


def fit_calibration(points: Sequence[tuple[float, float]]) -> Calibration:
    """Least squares of force on pressure; both must rise strictly.

    The residual is the largest departure of a certified force from the line, in per
    cent of the largest certified force. Source: least squares (textbook).
    """
    pressures = StraightTable(quantity="calibration", points=tuple(points)).points
    forces = [force for _, force in pressures]
    for index in range(1, len(forces)):
        if forces[index] <= forces[index - 1]:
            key = f"calibration[{index}]"
            allowed = f"a force above {forces[index - 1]:g}"
            raise CalcRefusal(key, list(pressures[index]), allowed)
    slope, intercept = least_squares(pressures)
    worst = max(abs(f - slope * p - intercept) for p, f in pressures)
    return Calibration(
        points=pressures,
        slope_kn_per_bar=slope,
        intercept_kn=intercept,
        fit_residual_percent=100 * worst / max(forces),
    )


def force_from_pressure_kn(calibration: Calibration, pressure_bar: float) -> float:
    """Force on the fitted line; OutOfTable outside the certified pressures.

    Source: the certificate, fitted.
    """
    low, high = calibration.points[0][0], calibration.points[-1][0]
    if not low <= pressure_bar <= high:
        raise OutOfTable("pressure_bar", pressure_bar, low, high)
    return calibration.slope_kn_per_bar * pressure_bar + calibration.intercept_kn


def pressure_from_force_bar(calibration: Calibration, force_kn: float) -> float:
    """Pressure on the fitted line; OutOfTable outside the certified forces.

    Source: the certificate, fitted.
    """
    low, high = calibration.points[0][1], calibration.points[-1][1]
    if not low <= force_kn <= high:
        raise OutOfTable("force_kn", force_kn, low, high)
    return (force_kn - calibration.intercept_kn) / calibration.slope_kn_per_bar


def interpolated_force_kn(calibration: Calibration, pressure_bar: float) -> float:
    """Force straight between the two certified points around a pressure.

    Source: the certificate, straight between its points.
    """
    table = StraightTable(quantity="pressure_bar", points=calibration.points)
    return straight_line(table, pressure_bar)


def interpolated_pressure_bar(calibration: Calibration, force_kn: float) -> float:
    """Pressure straight between the two certified points around a force.

    Source: the certificate, straight between its points.
    """
    turned = tuple((force, pressure) for pressure, force in calibration.points)
    return straight_line(StraightTable(quantity="force_kn", points=turned), force_kn)


def set_pressure_bar(
    calibration: Calibration, pressure_bar: float, graduation_bar: float
) -> float:
    """Nearest mark of the gauge that lies inside the certificate.

    Source: the gauge's graduation and the certificate.
    """
    low, high = calibration.points[0][0], calibration.points[-1][0]
    first = math.ceil(low / graduation_bar - 1e-9)
    last = math.floor(high / graduation_bar + 1e-9)
    if first > last:
        allowed = f"a mark between {low:g} and {high:g} bar"
        raise CalcRefusal("graduation_bar", graduation_bar, allowed)
    mark = math.floor(pressure_bar / graduation_bar + 0.5)
    return min(max(mark, first), last) * graduation_bar


def ram_force_kn(ram_area_cm2: float, pressure_bar: float) -> float:
    """Ideal force of a ram, friction left out. Source: p A."""
    return pressure_bar * ram_area_cm2 * KN_PER_BAR_CM2


def ram_pressure_bar(ram_area_cm2: float, force_kn: float) -> float:
    """Ideal pressure of a ram, friction left out. Source: F / A."""
    return force_kn / (ram_area_cm2 * KN_PER_BAR_CM2)


def least_squares(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Slope and intercept of the straight line of second on first.

    Source: least squares (textbook).
    """
    mean_x = math.fsum(x for x, _ in points) / len(points)
    mean_y = math.fsum(y for _, y in points) / len(points)
    sxx = math.fsum((x - mean_x) ** 2 for x, _ in points)
    sxy = math.fsum((x - mean_x) * (y - mean_y) for x, y in points)
    return sxy / sxx, mean_y - sxy / sxx * mean_x
