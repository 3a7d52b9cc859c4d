"""What a tendon loses when its wedges draw in: how far the set reaches.

Friction turns round in the set. A set never exceeds the tendon, and two sets that
meet share it: between them the force is greatest where the strand stands still.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.calc.bars import axial_kn_per_mm_m
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.tendon import (
    Reach,
    cut,
    friction_lost,
    integral_m,
    sinhc,
    split_where_ends_meet,
    total_friction,
    total_length_m,
    turned,
)

HALVINGS = 90


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorSet:
    """How far from its anchor a set reaches, and the force left at the anchor."""

    length_m: float
    anchor_force_kn: float


def anchor_sets(
    pieces: Sequence[Reach],
    *,
    ends: int,
    jacking_force_kn: float,
    area_mm2: float,
    modulus_gpa: float,
    draw_in_mm: float,
) -> tuple[AnchorSet, ...]:
    """The set of each jacked end, the same draw-in at each.

    The area between the force before and after is draw-in times A E; both profiles
    are exact exponentials with the same friction either way.
    Source: the usual area rule for wedge set (textbook), without linearising.
    """
    stretch = axial_kn_per_mm_m(area_mm2, modulus_gpa)
    lost_kn_m = draw_in_mm * stretch
    sets: tuple[AnchorSet, ...]
    if ends == 1:
        one = _free_set(pieces, jacking_force_kn, lost_kn_m)
        sets = (one or _whole_set(pieces, jacking_force_kn, lost_kn_m),)
    else:
        parts = split_where_ends_meet(pieces)
        left = _free_set(_first_half(parts), jacking_force_kn, lost_kn_m)
        right = _free_set(_first_half(turned(parts)), jacking_force_kn, lost_kn_m)
        if left and right:
            sets = (left, right)
        else:
            sets = _meeting_sets(parts, jacking_force_kn, lost_kn_m)
    if min(one.anchor_force_kn for one in sets) < 0:
        most_mm = _whole_kn_m(pieces, ends, jacking_force_kn) / stretch / ends
        allowed = f"0 to {most_mm:.6g}, the strand slack"
        raise CalcRefusal("draw_in_mm", draw_in_mm, allowed)
    return sets


def _whole_kn_m(pieces: Sequence[Reach], ends: int, jacking_force_kn: float) -> float:
    """Area of the force at jacking; draw-in that takes all of it leaves no force."""
    parts = split_where_ends_meet(pieces) if ends == 2 else pieces
    lost = friction_lost(pieces, ends)
    return jacking_force_kn * integral_m(parts, lambda x: -lost(x))


def force_after_set_kn(
    pieces: Sequence[Reach],
    sets: Sequence[AnchorSet],
    jacking_force_kn: float,
) -> tuple[float, ...]:
    """Force at the ends of the pieces once the wedges have drawn in.

    Source: friction turned within the set, as in anchor_sets.
    """
    whole, lost = total_friction(pieces), friction_lost(pieces, len(sets))
    forces = []
    for exponent in (0.0, *(p.friction_before + p.friction for p in pieces)):
        held = [jacking_force_kn * math.exp(-lost(exponent))]
        held.append(sets[0].anchor_force_kn * math.exp(exponent))
        if len(sets) == 2:
            held.append(sets[1].anchor_force_kn * math.exp(whole - exponent))
        forces.append(min(held))
    return tuple(forces)


def _free_set(
    pieces: Sequence[Reach], jacking_force_kn: float, lost_kn_m: float
) -> AnchorSet | None:
    """The set where it ends within these pieces; None where it does not."""
    if not lost_kn_m:
        return AnchorSet(length_m=0.0, anchor_force_kn=jacking_force_kn)
    for index, piece in enumerate(pieces):
        if _loss_kn_m(pieces[: index + 1], jacking_force_kn) < lost_kn_m:
            continue
        low, high = 0.0, 1.0
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            reached = [*pieces[:index], cut(piece, middle)[0]]
            if _loss_kn_m(reached, jacking_force_kn) < lost_kn_m:
                low = middle
            else:
                high = middle
        reached = [*pieces[:index], cut(piece, high)[0]]
        return AnchorSet(
            length_m=total_length_m(reached),
            anchor_force_kn=jacking_force_kn * math.exp(-2 * total_friction(reached)),
        )
    return None


def _loss_kn_m(reached: Sequence[Reach], jacking_force_kn: float) -> float:
    """Area between force before and after a set that ends after these pieces.

    With v the exponent from a place to the end of the set, the difference of the two
    forces is 2 P sinh(v), P the force at the end of the set.
    """
    whole = total_friction(reached)
    end_force_kn = jacking_force_kn * math.exp(-whole)
    return math.fsum(
        2
        * end_force_kn
        * p.length_m
        * math.sinh(whole - p.friction_before - p.friction / 2)
        * sinhc(p.friction / 2)
        for p in reached
    )


def _whole_set(
    pieces: Sequence[Reach], jacking_force_kn: float, lost_kn_m: float
) -> AnchorSet:
    """The set that has reached the far anchor: friction is turned all along."""
    before_kn_m = jacking_force_kn * integral_m(pieces, lambda x: -x)
    return AnchorSet(
        length_m=total_length_m(pieces),
        anchor_force_kn=(before_kn_m - lost_kn_m) / integral_m(pieces, lambda x: x),
    )


def _first_half(parts: Sequence[Reach]) -> list[Reach]:
    """The pieces from an end to where the two jacks' friction is alike."""
    half = total_friction(parts) / 2
    return [p for p in parts if p.friction_before + p.friction / 2 <= half]


def _meeting_sets(
    parts: Sequence[Reach], jacking_force_kn: float, lost_kn_m: float
) -> tuple[AnchorSet, AnchorSet]:
    """Two sets that share the tendon, and the place where they meet.

    Each side takes the same draw-in, and the force is one where they meet.
    """
    low, high = 0.0, float(len(parts))
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        (one_kn_m, one_m), (other_kn_m, other_m) = _sides(parts, middle)
        one_kn_m = jacking_force_kn * one_kn_m - lost_kn_m
        other_kn_m = jacking_force_kn * other_kn_m - lost_kn_m
        if one_kn_m * other_m < other_kn_m * one_m:
            low = middle
        else:
            high = middle
    return _shared(parts, high, jacking_force_kn, lost_kn_m)


def _shared(
    parts: Sequence[Reach], place: float, jacking_force_kn: float, lost_kn_m: float
) -> tuple[AnchorSet, AnchorSet]:
    """The two sets once their meeting place is known."""
    near, _ = _split(parts, place)
    friction, length = total_friction(near), total_length_m(near)
    (one_kn_m, one_m), (other_kn_m, other_m) = _sides(parts, place)
    peak_kn = (jacking_force_kn * (one_kn_m + other_kn_m) - 2 * lost_kn_m) / (
        one_m + other_m
    )
    return (
        AnchorSet(length_m=length, anchor_force_kn=peak_kn * math.exp(-friction)),
        AnchorSet(
            length_m=total_length_m(parts) - length,
            anchor_force_kn=peak_kn * math.exp(friction - total_friction(parts)),
        ),
    )


def _sides(
    parts: Sequence[Reach], place: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Either side of a place: force before over P0, and after over the peak's force."""
    near, far = _split(parts, place)
    lost = friction_lost(parts, 2)
    peak = total_friction(near)
    return (
        (integral_m(near, lambda x: -lost(x)), integral_m(near, lambda x: x - peak)),
        (integral_m(far, lambda x: -lost(x)), integral_m(far, lambda x: peak - x)),
    )


def _split(parts: Sequence[Reach], place: float) -> tuple[list[Reach], list[Reach]]:
    """The tendon cut at a place: whole pieces, then a part of the next."""
    index = min(int(place), len(parts) - 1)
    one, other = cut(parts[index], place - index)
    return [*parts[:index], one], [other, *parts[index + 1 :]]
