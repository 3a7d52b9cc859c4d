"""The joint's face: its shape with measures, or with bars and stresses in a state.

Looking along the numbering, x right and y up, at one scale. Compression is positive.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.calc.calculation import Values
from fieldapp.calc.joint_stress import Bar, StressPlane, lose_bars, stress_plane
from fieldapp.calc.section import SectionProperties, section_properties
from fieldapp.web.calculations.pictures.canvas import (
    WIDTH,
    Drawing,
    Point,
    Shape,
    arrow,
    disc,
    line,
    through,
    within,
    word,
)
from fieldapp.web.calculations.pictures.labels import Labels, around
from fieldapp.web.calculations.pictures.stress_scale import (
    across,
    gradient,
    scale_bar,
    zero_line,
)
from fieldapp.web.calculations.units import read

SIDE, ABOVE, TALLEST = 86.0, 34.0, 260.0
MARK = 9.5


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """How metres of the face come onto the picture."""

    left: float
    top: float
    scale: float
    x_shift: float
    height: float

    @property
    def foot(self) -> float:
        """Where the face ends, downwards."""
        return ABOVE + self.height

    def at(self, point: Point) -> Point:
        """Give the place of a point of the face."""
        x = self.x_shift + (point[0] - self.left) * self.scale
        return x, ABOVE + (self.top - point[1]) * self.scale


def view_of(outline: Sequence[Point]) -> View:
    """Fit a face between the margins."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((WIDTH - 2 * SIDE) / wide, TALLEST / tall)
    return View(
        left=min(xs),
        top=max(ys),
        scale=scale,
        x_shift=(WIDTH - wide * scale) / 2,
        height=tall * scale,
    )


def section(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the face with its width, its depth and its centroid."""
    outline, view = values["outline"], view_of(values["outline"])
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    (left, top), (right, foot) = (
        view.at((min(xs), max(ys))),
        view.at((max(xs), min(ys))),
    )
    centre = (answer["centroid_x_m"], answer["centroid_y_m"])
    name = f"C ({read(centre[0])}, {read(centre[1])})"
    yield Drawing(
        title="The face, looking along the numbering, metres",
        told=f"Outline {read(wide)} m wide and {read(tall)} m deep with "
        f"{len(values['voids'])} voids, centroid at x {read(centre[0])}, "
        f"y {read(centre[1])} m, area {read(answer['area_m2'])} m².",
        height=view.foot + 78,
        shapes=(
            *_body(view, outline, values["voids"], "face"),
            *_measured((left, foot + 26), (right, foot + 26), f"{read(wide)} m"),
            *_measured((left - 26, foot), (left - 26, top), f"{read(tall)} m"),
            *_cross(view.at(centre)),
            word((view.at(centre)[0] + 9, view.at(centre)[1] - 9), name, "strong"),
            *_directions(view),
        ),
    )  # fmt: skip


def joint_stress(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the face once in each state, all in the same colours for a stress."""
    outline = values["outline"]
    body = section_properties(outline, values["voids"])
    bars = lose_bars(tuple(Bar(**bar) for bar in values["bars"]), values["lost"])
    states = answer.get("states") or {"": answer}
    corners = [c["stress_mpa"] for one in states.values() for c in one["corners"]]
    most = max(abs(stress) for stress in corners) or 1.0
    loads = {one["name"]: one for one in values["states"] or ()}
    for index, (name, state) in enumerate(states.items()):
        load = loads.get(name, {"moment_x_knm": 0.0, "moment_y_knm": 0.0})
        moments = (values[key] + load[key] for key in ("moment_x_knm", "moment_y_knm"))
        plane = stress_plane(body, bars, *moments)
        yield _state(values, state, name, _Face(body, plane, most, f"stress-{index}"))


@dataclass(frozen=True, slots=True)
class _Face:
    body: SectionProperties
    plane: StressPlane
    most_mpa: float
    fill: str


def _state(values: Values, state: Values, name: str, face: _Face) -> Drawing:
    view = view_of(values["outline"])
    centre = (face.body.centroid_x_m, face.body.centroid_y_m)
    ends = (state["min_mpa"], state["max_mpa"])
    along = across(view.at, centre, face.plane, ends)
    labels = Labels(width=WIDTH)
    marks = tuple(_bars(view, values, labels))
    dots = tuple(_corners(view, state["corners"], view.at(centre), labels))
    return Drawing(
        title=f"Stress on the face{f', {name}' if name else ''}, MPa",
        told=_told(values, state),
        height=view.foot + 92,
        shapes=(
            gradient(face.fill, along, ends, face.most_mpa),
            *_body(view, values["outline"], values["voids"], "bare", face.fill),
            *zero_line([view.at((c["x_m"], c["y_m"])) for c in state["corners"]],
                       [c["stress_mpa"] for c in state["corners"]]),
            *_cross(view.at(centre)),
            *marks,
            *dots,
            *labels.shapes,
            *scale_bar(f"{face.fill}-scale", ends, face.most_mpa,
                       (SIDE, view.foot + 44), WIDTH - 2 * SIDE),
            *_directions(view),
        ),
        notes=tuple(_state_notes(values, state)),
    )  # fmt: skip


def _told(values: Values, state: Values) -> str:
    corners = "; ".join(
        f"x {read(c['x_m'])}, y {read(c['y_m'])}: {read(c['stress_mpa'])}"
        for c in state["corners"][:16]
    )
    return (
        f"{len(values['bars'])} bars. Mean {read(state['mean_mpa'])}, least "
        f"{read(state['min_mpa'])}, greatest {read(state['max_mpa'])} MPa, compression "
        f"positive. Corners: {corners}."
    )


def _state_notes(values: Values, state: Values) -> Iterator[str]:
    yield (
        f"Mean {read(state['mean_mpa'])} MPa, least {read(state['min_mpa'])}, "
        f"greatest {read(state['max_mpa'])}. Compression positive, tension negative."
    )
    if state["min_mpa"] < 0:
        yield "Part of the face is in tension, beyond the dashed line."
    over = [
        str(index)
        for index, bar in enumerate(values["bars"])
        if bar["cap_kn"] is not None
        and bar["force_kn"] > bar["cap_kn"]
        and index not in values["lost"]
    ]
    if over:
        yield f"Above its cap: bar {', '.join(over)}."


def _body(
    view: View, outline: Any, voids: Any, pen: str, fill: str = ""
) -> Iterator[Shape]:
    rings = [[view.at(p) for p in ring] for ring in (outline, *voids)]
    yield through(rings, pen, closed=True, fill=f"url(#{fill})" if fill else "")


def _bars(view: View, values: Values, labels: Labels) -> Iterator[Shape]:
    for index, bar in enumerate(values["bars"]):
        at = view.at((bar["x_m"], bar["y_m"]))
        labels.keep_clear(at, MARK)
        yield disc(at, MARK, "ring")
        if index in values["lost"]:
            yield line((at[0] - 8, at[1] + 8), (at[0] + 8, at[1] - 8), "arrow")
        yield word((at[0], at[1] + 4.5), str(index), "words", "middle")


def _corners(
    view: View, corners: Sequence[Any], centre: Point, labels: Labels
) -> Iterator[Shape]:
    ranked = sorted(corners, key=lambda c: float(c["stress_mpa"]))
    # The extremes first, so that they are the ones that find room.
    for corner in [ranked[0], ranked[-1], *ranked[1:-1]]:
        at, stress = view.at((corner["x_m"], corner["y_m"])), corner["stress_mpa"]
        yield disc(at, 3.5, "bad" if stress < 0 else "dot")
        sign = "+" if stress > 0 else ""
        pen = "alarm" if stress < 0 else "strong"
        labels.put(f"{sign}{read(stress)}", around(at, centre), pen)


def _cross(at: Point) -> tuple[Shape, ...]:
    x, y = at
    return line((x - 7, y), (x + 7, y), "axis"), line((x, y - 7), (x, y + 7), "axis")


def _directions(view: View) -> tuple[Shape, ...]:
    x, y = 12.0, view.foot + 58
    return (
        *arrow((x, y), (x + 24, y)),
        *arrow((x, y), (x, y - 24)),
        word((x + 27, y + 4), "+x", "words"),
        word((x - 6, y - 28), "+y", "words"),
    )


def _measured(start: Point, end: Point, text: str) -> tuple[Shape, ...]:
    """Draw a measure between two places, its words in the middle."""
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    level = start[1] == end[1]
    at = (middle[0], middle[1] + 17) if level else (middle[0] - 5, middle[1] + 4)
    return (
        *arrow(middle, start),
        *arrow(middle, end),
        word(at, within(text, SIDE), "words", "middle" if level else "end"),
    )
