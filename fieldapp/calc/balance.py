"""Out-of-balance moment at a pier, now and after the next lift on either arm.

Moments are about the pier's axis, arm A positive. The answer says what keeps within
the limits; whether a lift may begin is for people and for fresh records.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldapp.calc.bands import at_most

SIDES = ("A", "B")


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A weight hanging on an arm at a lever from the pier's axis."""

    weight_kn: float
    lever_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NextLift:
    """What the next lift on one side would do."""

    side: str
    after_knm: float
    reason: str | None


def arm_moment_knm(loads: Sequence[Load]) -> float:
    """Moment of one arm's loads about the pier's axis. Source: statics."""
    return sum(load.weight_kn * load.lever_m for load in loads)


def balance_knm(arms: Mapping[str, Sequence[Load]]) -> float:
    """Moment out of balance, positive where arm A is heavier.

    Source: statics.
    """
    return arm_moment_knm(arms["A"]) - arm_moment_knm(arms["B"])


def next_lift(
    moment_knm: float, side: str, load: Load, limit_a_knm: float, limit_b_knm: float
) -> NextLift:
    """The moment after a lift on one side, and why it may not be, if so.

    Limits are inclusive: the moment towards A may reach limit_a, towards B limit_b.
    Source: statics; the limits are the erection manual's.
    """
    sign = 1 if side == "A" else -1
    after = moment_knm + sign * load.weight_kn * load.lever_m
    heavier, limit = ("A", limit_a_knm) if after >= 0 else ("B", limit_b_knm)
    reason = None
    if not at_most(abs(after), limit):
        reason = (
            f"{abs(after):.6g} kNm towards {heavier} after the lift, "
            f"at most {limit:g} kNm wanted"
        )
    return NextLift(side=side, after_knm=after, reason=reason)
