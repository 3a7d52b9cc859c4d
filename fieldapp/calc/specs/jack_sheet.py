"""The calculation sheet of jack: line by least squares, reading, mark."""

import math
from itertools import pairwise

from fieldapp.calc.calculation import Values
from fieldapp.calc.figures import figure, signed
from fieldapp.calc.sketch import Dot, Sketch, Stroke
from fieldapp.calc.working import Grid, Note, Part, Step


def steps(values: Values, answer: Values) -> tuple[Part, ...]:
    """The fitted line and its departures, what is asked, and the mark to set."""
    if values["calibration"] is None:
        return _ram_steps(values, answer)
    slope, intercept = figure(answer["slope"]), figure(answer["intercept"])
    shift = signed(answer["intercept"])
    if (pressure := values["pressure_bar"]) is not None:
        asked = Step(
            what="force on the line",
            formula="F = m p + c",
            numbers=f"{slope} × {figure(pressure)} {shift}",
            result=f"{figure(answer['force_kn'])} kN",
        )
    else:
        asked = Step(
            what="pressure on the line",
            formula="p = (F − c) / m",
            numbers=f"({figure(values['force_kn'])} − ({intercept})) / {slope}",
            result=f"{figure(answer['pressure_bar'])} bar",
        )
    return (
        *_fit_parts(values, answer),
        asked,
        _between_step(values, answer),
        *_mark_steps(answer, slope, shift),
    )


def _between_step(values: Values, answer: Values) -> Step:
    """The same between the two certified points around what is asked."""
    by_pressure = values["pressure_bar"] is not None
    asked = values["pressure_bar"] if by_pressure else values["force_kn"]
    points = values["calibration"]
    if not by_pressure:
        points = tuple((force, pressure) for pressure, force in points)
    low, high = next(
        pair for pair in pairwise(points) if pair[0][0] <= asked <= pair[1][0]
    )
    a, b, c, d = (figure(value) for value in (*low, *high))
    letters = ("F", "p") if by_pressure else ("p", "F")
    return Step(
        what="beside it, straight between two certified points",
        formula="{0} = {0}1 + ({0}2 − {0}1)({1} − {1}1)/({1}2 − {1}1)".format(*letters),
        numbers=f"{b} + ({d} − {b})({figure(asked)} − {a})/({c} − {a})",
        result=f"{figure(answer['interpolated'])} {'kN' if by_pressure else 'bar'}",
    )


def _ram_steps(values: Values, answer: Values) -> tuple[Part, ...]:
    area = figure(values["ram_area_cm2"])
    if (pressure := values["pressure_bar"]) is not None:
        step = Step(
            what="ideal force",
            formula="F = p A / 100",
            numbers=f"{figure(pressure)} × {area} / 100",
            result=f"{figure(answer['force_kn'])} kN",
        )
    else:
        step = Step(
            what="ideal pressure",
            formula="p = 100 F / A",
            numbers=f"100 × {figure(values['force_kn'])} / {area}",
            result=f"{figure(answer['pressure_bar'])} bar",
        )
    return (step, Note(text="NOT CERTIFIED: from the ram's area, friction left out."))


def _fit_parts(values: Values, answer: Values) -> tuple[Part, ...]:
    points, slope = values["calibration"], answer["slope"]
    mean_p = math.fsum(p for p, _ in points) / len(points)
    mean_f = math.fsum(f for _, f in points) / len(points)
    spp = math.fsum((p - mean_p) ** 2 for p, _ in points)
    spf = math.fsum((p - mean_p) * (f - mean_f) for p, f in points)
    return (
        Step(
            what="slope by least squares",
            formula="m = Σ(p − p̄)(F − F̄) / Σ(p − p̄)²",
            numbers=f"{figure(spf)} / {figure(spp)}",
            result=f"{figure(slope)} kN/bar",
        ),
        Step(
            what="intercept",
            formula="c = F̄ − m p̄",
            numbers=f"{figure(mean_f)} − {figure(slope)} × {figure(mean_p)}",
            result=f"{figure(answer['intercept'])} kN",
        ),
        *_departures(points, answer),
    )


def _departures(
    points: tuple[tuple[float, float], ...], answer: Values
) -> tuple[Part, ...]:
    lines = [answer["slope"] * p + answer["intercept"] for p, _ in points]
    rows = tuple(
        (figure(p), figure(f), figure(line), figure(f - line))
        for (p, f), line in zip(points, lines, strict=True)
    )
    worst = max(abs(f - line) for (_, f), line in zip(points, lines, strict=True))
    return (
        Grid(
            title="Certified points and the line",
            columns=("p [bar]", "F [kN]", "line [kN]", "departure [kN]"),
            rows=rows,
        ),
        Step(
            what="largest departure, of the largest certified force",
            formula="max |F − m p − c| / max F × 100",
            numbers=f"{figure(worst)} / {figure(points[-1][1])} × 100",
            result=f"{figure(answer['fit_residual_percent'])} %",
        ),
    )


def _mark_steps(answer: Values, slope: str, shift: str) -> tuple[Step, ...]:
    if "set_pressure_bar" not in answer:
        return ()
    return (
        Step(
            what="force at the nearest mark of the gauge inside the certificate",
            formula="F = m p + c",
            numbers=f"{slope} × {figure(answer['set_pressure_bar'])} {shift}",
            result=f"{figure(answer['set_force_kn'])} kN",
        ),
    )


def sketch(values: Values, answer: Values) -> Sketch:
    """The certified points and the place asked for."""
    pressure = values["pressure_bar"] or answer["pressure_bar"]
    force = values["force_kn"] or answer["force_kn"]
    points = values["calibration"] or ((0.0, 0.0), (pressure, force))
    return Sketch(
        caption="Force [kN] over pressure [bar]",
        strokes=(Stroke(points=tuple(points), kind="curve"),),
        dots=(Dot(at=(pressure, force), label="asked"),),
        one_scale=False,
    )
