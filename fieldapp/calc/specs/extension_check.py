"""extension-check: measured against calculated extension of a tendon."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.extension_check import (
    FEWEST_READINGS,
    adjusted_extension_mm,
    extension_verdict,
    measured_extension,
)
from fieldapp.calc.figures import figure, signed
from fieldapp.calc.inputs import (
    ZERO_OR_ABOVE,
    Field,
    ListOf,
    Number,
    Record,
    Row,
    all_or_none,
)
from fieldapp.calc.sketch import Dot, Sketch, Stroke
from fieldapp.calc.specs.kinds import AREA_MM2, MODULUS_GPA
from fieldapp.calc.working import Grid, Part, Step

REEL = (
    "area_nominal_mm2",
    "area_actual_mm2",
    "modulus_nominal_gpa",
    "modulus_actual_gpa",
)
READING = Row(
    names=("force_percent", "extension_mm"),
    numbers=(
        Number(unit="%", sign=ZERO_OR_ABOVE),
        Number(unit="mm", sign=ZERO_OR_ABOVE),
    ),
)


def _rules(given: Mapping[str, Any]) -> None:
    all_or_none(given, REEL)


def _solve(values: Values) -> Values:
    measured = measured_extension(values["readings"])
    adjusted = _adjusted_mm(values)
    verdict = extension_verdict(
        measured_mm=measured.measured_mm,
        calculated_mm=adjusted,
        band_percent=values["band_percent"],
        band_floor_mm=values["band_floor_mm"],
    )
    return {
        "measured_mm": measured.measured_mm,
        "two_point_mm": measured.two_point_mm,
        "adjusted_calculated_mm": adjusted,
        "difference_percent": verdict.difference_percent,
        "residual_mm": measured.residual_mm,
        "band_mm": verdict.band_mm,
        "ok": verdict.ok,
    }


def _adjusted_mm(values: Values) -> float:
    calculated: float = values["calculated_mm"]
    if values["area_actual_mm2"] is None:
        return calculated
    return adjusted_extension_mm(
        calculated_mm=calculated, **{key: values[key] for key in REEL}
    )


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    readings = values["readings"]
    measured = measured_extension(readings)
    first, last = readings[0], readings[-1]
    (f1, e1), (f2, e2) = ([figure(part) for part in row] for row in (first, last))
    slope = measured.measured_mm / 100
    return (
        Step(
            what="slope of extension on force by least squares",
            formula="m = Σ(f − f̄)(e − ē) / Σ(f − f̄)²",
            numbers=_sums(readings),
            result=f"{figure(slope)} mm per %",
        ),
        Step(
            what="measured extension, slack taken out",
            formula="e = 100 m",
            numbers=f"100 × {figure(slope)}",
            result=f"{figure(measured.measured_mm)} mm",
        ),
        Step(
            what="the line at no force, which no longer counts",
            formula="c = ē − m f̄",
            numbers=_means(readings, slope),
            result=f"{figure(measured.intercept_mm)} mm",
        ),
        _reading_grid(readings, slope, measured.intercept_mm),
        Step(
            what="largest departure of a reading from the line",
            formula="max |e − m f − c|",
            numbers="largest of the last column, without its sign",
            result=f"{figure(measured.residual_mm)} mm",
        ),
        Step(
            what="by the first and last reading alone",
            formula="e = 100 (e2 − e1)/(f2 − f1)",
            numbers=f"100 × ({e2} − {e1})/({f2} − {f1})",
            result=f"{figure(measured.two_point_mm)} mm",
        ),
        *_adjusted_steps(values, answer),
        *_verdict_steps(values, answer),
    )


def _means(readings: tuple[tuple[float, float], ...], slope: float) -> str:
    mean_f = sum(f for f, _ in readings) / len(readings)
    mean_e = sum(e for _, e in readings) / len(readings)
    return f"{figure(mean_e)} − {figure(slope)} × {figure(mean_f)}"


def _sums(readings: tuple[tuple[float, float], ...]) -> str:
    count = len(readings)
    mean_f = sum(f for f, _ in readings) / count
    mean_e = sum(e for _, e in readings) / count
    sff = sum((f - mean_f) ** 2 for f, _ in readings)
    sfe = sum((f - mean_f) * (e - mean_e) for f, e in readings)
    return f"{figure(sfe)} / {figure(sff)}"


def _reading_grid(
    readings: tuple[tuple[float, float], ...], slope: float, intercept: float
) -> Grid:
    rows = tuple(
        (
            figure(force),
            figure(extension),
            figure(slope * force + intercept),
            figure(extension - slope * force - intercept),
        )
        for force, extension in readings
    )
    return Grid(
        title=f"Readings and the line e = {figure(slope)} f {signed(intercept)}",
        columns=("f [%]", "e [mm]", "line [mm]", "departure [mm]"),
        rows=rows,
    )


def _adjusted_steps(values: Values, answer: Values) -> tuple[Step, ...]:
    if values["area_actual_mm2"] is None:
        return ()
    v = {key: figure(values[key]) for key in ("calculated_mm", *REEL)}
    return (
        Step(
            what="calculated extension with the reel's own area and modulus",
            formula="ec' = ec (A E nominal)/(A E actual)",
            numbers=(
                f"{v['calculated_mm']} × {v['area_nominal_mm2']} × "
                f"{v['modulus_nominal_gpa']} / ({v['area_actual_mm2']} × "
                f"{v['modulus_actual_gpa']})"
            ),
            result=f"{figure(answer['adjusted_calculated_mm'])} mm",
        ),
    )


def _verdict_steps(values: Values, answer: Values) -> tuple[Step, ...]:
    measured, calculated = (
        figure(answer[key]) for key in ("measured_mm", "adjusted_calculated_mm")
    )
    band, floor = figure(values["band_percent"]), figure(values["band_floor_mm"])
    return (
        Step(
            what="difference",
            formula="(e − ec)/ec × 100",
            numbers=f"({measured} − {calculated})/{calculated} × 100",
            result=f"{figure(answer['difference_percent'])} %",
        ),
        Step(
            what="band, the larger of per cent and floor, inclusive",
            formula="max(band % × ec / 100, floor)",
            numbers=f"max({band} × {calculated} / 100, {floor})",
            result=f"± {figure(answer['band_mm'])} mm: "
            + ("within" if answer["ok"] else "OUTSIDE"),
        ),
    )


def _sketch(values: Values, answer: Values) -> Sketch:
    del answer
    readings = values["readings"]
    measured = measured_extension(readings)
    ends = (readings[0][0], readings[-1][0])
    line = tuple(
        (force, measured.measured_mm / 100 * force + measured.intercept_mm)
        for force in ends
    )
    return Sketch(
        caption="Extension [mm] over force [%]: readings and their line",
        strokes=(Stroke(points=line, kind="curve"),),
        dots=tuple(Dot(at=reading, label="") for reading in readings),
        one_scale=False,
    )


def _reel(key: str, kind: Number, what: str, proof: str) -> Field:
    return Field(key=key, kind=kind, what=what, proof=proof, optional=True)


CALCULATION = Calculation(
    name="extension-check",
    title="Extension of a tendon, measured against calculated",
    purpose="Whether the measured extension confirms the force, slack taken out.",
    inputs=Record(
        fields=(
            Field(
                key="calculated_mm",
                kind=Number(unit="mm"),
                what="calculated extension ec",
                proof="the approved stressing calculation",
            ),
            Field(
                key="readings",
                kind=ListOf(item=READING, fewest=FEWEST_READINGS),
                what="readings",
                proof="the stressing record",
            ),
            Field(
                key="band_percent",
                kind=Number(unit="%"),
                what="band",
                proof="the project's specification",
            ),
            Field(
                key="band_floor_mm",
                kind=Number(unit="mm", sign=ZERO_OR_ABOVE),
                what="floor of the band",
                optional=True,
                default=0.0,
                default_source="default: no floor",
            ),
            _reel(REEL[0], AREA_MM2, "area calculated with", "the calculation"),
            _reel(REEL[1], AREA_MM2, "area of the reel", "the reel's certificate"),
            _reel(REEL[2], MODULUS_GPA, "modulus calculated with", "the calculation"),
            _reel(REEL[3], MODULUS_GPA, "modulus of the reel", "its certificate"),
        )
    ),
    outputs=(
        Output(key="measured_mm", what="measured at 100 %", unit="mm"),
        Output(key="two_point_mm", what="by two points", unit="mm"),
        Output(key="adjusted_calculated_mm", what="calculated, adjusted", unit="mm"),
        Output(key="difference_percent", what="difference", unit="%"),
        Output(key="residual_mm", what="largest departure from the line", unit="mm"),
        Output(key="band_mm", what="band", unit="mm"),
        Output(key="ok", what="within the band"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "Four readings or more, force rising; both extensions before draw-in.",
        "Extension confirms a force; it does not replace the jack's certificate.",
    ),
    sources=(
        "Slack by regression of four or more points: common practice.",
        (
            "Bands are the project's: e.g. 7 % WSDOT to 2021; 5 % or 7 % by length, "
            "AASHTO (from memory, confirm)."
        ),
    ),
    example={
        "calculated_mm": 240,
        "readings": [[20, 44], [40, 91], [60, 138.5], [80, 185.5], [100, 233]],
        "band_percent": 5,
    },
)
