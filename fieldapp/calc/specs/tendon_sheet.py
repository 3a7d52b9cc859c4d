"""The calculation sheet of tendon: friction by parts, extension, set."""

import math
from typing import Any

from fieldapp.calc.bars import axial_kn_per_mm_m
from fieldapp.calc.calculation import Values
from fieldapp.calc.figures import figure, listed
from fieldapp.calc.sketch import Dot, Sketch, Stroke
from fieldapp.calc.tendon import (
    PER_ANGLE,
    Friction,
    Piece,
    Reach,
    cut,
    friction_lost,
    integral_m,
    reaches,
    split_where_ends_meet,
    total_length_m,
)
from fieldapp.calc.tendon_set import AnchorSet, force_after_set_kn
from fieldapp.calc.working import Grid, Note, Part, Step

Row = tuple[float, float, float, float, float, float, float]


def steps(values: Values, answer: Values) -> tuple[Part, ...]:
    """Friction, forces and extension by parts, strand in the jack, set."""
    stretch = axial_kn_per_mm_m(values["area_mm2"], values["modulus_gpa"])
    rows = _rows(values, answer, stretch)
    return (
        _friction_note(values["friction"]),
        Step(
            what="force for one millimetre on one metre",
            formula="c = A E / 1000",
            numbers=f"{figure(values['area_mm2'])} × {figure(values['modulus_gpa'])}"
            " / 1000",
            result=f"{figure(stretch)} kN per mm/m",
        ),
        _part_grid(rows),
        Step(
            what="extension at jacking force, before draw-in"
            + (", both ends added" if values["ends"] == 2 else ""),
            formula="e = Σ P (1 − exp(−X)) L / (X c), P at the part's jacked end",
            numbers=" + ".join(figure(row[4]) for row in rows[1:]),
            result=f"{figure(answer['extension_mm'])} mm",
        ),
        _jack_step(values, answer, stretch),
        *_set_steps(values, answer, stretch, rows),
    )


def tendon_reaches(values: Values) -> tuple[Reach, ...]:
    """The pieces with their friction, from the checked values."""
    pieces = tuple(Piece(**piece) for piece in values["pieces"])
    return reaches(pieces, Friction(**values["friction"]))


def _friction_note(friction: dict[str, Any]) -> Note:
    mu, k = figure(friction["mu"]), figure(friction["k_per_m"])
    if friction["form"] == PER_ANGLE:
        form = f"X = μ (α + k L) = {mu} (α + {k} L)"
    else:
        form = f"X = μ α + k L = {mu} α + {k} L"
    return Note(
        text=f"Friction of a piece, {friction['form']}: {form}; P = P0 exp(−X)."
    )


def _rows(values: Values, answer: Values, stretch: float) -> list[Row]:
    """At each end of a part: place, length, X, P jacked, extension, P after, area."""
    pieces, sets = tendon_reaches(values), _sets(answer)
    parts = _cut_at_sets(pieces, sets)
    force, lost = values["jacking_force_kn"], friction_lost(pieces, len(sets))
    after = force_after_set_kn(parts, sets, force)
    rows = [(0.0, 0.0, 0.0, force, 0.0, after[0], 0.0)]
    for part, left in zip(parts, after[1:], strict=True):
        drawn = force * integral_m((part,), lambda x: -lost(x)) / stretch
        jacked = force * math.exp(-lost(part.friction_before + part.friction))
        end = part.start_m + part.length_m
        area = drawn * stretch - part.length_m * _mean_kn(rows[-1][5], left)
        row = (end, part.length_m, part.friction, jacked, drawn, left)
        # Where both forces are the same, rounding leaves an area that is none.
        rows.append((*row, area if area > 1e-9 * drawn * stretch else 0.0))
    return rows


def _mean_kn(one_kn: float, other_kn: float) -> float:
    """Mean of a force that rises or falls as an exponential, from its two ends."""
    if math.isclose(one_kn, other_kn, rel_tol=1e-9):
        return (one_kn + other_kn) / 2
    return (one_kn - other_kn) / math.log(one_kn / other_kn)


def _cut_at_sets(pieces: tuple[Reach, ...], sets: tuple[AnchorSet, ...]) -> list[Reach]:
    """The pieces, cut where the jacks' friction is alike and where a set ends."""
    parts = list(split_where_ends_meet(pieces) if len(sets) == 2 else pieces)
    whole = total_length_m(pieces)
    places = [sets[0].length_m] + [whole - one.length_m for one in sets[1:]]
    for place in places:
        parts = [
            half
            for part in parts
            for half in _cut_at(part, place, shortest=1e-6 * whole)
        ]
    return parts


def _cut_at(part: Reach, place_m: float, *, shortest: float) -> tuple[Reach, ...]:
    before = place_m - part.start_m
    if shortest < before < part.length_m - shortest:
        return cut(part, before / part.length_m)
    return (part,)


def _sets(answer: Values) -> tuple[AnchorSet, ...]:
    lengths, anchors = answer["set_length_m"], answer["anchor_force_kn"]
    if not isinstance(lengths, list):
        lengths, anchors = [lengths], [anchors]
    return tuple(
        AnchorSet(length_m=length, anchor_force_kn=anchor)
        for length, anchor in zip(lengths, anchors, strict=True)
    )


def _part_grid(rows: list[Row]) -> Grid:
    return Grid(
        title="Parts from the first jack, cut where a set ends and where two jacks' "
        "friction is alike. At the end of each: P jacked, P' after draw-in; over it: "
        "X, extension e, area ∫(P − P')dx, with ∫P dx = L (Pa − Pb)/ln(Pa/Pb)",
        columns=(
            "at [m]",
            "L [m]",
            "X",
            "P [kN]",
            "e [mm]",
            "P' [kN]",
            "area [kNm]",
        ),
        rows=tuple(tuple(figure(value) for value in row) for row in rows),
    )


def _jack_step(values: Values, answer: Values, stretch: float) -> Step:
    force, length = values["jacking_force_kn"], values["jack_length_m"]
    return Step(
        what="with the strand inside the jack" + ("s" if values["ends"] == 2 else ""),
        formula="e' = e + n P0 Lj / c",
        numbers=f"{figure(answer['extension_mm'])} + {values['ends']} × "
        f"{figure(force)} × {figure(length)} / {figure(stretch)}",
        result=f"{figure(answer['jack_extension_mm'])} mm",
    )


def _set_steps(
    values: Values, answer: Values, stretch: float, rows: list[Row]
) -> tuple[Part, ...]:
    sets, whole = _sets(answer), total_length_m(tendon_reaches(values))
    lost, force = values["draw_in_mm"] * stretch, values["jacking_force_kn"]
    parts: list[Part] = [
        Step(
            what="area that the draw-in takes out of the force diagram, at each end",
            formula="∫(P − P')dx = δ c",
            numbers=f"{figure(values['draw_in_mm'])} × {figure(stretch)}",
            result=f"{figure(lost)} kNm",
        ),
        Step(
            what="length of the set, by trial until the areas of the parts agree",
            formula="Σ ∫(P − P')dx = n δ c, P' = P' anchor × exp(+X) within the set",
            numbers=" + ".join(figure(row[6]) for row in rows[1:])
            + f" = {figure(math.fsum(row[6] for row in rows))}",
            result=f"{listed([one.length_m for one in sets])} m",
        ),
    ]
    if sum(one.length_m for one in sets) >= whole * (1 - 1e-9):
        parts.append(Note(text="The set reaches all of the tendon, friction turned."))
        return (*parts, *(_shared_step(one, lost) for one in sets))
    return (*parts, *(_anchor_step(one, force) for one in sets))


def _anchor_step(one: AnchorSet, jacking_force_kn: float) -> Step:
    exponent = math.log(jacking_force_kn / one.anchor_force_kn)
    return Step(
        what="force at the anchor after draw-in",
        formula="P' anchor = P0 exp(−2 Xs), Xs from the anchor to the end of the set",
        numbers=f"{figure(jacking_force_kn)} × exp(−{figure(exponent)})",
        result=f"{figure(one.anchor_force_kn)} kN",
    )


def _shared_step(one: AnchorSet, lost_kn_m: float) -> Step:
    return Step(
        what="force at the anchor after draw-in, the area being shared out",
        formula="P' anchor so that ∫(P − P')dx = δ c over the set",
        numbers=f"{figure(lost_kn_m)} kNm over {figure(one.length_m)} m",
        result=f"{figure(one.anchor_force_kn)} kN",
    )


def sketch(values: Values, answer: Values) -> Sketch:
    """Force at jacking and after the set, over the length."""
    stretch = axial_kn_per_mm_m(values["area_mm2"], values["modulus_gpa"])
    rows = _rows(values, answer, stretch)
    return Sketch(
        caption="Force [kN] over length from the first jack [m]: jacked, and after set",
        strokes=(
            Stroke(points=tuple((row[0], row[3]) for row in rows), kind="curve"),
            Stroke(points=tuple((row[0], row[5]) for row in rows), kind="limit"),
        ),
        dots=(Dot(at=(answer["least_at_m"], answer["least_force_kn"]), label="least"),),
        one_scale=False,
    )
