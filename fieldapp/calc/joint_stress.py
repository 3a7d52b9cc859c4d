"""Stress on a joint's face under its bars and the moments of hung weight.

Compression is positive. Forces are the locked-off ones, never the jack's. Tension is
reported, not refused: the answer must be seen when a bar is lost.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fieldapp.calc.bands import at_least, at_most
from fieldapp.calc.polygon import Polygon
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.section import SectionProperties

KPA_PER_MPA = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A bar across the joint, in the section's coordinates."""

    x_m: float
    y_m: float
    force_kn: float
    cap_kn: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadState:
    """A state of loading; positive moments compress the +y and the +x side."""

    name: str
    moment_x_knm: float
    moment_y_knm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StressLimits:
    """The project's limits; None where the project sets none."""

    mean_min_mpa: float | None = None
    local_min_mpa: float | None = None
    spread_max_mpa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """Stress at one vertex of the outline."""

    x_m: float
    y_m: float
    stress_mpa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StressPlane:
    """Stress as mean + slope_x (x - centroid x) + slope_y (y - centroid y)."""

    force_kn: float
    moment_x_knm: float
    moment_y_knm: float
    mean_mpa: float
    slope_x_mpa_per_m: float
    slope_y_mpa_per_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceStress:
    """Stress at the outline's vertices and what sums them up."""

    mean_mpa: float
    min_mpa: float
    max_mpa: float
    spread_mpa: float
    corners: tuple[Corner, ...]


def lose_bars(bars: Sequence[Bar], lost: Sequence[int]) -> tuple[Bar, ...]:
    """The bars with the lost ones, counted from 0, at no force.

    Source: a lost bar carries nothing.
    """
    for place, index in enumerate(lost):
        if not 0 <= index < len(bars):
            raise CalcRefusal(f"lost[{place}]", index, f"0 to {len(bars) - 1}")
        if index in lost[:place]:
            raise CalcRefusal(f"lost[{place}]", index, "each bar once")
    return tuple(
        replace(bar, force_kn=0.0) if index in lost else bar
        for index, bar in enumerate(bars)
    )


def stress_plane(
    section: SectionProperties,
    bars: Sequence[Bar],
    moment_x_knm: float = 0.0,
    moment_y_knm: float = 0.0,
) -> StressPlane:
    """The plane of stress over a face of any shape.

    D = Ixx Iyy - Ixy²; Mx = sum(F y) + moment_x, My = sum(F x) + moment_y about the
    centroid; stress = P/A + x (My Ixx - Mx Ixy)/D + y (Mx Iyy - My Ixy)/D.
    Source: bending about two axes with product of inertia (textbook).
    """
    force = sum(bar.force_kn for bar in bars)
    m_x = moment_x_knm + sum(
        bar.force_kn * (bar.y_m - section.centroid_y_m) for bar in bars
    )
    m_y = moment_y_knm + sum(
        bar.force_kn * (bar.x_m - section.centroid_x_m) for bar in bars
    )
    det = section.ixx_m4 * section.iyy_m4 - section.ixy_m4**2
    slope_x = (m_y * section.ixx_m4 - m_x * section.ixy_m4) / det
    slope_y = (m_x * section.iyy_m4 - m_y * section.ixy_m4) / det
    return StressPlane(
        force_kn=force,
        moment_x_knm=m_x,
        moment_y_knm=m_y,
        mean_mpa=force / section.area_m2 / KPA_PER_MPA,
        slope_x_mpa_per_m=slope_x / KPA_PER_MPA,
        slope_y_mpa_per_m=slope_y / KPA_PER_MPA,
    )


def stress_at_mpa(
    section: SectionProperties, plane: StressPlane, x_m: float, y_m: float
) -> float:
    """Stress of the plane at a point of the face, compression positive.

    Source: the plane of stress_plane.
    """
    return (
        plane.mean_mpa
        + plane.slope_x_mpa_per_m * (x_m - section.centroid_x_m)
        + plane.slope_y_mpa_per_m * (y_m - section.centroid_y_m)
    )


def influence_mpa_per_kn(
    section: SectionProperties, bar_x_m: float, bar_y_m: float, x_m: float, y_m: float
) -> float:
    """Stress at a point for one kN in one bar: the coefficient of a linear form.

    Source: stress_plane is linear in its forces.
    """
    one = Bar(x_m=bar_x_m, y_m=bar_y_m, force_kn=1.0)
    return stress_at_mpa(section, stress_plane(section, (one,)), x_m, y_m)


def face_stress(
    section: SectionProperties, outline: Polygon, plane: StressPlane
) -> FaceStress:
    """Stress at each vertex; a plane has its least and greatest at a vertex.

    Source: a plane over a polygon is extreme at a vertex.
    """
    corners = tuple(
        Corner(x_m=x, y_m=y, stress_mpa=stress_at_mpa(section, plane, x, y))
        for x, y in outline
    )
    least = min(corner.stress_mpa for corner in corners)
    greatest = max(corner.stress_mpa for corner in corners)
    return FaceStress(
        mean_mpa=plane.mean_mpa,
        min_mpa=least,
        max_mpa=greatest,
        spread_mpa=greatest - least,
        corners=corners,
    )


def worst_of(faces: Sequence[FaceStress]) -> FaceStress:
    """Least mean and minimum, greatest maximum and spread, least at each corner.

    Source: the least and greatest of several states.
    """
    corners = tuple(
        min(same, key=lambda corner: corner.stress_mpa)
        for same in zip(*(face.corners for face in faces), strict=True)
    )
    return FaceStress(
        mean_mpa=min(face.mean_mpa for face in faces),
        min_mpa=min(face.min_mpa for face in faces),
        max_mpa=max(face.max_mpa for face in faces),
        spread_mpa=max(face.spread_mpa for face in faces),
        corners=corners,
    )


def limit_reasons(face: FaceStress, limits: StressLimits) -> tuple[str, ...]:
    """What of the limits is not met, in words; empty where all are, inclusive.

    Source: the limits are the project's.
    """
    reasons = []
    if limits.mean_min_mpa is not None and not at_least(
        face.mean_mpa, limits.mean_min_mpa
    ):
        reasons.append(_short("mean", face.mean_mpa, "least", limits.mean_min_mpa))
    if limits.local_min_mpa is not None and not at_least(
        face.min_mpa, limits.local_min_mpa
    ):
        reasons.append(_short("least", face.min_mpa, "least", limits.local_min_mpa))
    if limits.spread_max_mpa is not None and not at_most(
        face.spread_mpa, limits.spread_max_mpa
    ):
        reasons.append(_short("spread", face.spread_mpa, "most", limits.spread_max_mpa))
    return tuple(reasons)


def cap_reasons(bars: Sequence[Bar]) -> tuple[str, ...]:
    """Which bars carry more than their cap, in words.

    Source: the caps are the project's.
    """
    return tuple(
        f"bar {index}: {bar.force_kn:.6g} kN above its cap of {bar.cap_kn:.6g} kN"
        for index, bar in enumerate(bars)
        if bar.cap_kn is not None and not at_most(bar.force_kn, bar.cap_kn)
    )


def headroom_kn(bars: Sequence[Bar], lost: Sequence[int] = ()) -> list[float | None]:
    """What each bar may still take up to its cap; None without one, 0 if lost.

    Source: cap less force.
    """
    return [
        0.0
        if index in lost
        else None
        if bar.cap_kn is None
        else bar.cap_kn - bar.force_kn
        for index, bar in enumerate(bars)
    ]


def _short(what: str, value_mpa: float, bound: str, limit_mpa: float) -> str:
    return f"{what} {value_mpa:.4f} MPa, at {bound} {limit_mpa:g} MPa wanted"
