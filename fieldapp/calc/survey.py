"""Where errors of the joints put the tip of a cantilever, and what a shim mends.

Angles are small and positive where the tip moves up. The numbers foresee a profile;
which correction is made is the engineer's to say.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.calc.refusals import CalcRefusal

MM_PER_M = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class JointError:
    """A joint's place along the cantilever and the error of its angle."""

    at_m: float
    error_rad: float


def tip_contributions_mm(
    joints: Sequence[JointError], tip_m: float, offsets_mm: Sequence[float] = ()
) -> tuple[float, ...]:
    """What each joint moves the tip: angle times distance, and its own offset.

    Source: small rotations added along a line, sum of theta (L - x) (geometry).
    """
    if offsets_mm and len(offsets_mm) != len(joints):
        allowed = f"one for each of {len(joints)} joints"
        raise CalcRefusal("offsets_mm", list(offsets_mm), allowed)
    levers = _levers_m(joints, tip_m)
    turned = [
        joint.error_rad * lever * MM_PER_M
        for joint, lever in zip(joints, levers, strict=True)
    ]
    steps = offsets_mm or [0.0] * len(joints)
    return tuple(a + b for a, b in zip(turned, steps, strict=True))


def tip_band_mm(
    joints: Sequence[JointError], tip_m: float, one_sigma_rad: float
) -> float:
    """Plus and minus one sigma of the tip, joints independent of one another.

    Source: root sum of squares (textbook).
    """
    return one_sigma_rad * math.hypot(*_levers_m(joints, tip_m)) * MM_PER_M


def shim_angle_rad(thickness_mm: float, depth_m: float) -> float:
    """Angle that a shim at one edge of a joint makes. Source: thickness / depth."""
    return thickness_mm / MM_PER_M / depth_m


def _levers_m(joints: Sequence[JointError], tip_m: float) -> list[float]:
    for index, joint in enumerate(joints):
        if joint.at_m > tip_m:
            key = f"joints[{index}].at_m"
            raise CalcRefusal(key, joint.at_m, f"up to the tip at {tip_m:g}")
    return [tip_m - joint.at_m for joint in joints]
