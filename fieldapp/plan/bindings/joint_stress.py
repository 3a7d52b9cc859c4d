"""Stress on the joint's face as linear forms of the locked-off forces.

A plane has its extremes at the corners of the face's convex hull, so one form a
corner and state is enough. Coefficients are rounded to 1e-9; the most this can move a
stress, with every bar at its cap, is taken off the least and put on the greatest.
"""

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from fieldapp.calc.joint_stress import (
    Bar,
    FaceStress,
    StressLimits,
    face_stress,
    influence_mpa_per_kn,
    limit_reasons,
    stress_at_mpa,
    stress_plane,
)
from fieldapp.calc.polygon import Point, Polygon
from fieldapp.plan.bindings.hull import hull
from fieldapp.plan.bindings.jack import FORCE, PER_KN
from fieldapp.plan.bindings.loading import State, read_state
from fieldapp.plan.draft import Draft
from fieldapp.plan.expressions import reduced
from fieldapp.plan.quantities import Condition, Quantity, Value
from fieldapp.plan.site import BarPlace
from fieldapp.plan.toml_node import Node

STRESS = Quantity("MPa", 4)
PER_MPA = 10**4
SCALE = 10**9
# The share of a stress that floating point may have moved; far above the truth.
FLOAT_RATIO = 1e-10


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit of the project in MPa, as written and as the kernel's whole number."""

    mpa: float
    whole: int


def add(node: Node, draft: Draft) -> None:
    """Add values and conditions "name.state.mean", ".least" and ".spread"."""
    name, force = node.text("name"), node.text("force")
    step = draft.step(node.child("step"))
    lost = draft.step(node.child("lost")) if "lost" in node else ""
    limits = {
        key: _limit(node.child("limits"), key) for key in ("mean", "least", "spread")
    }
    node.child("limits").finish()
    states = [read_state(place, draft) for place in node.items("states")]
    known = draft.made(node.child("force"), draft.values, "a force")
    whole = draft.has_face(node) and draft.has_segment(node) and draft.has_bars(node)
    if not step or known is None or not states or not whole:
        return
    for bar in draft.subject.bars:
        draft.values[f"{name}.force.{bar.id}"] = _last(bar, step, force, lost)
    _add_face(name, "force", draft)
    if lost:
        for bar in draft.subject.bars:
            draft.values[f"{name}.most.{bar.id}"] = _most(bar, lost)
        _add_face(name, "most", draft)
    told = [_add_state(name, state, limits, draft) for state in states]
    drawn = [each for each, s in zip(told, states, strict=True) if not s.later]
    _check_targets(node, [s for s in states if not s.later], limits, draft)
    draft.pictures.append(_picture(name, drawn, limits, draft))


def _limit(node: Node, key: str) -> Limit:
    mpa = node.decimal(key, Decimal(0), Decimal(20))
    whole = STRESS.whole(mpa)
    if whole is None:
        node.child(key).fault(f"at most {STRESS.places} decimal places")
    return Limit(mpa=float(mpa), whole=whole or 0)


def _last(bar: BarPlace, step: str, force: str, lost: str) -> Value:
    """The force of a bar as its last line has it; nothing once it was lost."""
    last = {
        "word": "reduce",
        "how": "last",
        "step": step,
        "value": force,
        "item": bar.id,
    }
    if not lost:
        return Value(last, FORCE)
    count = {"word": "reduce", "how": "count", "step": lost, "item": bar.id}
    word = {"word": "choose", "by": count, "cases": [[0, last]], "otherwise": 0}
    return Value(word, FORCE)


def _most(bar: BarPlace, lost: str) -> Value:
    """The force of a bar if it rose to its cap; nothing once it was lost."""
    count = {"word": "reduce", "how": "count", "step": lost, "item": bar.id}
    cap = math.floor(bar.cap_kn * PER_KN)
    word = {"word": "choose", "by": count, "cases": [[0, cap]], "otherwise": 0}
    return Value(word, FORCE)


def _add_face(name: str, forces: str, draft: Draft) -> None:
    """Add the mean and the corners' stress from the bars alone, for every state.

    forces: of the bars as they are, or of all at their caps.
    """
    prefix = name if forces == "force" else f"{name}.{forces}"
    draft.values[f"{prefix}.mean"] = Value(_mean(f"{name}.{forces}", draft), STRESS)
    for number, corner in enumerate(hull(draft.face.outline), 1):
        word = _corner(f"{name}.{forces}", corner, draft)
        draft.values[f"{prefix}.corner-{number}"] = Value(word, STRESS)


def _add_state(
    name: str, state: State, limits: dict[str, Limit], draft: Draft
) -> dict[str, Any]:
    """Add one state's forms; answer with how its picture finds them."""
    prefix = f"{name}.{state.id}"
    corners = []
    for number, corner in enumerate(hull(draft.face.outline), 1):
        key = f"{prefix}.corner-{number}"
        weight = round(_scaled(_weight_mpa(state, corner, draft)))
        word = _form(weight, [(SCALE, f"{name}.corner-{number}")])
        draft.values[key] = Value(word if weight else f"{name}.corner-{number}", STRESS)
        corners.append({"x": _mm(corner[0]), "y": _mm(corner[1]), "value": key})
    at_corners = [Value(each["value"], STRESS) for each in corners]
    low, high = f"{prefix}.lowest", f"{prefix}.highest"
    draft.values[low], draft.values[high] = (
        reduced(how, at_corners) for how in ("min", "max")
    )
    moved = _moved(state, draft)
    words: dict[str, Any] = {
        "mean": f"{name}.mean",
        "least": _form(-moved, [(SCALE, low)]),
        "greatest": _form(moved, [(SCALE, high)]),
        "spread": _form(2 * moved, [(SCALE, high), (-SCALE, low)]),
    }
    for key, word in words.items():
        draft.values[f"{prefix}.{key}"] = Value(word, STRESS)
    _add_limits(prefix, limits, draft)
    found = {key: f"{prefix}.{key}" for key in words}
    if f"{name}.most.mean" in draft.values and not state.later:
        found["most"] = _add_most(name, state, moved, draft)
    return {"id": state.id, "title": state.title, "corners": corners, **found}


def _add_most(name: str, state: State, moved: int, draft: Draft) -> str:
    """Add the least there would be with every bar left at its cap; give its name."""
    key = f"{name}.most.{state.id}"
    at_corners = []
    for number, corner in enumerate(hull(draft.face.outline), 1):
        weight = round(_scaled(_weight_mpa(state, corner, draft)))
        word = _form(weight, [(SCALE, f"{name}.most.corner-{number}")])
        at_corners.append(Value(word, STRESS))
    lowest = reduced("min", at_corners)
    draft.values[key] = Value(_form(-moved, [(SCALE, lowest.word)]), STRESS)
    return key


def _add_limits(prefix: str, limits: dict[str, Limit], draft: Draft) -> None:
    for key, side in (("mean", "low"), ("least", "low"), ("spread", "high")):
        bound = {"word": "between", "value": f"{prefix}.{key}", side: limits[key].whole}
        draft.conditions[f"{prefix}.{key}"] = Condition(bound)


def _form(constant: int, terms: list[tuple[int, Any]]) -> dict[str, Any]:
    return {
        "word": "form",
        "constant": constant,
        "terms": [list(term) for term in terms],
        "divisor": SCALE,
    }


def _mean(forces: str, draft: Draft) -> dict[str, Any]:
    """Force over area; the coefficient is rounded down, so it reads low."""
    one = Bar(x_m=0.0, y_m=0.0, force_kn=1.0)
    per_kn = stress_plane(draft.face.properties, (one,)).mean_mpa
    factor = math.floor(_scaled(per_kn / PER_KN) * (1 - FLOAT_RATIO))
    terms = [(factor, f"{forces}.{bar.id}") for bar in draft.subject.bars]
    return _form(0, terms)


def _corner(forces: str, corner: Point, draft: Draft) -> dict[str, Any]:
    terms = [
        (
            round(_scaled(_influence_mpa(bar, corner, draft) / PER_KN)),
            f"{forces}.{bar.id}",
        )
        for bar in draft.subject.bars
    ]
    return _form(0, terms)


def _scaled(mpa: float) -> float:
    return mpa * PER_MPA * SCALE


def _influence_mpa(bar: BarPlace, corner: Point, draft: Draft) -> float:
    section = draft.face.properties
    return influence_mpa_per_kn(section, bar.x_m, bar.y_m, *corner)


def _weight_mpa(state: State, corner: Point, draft: Draft) -> float:
    section = draft.face.properties
    plane = stress_plane(section, (), moment_x_knm=state.moment_x_knm)
    return stress_at_mpa(section, plane, *corner)


def _moved(state: State, draft: Draft) -> int:
    """The most that rounding moves a corner's stress, in 1e-9 of 0.0001 MPa.

    Half a unit for each coefficient at its bar's cap and for the constant, and the
    share floating point may have moved, at the corner where that is most.
    """
    bars = draft.subject.bars
    halves = (sum(bar.cap_kn * PER_KN for bar in bars) + 1) / 2
    stress = max(
        sum(abs(_influence_mpa(bar, corner, draft)) * bar.cap_kn for bar in bars)
        + abs(_weight_mpa(state, corner, draft))
        for corner in hull(draft.face.outline)
    )
    return math.ceil(halves + _scaled(stress) * FLOAT_RATIO)


def _check_targets(
    node: Node, states: list[State], limits: dict[str, Limit], draft: Draft
) -> None:
    """Report a joint whose bars, all at their planned force, miss a limit."""
    faults = node.source.faults
    if any(faults.touch(each) for each in ("bars.csv", "sections.csv", "segments.csv")):
        return
    wanted = StressLimits(
        mean_min_mpa=limits["mean"].mpa,
        local_min_mpa=limits["least"].mpa,
        spread_max_mpa=limits["spread"].mpa,
    )
    for state in states:
        face = planned_stress(state, draft.face.outline, draft)
        for reason in limit_reasons(face, wanted):
            allowed = "a stress within the limits with every bar at its force"
            node.child("limits").fault(
                allowed, f"{draft.subject.id} {state.id}: {reason}"
            )


def planned_stress(state: State, outline: Polygon, draft: Draft) -> FaceStress:
    """The face with every bar at its planned force."""
    section = draft.face.properties
    bars = [
        Bar(x_m=bar.x_m, y_m=bar.y_m, force_kn=bar.force_kn)
        for bar in draft.subject.bars
    ]
    plane = stress_plane(section, bars, moment_x_knm=state.moment_x_knm)
    return face_stress(section, outline, plane)


def _picture(
    name: str, states: list[dict[str, Any]], limits: dict[str, Limit], draft: Draft
) -> dict[str, Any]:
    section = draft.face
    return {
        "binding": "joint_stress",
        "outline": [[_mm(x), _mm(y)] for x, y in section.outline],
        "voids": [[[_mm(x), _mm(y)] for x, y in ring] for ring in section.voids],
        "bars": [
            {
                "item": bar.id,
                "x": _mm(bar.x_m),
                "y": _mm(bar.y_m),
                "cap": math.floor(bar.cap_kn * PER_KN),
                "force": f"{name}.force.{bar.id}",
            }
            for bar in draft.subject.bars
        ],
        **(
            {"most": f"{name}.most.mean"} if f"{name}.most.mean" in draft.values else {}
        ),
        "limits": {key: limit.whole for key, limit in limits.items()},
        "states": states,
    }


def _mm(metres: float) -> int:
    return round(metres * 1000)
