"""Which picture belongs to which calculation.

A calculation without one here is shown by the plain drawing of its sheet.
"""

from collections.abc import Callable, Iterator

from fieldapp.calc.calculation import Calculation, Values
from fieldapp.calc.sketch import Sketch
from fieldapp.web.calculations.pictures import clocks, day, faces, fluids, site, steel
from fieldapp.web.calculations.pictures.canvas import Drawing, Shape, disc, word
from fieldapp.web.calculations.pictures.chart import Chart, axis, curve, frame

PICTURES: dict[str, Callable[[Values, Values], Iterator[Drawing]]] = {
    "dew-point": fluids.dew_point,
    "adhesive-life": clocks.adhesive_life,
    "adhesive-quantity": fluids.adhesive_quantity,
    "section": faces.section,
    "joint-stress": faces.joint_stress,
    "bar-extension": steel.bar_extension,
    "jack": steel.jack,
    "tendon": steel.tendon,
    "extension-check": steel.extension_check,
    "grout-volume": fluids.grout_volume,
    "grout-mix": fluids.grout_mix,
    "air-test": fluids.air_test,
    "balance": site.balance,
    "tip-error": site.tip_error,
    "shim": site.shim,
    "wind": site.wind,
    "joint-window": day.joint_window,
}


def pictures(
    calculation: Calculation, values: Values, answer: Values
) -> tuple[Drawing, ...]:
    """Draw a worked calculation; none where it has neither picture nor sketch."""
    if calculation.name in PICTURES:
        return tuple(PICTURES[calculation.name](values, answer))
    if calculation.sketch is None:
        return ()
    return (_plain(calculation.sketch(values, answer)),)


def _plain(sketch: Sketch) -> Drawing:
    points = [point for stroke in sketch.strokes for point in stroke.points]
    points += [dot.at for dot in sketch.dots]
    chart = Chart(
        x=axis(x for x, _ in points), y=axis(y for _, y in points), height=240
    )
    shapes: list[Shape] = frame(chart, "", "")
    shapes += [curve(chart, stroke.points) for stroke in sketch.strokes]
    shapes += [disc(chart.at(dot.at), 5, "dot") for dot in sketch.dots]
    shapes += [word(chart.at(dot.at), dot.label) for dot in sketch.dots]
    return Drawing(
        title=sketch.caption,
        told=" ".join(sketch.notes) or sketch.caption,
        height=330,
        shapes=tuple(shapes),
        notes=sketch.notes,
    )
