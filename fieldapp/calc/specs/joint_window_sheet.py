"""The calculation sheet of joint-window: how a run is judged, and the day."""

from fieldapp.calc.calculation import Values
from fieldapp.calc.figures import figure
from fieldapp.calc.sketch import Dot, Sketch, Stroke
from fieldapp.calc.working import Grid, Note, Part, Step


def steps(values: Values, answer: Values) -> tuple[Part, ...]:
    """How a run goes, the means of its durations, and the starts."""
    rows = tuple(
        (
            work,
            *(figure(part) for part in duration),
            figure(sum(duration) / 3),
        )
        for work, duration in values["durations_min"].items()
    )
    mean = sum(sum(duration) / 3 for duration in values["durations_min"].values())
    overlap = values["overlap_ratio"] * sum(values["durations_min"]["spread"]) / 3
    return (
        Grid(
            title="Durations [min], triangular; mean = (least + likely + most)/3",
            columns=("work", "least", "likely", "most", "mean"),
            rows=rows,
        ),
        Step(
            what="mean time from the first kit to stressed",
            formula="t = mix + spread (1 − overlap) + close + stress",
            numbers=f"{figure(mean)} − {figure(overlap)}",
            result=f"{figure(mean - overlap)} min",
        ),
        Note(
            text=f"{values['runs']} runs from seed {values['seed']}. A run succeeds "
            f"where the open time used is at most {figure(values['allowed_ratio'])}, "
            "mix and spread end within the pot life, and the face stays inside the "
            "formulation throughout."
        ),
        Note(text=_best(answer)),
    )


def _best(answer: Values) -> str:
    if answer["best_start_hour"] is None:
        return "No start today succeeds in any run."
    return (
        f"Best start: hour {figure(answer['best_start_hour'])} with "
        f"{answer['best_formulation']} (most successes, then least life used at nine "
        "in ten, then the earliest)."
    )


def sketch(values: Values, answer: Values) -> Sketch:
    """The day: share of successes over the start hour, a curve a formulation."""
    curves = {
        one["name"]: tuple(
            (row["start_hour"], row["success_ratio"])
            for row in answer["hours"]
            if row["formulation"] == one["name"]
        )
        for one in values["formulations"]
    }
    return Sketch(
        caption="Share of runs that succeed, over the start hour",
        strokes=tuple(
            Stroke(points=points, kind="curve") for points in curves.values()
        ),
        dots=tuple(
            Dot(at=max(points, key=lambda point: point[1]), label=name)
            for name, points in curves.items()
        ),
        one_scale=False,
    )
