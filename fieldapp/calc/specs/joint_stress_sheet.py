"""The calculation sheet of joint-stress: moments of the bars, plane, corners."""

from typing import Any

from fieldapp.calc.calculation import Values
from fieldapp.calc.figures import figure
from fieldapp.calc.joint_stress import Bar, StressPlane, lose_bars, stress_plane
from fieldapp.calc.section import SectionProperties, section_properties
from fieldapp.calc.sketch import Dot, Sketch
from fieldapp.calc.specs.section import face_sketch, section_steps
from fieldapp.calc.working import Grid, Note, Part, Step

# What rounding leaves of a corner without stress.
NO_STRESS_MPA = 1e-9


def steps(values: Values, answer: Values) -> tuple[Part, ...]:
    """Section, then moments, plane and corners for each state, then the verdict."""
    section = section_properties(values["outline"], values["voids"])
    bars = lose_bars(tuple(Bar(**bar) for bar in values["bars"]), values["lost"])
    parts: list[Part] = [
        *section_steps(values["outline"], values["voids"]),
        _bar_grid(section, bars),
    ]
    for state in values["states"] or [
        {"name": "", "moment_x_knm": 0.0, "moment_y_knm": 0.0}
    ]:
        moment_x = values["moment_x_knm"] + state["moment_x_knm"]
        moment_y = values["moment_y_knm"] + state["moment_y_knm"]
        plane = stress_plane(section, bars, moment_x, moment_y)
        if state["name"]:
            parts.append(Note(text=f"State: {state['name']}"))
        parts += _plane_steps(section, plane, moment_x, moment_y)
        face = answer["states"][state["name"]] if state["name"] else answer
        parts.append(_corner_grid(section, face["corners"], state["name"]))
        parts.append(_spread_step(face))
        parts += _tension_notes(face)
    return (*parts, *_verdict_notes(answer))


def _bar_grid(section: SectionProperties, bars: tuple[Bar, ...]) -> Grid:
    rows = []
    for index, bar in enumerate(bars):
        x, y = bar.x_m - section.centroid_x_m, bar.y_m - section.centroid_y_m
        cells = (bar.force_kn, x, y, bar.force_kn * y, bar.force_kn * x)
        rows.append((str(index), *(figure(cell) for cell in cells)))
    total = stress_plane(section, bars)
    sums = (total.force_kn, total.moment_x_knm, total.moment_y_knm)
    force, about_x, about_y = (figure(value) for value in sums)
    rows.append(("sum", force, "", "", about_x, about_y))
    return Grid(
        title="Bars about the centroid",
        columns=("bar", "F [kN]", "x' [m]", "y' [m]", "F y' [kNm]", "F x' [kNm]"),
        rows=tuple(rows),
    )


def _plane_steps(
    section: SectionProperties, plane: StressPlane, moment_x: float, moment_y: float
) -> tuple[Step, ...]:
    bars_x, bars_y = plane.moment_x_knm - moment_x, plane.moment_y_knm - moment_y
    return (
        Step(
            what="mean stress",
            formula="σm = P / A",
            numbers=f"{figure(plane.force_kn)} / {figure(section.area_m2)} / 1000",
            result=f"{figure(plane.mean_mpa)} MPa",
        ),
        Step(
            what="moment pressing +y",
            formula="Mx = Σ F y' + moment_x",
            numbers=f"{figure(bars_x)} + ({figure(moment_x)})",
            result=f"{figure(plane.moment_x_knm)} kNm",
        ),
        Step(
            what="moment pressing +x",
            formula="My = Σ F x' + moment_y",
            numbers=f"{figure(bars_y)} + ({figure(moment_y)})",
            result=f"{figure(plane.moment_y_knm)} kNm",
        ),
        *_slope_steps(section, plane),
    )


def _slope_steps(section: SectionProperties, plane: StressPlane) -> tuple[Step, ...]:
    mx, my = figure(plane.moment_x_knm), figure(plane.moment_y_knm)
    ix, iy, ixy = (
        figure(value) for value in (section.ixx_m4, section.iyy_m4, section.ixy_m4)
    )
    det = figure(section.ixx_m4 * section.iyy_m4 - section.ixy_m4**2)
    return (
        Step(
            what="determinant",
            formula="D = Ixx Iyy − Ixy²",
            numbers=f"{ix} × {iy} − ({ixy})²",
            result=f"{det} m⁸",
        ),
        Step(
            what="slope of the stress in x",
            formula="b = (My Ixx − Mx Ixy) / D",
            numbers=f"(({my}) × {ix} − ({mx}) × ({ixy})) / {det} / 1000",
            result=f"{figure(plane.slope_x_mpa_per_m)} MPa/m",
        ),
        Step(
            what="slope of the stress in y",
            formula="c = (Mx Iyy − My Ixy) / D",
            numbers=f"(({mx}) × {iy} − ({my}) × ({ixy})) / {det} / 1000",
            result=f"{figure(plane.slope_y_mpa_per_m)} MPa/m",
        ),
    )


def _corner_grid(
    section: SectionProperties, corners: list[dict[str, Any]], state: str
) -> Grid:
    rows = tuple(
        (
            figure(corner["x_m"]),
            figure(corner["y_m"]),
            figure(corner["x_m"] - section.centroid_x_m),
            figure(corner["y_m"] - section.centroid_y_m),
            figure(corner["stress_mpa"]),
        )
        for corner in corners
    )
    return Grid(
        title="Corners: σ = σm + b x' + c y'" + (f" — {state}" if state else ""),
        columns=("x [m]", "y [m]", "x' [m]", "y' [m]", "σ [MPa]"),
        rows=rows,
    )


def _spread_step(face: Values) -> Step:
    return Step(
        what="spread over the face",
        formula="σmax − σmin",
        numbers=f"{figure(face['max_mpa'])} − ({figure(face['min_mpa'])})",
        result=f"{figure(face['spread_mpa'])} MPa",
    )


def _tension_notes(face: Values) -> list[Note]:
    """The plane holds only where the whole face is pressed: say where it is not."""
    corners = face["corners"]
    pulled = [c for c in corners if c["stress_mpa"] < -NO_STRESS_MPA]
    if not pulled:
        return []
    most = min(pulled, key=lambda corner: corner["stress_mpa"])
    place = f"({figure(most['x_m'])}, {figure(most['y_m'])})"
    return [
        Note(
            text=f"TENSION at {len(pulled)} of {len(corners)} corners, the most at "
            f"{place}: a joint that cannot pull opens there, and the plane of stress "
            "no longer holds."
        )
    ]


def _verdict_notes(answer: Values) -> list[Part]:
    if "ok" not in answer:
        return [Note(text="No limits given: nothing is judged.")]
    if answer["ok"]:
        return [Note(text="All limits and caps given are met, in every state.")]
    return [Note(text=f"NOT MET — {reason}") for reason in answer["reasons"]]


def sketch(values: Values, answer: Values) -> Sketch:
    """The face with its bars by number and the signs of the moments."""
    section = section_properties(values["outline"], values["voids"])
    lost = values["lost"]
    dots = tuple(
        Dot(
            at=(bar["x_m"], bar["y_m"]),
            label=f"{index} lost" if index in lost else str(index),
        )
        for index, bar in enumerate(values["bars"])
    )
    least = min(answer["corners"], key=lambda corner: corner["stress_mpa"])
    return face_sketch(
        values["outline"],
        values["voids"],
        (section.centroid_x_m, section.centroid_y_m),
        caption="Face with bars by number, looking along the numbering; metres",
        dots=dots,
        notes=(
            (
                "Compression positive. Positive Mx presses the +y side, positive My "
                "the +x side; hung weight is a negative Mx."
            ),
            (
                f"Least stress {figure(least['stress_mpa'])} MPa at "
                f"({figure(least['x_m'])}, {figure(least['y_m'])})."
            ),
        ),
    )
