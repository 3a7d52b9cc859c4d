"""section: area, centroid and second moments of a face with its voids."""

from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import Field, Record
from fieldapp.calc.polygon import Polygon
from fieldapp.calc.section import SectionProperties, section_properties
from fieldapp.calc.sketch import Dot, Sketch, Stroke, axes, corners_of
from fieldapp.calc.specs.kinds import POLYGON, VOIDS
from fieldapp.calc.working import Grid, Part, Step

FACE_FIELDS = (
    Field(
        key="outline",
        kind=POLYGON,
        what="outline of the face",
        proof="the segment's drawing",
    ),
    Field(
        key="voids",
        kind=VOIDS,
        what="void",
        proof="the segment's drawing",
        optional=True,
        default=(),
        default_source="default: no void",
    ),
)
FACE_RULES = (
    (
        "x to the right, y up, looking along the numbering; either way round, the "
        "first point not repeated."
    ),
    (
        "An outline that crosses or touches itself, and a void outside or over "
        "another, are refused; a void may touch."
    ),
)


def _solve(values: Values) -> Values:
    return as_answer(section_properties(values["outline"], values["voids"]))


def as_answer(section: SectionProperties) -> dict[str, Any]:
    """The properties under the keys of the answer."""
    return {
        "area_m2": section.area_m2,
        "centroid_x_m": section.centroid_x_m,
        "centroid_y_m": section.centroid_y_m,
        "ixx_m4": section.ixx_m4,
        "iyy_m4": section.iyy_m4,
        "ixy_m4": section.ixy_m4,
    }


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    del answer
    return section_steps(values["outline"], values["voids"])


def section_steps(outline: Polygon, voids: tuple[Polygon, ...]) -> tuple[Part, ...]:
    """The table of parts a checker would add up: outline less voids."""
    whole = section_properties(outline, voids)
    parts = [("outline", 1, section_properties(outline))]
    parts += [(f"void {i}", -1, section_properties(v)) for i, v in enumerate(voids)]
    return (
        _own_grid(parts),
        _area_step(parts, whole.area_m2),
        _centroid_step("x", "x̄", whole.centroid_x_m, parts, whole.area_m2),
        _centroid_step("y", "ȳ", whole.centroid_y_m, parts, whole.area_m2),
        _moved_grid(parts, whole),
    )


def _own_grid(parts: list[tuple[str, int, SectionProperties]]) -> Grid:
    rows = tuple(
        (
            name,
            figure(sign * p.area_m2),
            figure(p.centroid_x_m),
            figure(p.centroid_y_m),
            figure(sign * p.ixx_m4),
            figure(sign * p.iyy_m4),
            figure(sign * p.ixy_m4),
        )
        for name, sign, p in parts
    )
    return Grid(
        title="Parts by the sums over their sides: A = Σc/2, x = Σ(x0 + x1)c/6A, "
        "y = Σ(y0 + y1)c/6A, Ixx = Σ(y0² + y0 y1 + y1²)c/12, Iyy = Σ(x0² + x0 x1 + "
        "x1²)c/12, Ixy = Σ(x0 y1 + 2 x0 y0 + 2 x1 y1 + x1 y0)c/24, c = x0 y1 − x1 y0; "
        "Ixx, Iyy, Ixy about the part's own centroid",
        columns=(
            "part",
            "A [m²]",
            "x [m]",
            "y [m]",
            "Ixx [m⁴]",
            "Iyy [m⁴]",
            "Ixy [m⁴]",
        ),
        rows=rows,
    )


def _area_step(parts: list[tuple[str, int, SectionProperties]], area_m2: float) -> Step:
    terms = " ".join(
        f"{'+' if sign > 0 else '−'} {figure(p.area_m2)}" for _, sign, p in parts
    )
    return Step(
        what="area",
        formula="A = A outline − Σ A voids",
        numbers=terms.removeprefix("+ "),
        result=f"{figure(area_m2)} m²",
    )


def _centroid_step(
    axis: str,
    symbol: str,
    value: float,
    parts: list[tuple[str, int, SectionProperties]],
    area: float,
) -> Step:
    terms = " ".join(
        f"{'+' if sign > 0 else '−'} {figure(p.area_m2)} × ({figure(centre)})"
        for _, sign, p in parts
        for centre in [p.centroid_x_m if axis == "x" else p.centroid_y_m]
    )
    return Step(
        what=f"centroid in {axis}",
        formula=f"{symbol} = Σ A {axis} / Σ A",
        numbers=f"({terms.removeprefix('+ ')}) / {figure(area)}",
        result=f"{figure(value)} m",
    )


def _moved_grid(
    parts: list[tuple[str, int, SectionProperties]], whole: SectionProperties
) -> Grid:
    rows = []
    for name, sign, p in parts:
        dx, dy = (
            p.centroid_x_m - whole.centroid_x_m,
            p.centroid_y_m - whole.centroid_y_m,
        )
        moved = (
            p.ixx_m4 + p.area_m2 * dy**2,
            p.iyy_m4 + p.area_m2 * dx**2,
            p.ixy_m4 + p.area_m2 * dx * dy,
        )
        rows.append(
            (name, figure(dx), figure(dy), *(figure(sign * value) for value in moved))
        )
    totals = (whole.ixx_m4, whole.iyy_m4, whole.ixy_m4)
    rows.append(("sum", "", "", *(figure(total) for total in totals)))
    return Grid(
        title="Moved to the common centroid: Ixx + A dy², Iyy + A dx², Ixy + A dx dy",
        columns=("part", "dx [m]", "dy [m]", "Ixx [m⁴]", "Iyy [m⁴]", "Ixy [m⁴]"),
        rows=tuple(rows),
    )


def _sketch(values: Values, answer: Values) -> Sketch:
    centroid = (answer["centroid_x_m"], answer["centroid_y_m"])
    return face_sketch(
        values["outline"],
        values["voids"],
        centroid,
        caption="Face, looking along the numbering; x right, y up, metres",
    )


def face_sketch(
    outline: Polygon,
    voids: tuple[Polygon, ...],
    centroid: tuple[float, float],
    *,
    caption: str,
    dots: tuple[Dot, ...] = (),
    notes: tuple[str, ...] = (),
) -> Sketch:
    """Outline, voids, centroid, and the positive directions at the centroid."""
    strokes = [Stroke(points=outline, closed=True)]
    strokes += [Stroke(points=void, kind="void", closed=True) for void in voids]
    (low, _), (high, _) = corners_of(Sketch(caption="", strokes=tuple(strokes)))
    return Sketch(
        caption=caption,
        strokes=tuple(strokes),
        dots=(Dot(at=centroid, label="C"), *dots),
        arrows=axes(centroid, (high - low) / 8),
        notes=notes,
    )


CALCULATION = Calculation(
    name="section",
    title="Section properties of a joint's face",
    purpose="Area, centroid, second moments and product of inertia, voids taken out.",
    inputs=Record(fields=FACE_FIELDS),
    outputs=(
        Output(key="area_m2", what="area", unit="m²"),
        Output(key="centroid_x_m", what="centroid x", unit="m"),
        Output(key="centroid_y_m", what="centroid y", unit="m"),
        Output(key="ixx_m4", what="∫y² dA about the centroid", unit="m⁴"),
        Output(key="iyy_m4", what="∫x² dA about the centroid", unit="m⁴"),
        Output(key="ixy_m4", what="∫xy dA about the centroid", unit="m⁴"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=FACE_RULES,
    sources=("Green's theorem over the sides of a polygon (textbook).",),
    example={
        "outline": [[0, 0], [4, 0], [4, 2], [0, 2]],
        "voids": [[[0.35, 0.35], [3.65, 0.35], [3.65, 1.65], [0.35, 1.65]]],
    },
)
