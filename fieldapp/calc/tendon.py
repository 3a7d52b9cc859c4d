"""Force and extension along a tendon whose duct takes friction and wobble.

The two customary forms of friction differ by a factor on the wobble and are never
guessed: the caller names one. Everything is exact exponentials; nothing is linearised,
and short or frictionless tendons need no special formula.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldapp.calc.bars import axial_kn_per_mm_m
from fieldapp.calc.refusals import CalcRefusal

PER_ANGLE, PER_LENGTH = "per-angle", "per-length"


@dataclass(frozen=True, slots=True, kw_only=True)
class Friction:
    """Curvature and wobble: exp(-mu (a + k x)) or exp(-(mu a + k x))."""

    mu: float
    k_per_m: float
    form: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part of the tendon from the first jack on; of no length it is a kink."""

    length_m: float
    angle_rad: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A piece with the sum of friction exponents at its start and over it."""

    start_m: float
    length_m: float
    friction_before: float
    friction: float


@dataclass(frozen=True, slots=True, kw_only=True)
class JackedTendon:
    """A tendon at its jacking force: forces at the ends of its pieces, extension."""

    force_kn: tuple[float, ...]
    extension_mm: float
    least_force_kn: float
    least_at_m: float


def reaches(pieces: Sequence[Piece], friction: Friction) -> tuple[Reach, ...]:
    """The pieces as lengths and friction exponents, from the first jack on.

    Source: EN 1992-1-1 (5.45) for `per-angle`; the US and British textbook form for
    `per-length`, where K = mu k.
    """
    found: list[Reach] = []
    start, before = 0.0, 0.0
    for index, piece in enumerate(pieces):
        if not piece.length_m and not piece.angle_rad:
            key = f"pieces[{index}].length_m"
            raise CalcRefusal(key, piece.length_m, "above 0, or 0 with an angle")
        exponent = _exponent(piece, friction)
        found.append(
            Reach(
                start_m=start,
                length_m=piece.length_m,
                friction_before=before,
                friction=exponent,
            )
        )
        start, before = start + piece.length_m, before + exponent
    if not start:
        raise CalcRefusal("pieces", f"{len(pieces)} kinks", "one piece with a length")
    return tuple(found)


def turned(pieces: Sequence[Reach]) -> tuple[Reach, ...]:
    """The same tendon seen from its other end.

    Source: geometry.
    """
    length, friction = total_length_m(pieces), total_friction(pieces)
    return tuple(
        Reach(
            start_m=length - piece.start_m - piece.length_m,
            length_m=piece.length_m,
            friction_before=friction - piece.friction_before - piece.friction,
            friction=piece.friction,
        )
        for piece in reversed(pieces)
    )


def total_length_m(pieces: Sequence[Reach]) -> float:
    """Length of the tendon.

    Source: sum of the pieces.
    """
    return pieces[-1].start_m + pieces[-1].length_m


def total_friction(pieces: Sequence[Reach]) -> float:
    """Friction exponent from one end to the other.

    Source: sum of the pieces.
    """
    return pieces[-1].friction_before + pieces[-1].friction


def jacked_tendon(
    pieces: Sequence[Reach],
    *,
    ends: int,
    jacking_force_kn: float,
    area_mm2: float,
    modulus_gpa: float,
) -> JackedTendon:
    """Forces and extension at jacking; with two ends both are stressed together.

    With two ends the force at a place is the greater of the two ends' profiles, and
    the extension is what both jacks draw out, added.
    Source: P = P0 exp(-X); P L (1 - exp(-X)) / (X A E) for each piece (textbook).
    """
    parts = split_where_ends_meet(pieces) if ends == 2 else tuple(pieces)
    lost = friction_lost(pieces, ends)
    borders = [(0.0, 0.0)]
    borders += [(p.start_m + p.length_m, p.friction_before + p.friction) for p in parts]
    least_at_m, most = max(borders, key=lambda border: lost(border[1]))
    drawn_kn_m = jacking_force_kn * integral_m(parts, lambda x: -lost(x))
    ends_of_pieces = [0.0, *(p.friction_before + p.friction for p in pieces)]
    return JackedTendon(
        force_kn=tuple(jacking_force_kn * math.exp(-lost(x)) for x in ends_of_pieces),
        extension_mm=drawn_kn_m / axial_kn_per_mm_m(area_mm2, modulus_gpa),
        least_force_kn=jacking_force_kn * math.exp(-lost(most)),
        least_at_m=total_length_m(pieces) if ends == 1 else least_at_m,
    )


def friction_lost(pieces: Sequence[Reach], ends: int) -> Callable[[float], float]:
    """Exponent between a place and the jack that rules there, from its exponent.

    Source: the nearer jack rules (textbook).
    """
    whole = total_friction(pieces)
    if ends == 2:
        return lambda exponent: min(exponent, whole - exponent)
    return lambda exponent: exponent


def integral_m(pieces: Sequence[Reach], power: Callable[[float], float]) -> float:
    """Integral of exp(power(X)) over the length; |dpower/dX| is 1 in each piece.

    exp(p) L (1 - exp(-X)) / X, written about the middle: exact where X vanishes.
    Source: integral of an exponential.
    """
    return math.fsum(
        math.exp((power(p.friction_before) + power(p.friction_before + p.friction)) / 2)
        * p.length_m
        * sinhc(p.friction / 2)
        for p in pieces
    )


def split_where_ends_meet(pieces: Sequence[Reach]) -> tuple[Reach, ...]:
    """The pieces, the one cut in which friction from both ends is alike.

    Source: equal friction from both jacks (textbook).
    """
    half = total_friction(pieces) / 2
    parts: list[Reach] = []
    for piece in pieces:
        before = half - piece.friction_before
        if 0 < before < piece.friction:
            parts += cut(piece, before / piece.friction)
        else:
            parts.append(piece)
    return tuple(parts)


def cut(piece: Reach, ratio: float) -> tuple[Reach, Reach]:
    """A piece as two, the first taking this part of its length and friction.

    Source: friction spreads evenly over a piece.
    """
    length, friction = piece.length_m * ratio, piece.friction * ratio
    return (
        Reach(
            start_m=piece.start_m,
            length_m=length,
            friction_before=piece.friction_before,
            friction=friction,
        ),
        Reach(
            start_m=piece.start_m + length,
            length_m=piece.length_m - length,
            friction_before=piece.friction_before + friction,
            friction=piece.friction - friction,
        ),
    )


def jack_strand_mm(
    *,
    jacking_force_kn: float,
    jack_length_m: float,
    area_mm2: float,
    modulus_gpa: float,
) -> float:
    """Extension of the strand inside one jack. Source: F L / (A E)."""
    stretch = axial_kn_per_mm_m(area_mm2, modulus_gpa)
    return jacking_force_kn * jack_length_m / stretch


def sinhc(value: float) -> float:
    """sinh(v)/v, 1 at 0: exact where friction vanishes.

    Source: definition.
    """
    return math.sinh(value) / value if value else 1.0


def _exponent(piece: Piece, friction: Friction) -> float:
    turn = friction.mu * piece.angle_rad
    if friction.form == PER_ANGLE:
        return turn + friction.mu * friction.k_per_m * piece.length_m
    return turn + friction.k_per_m * piece.length_m
