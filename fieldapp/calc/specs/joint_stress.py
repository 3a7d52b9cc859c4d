"""joint-stress: stress on a face under its bars, in each state, against the limits."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.inputs import ZERO_OR_ABOVE, Field, ListOf, Number, Record, Text
from fieldapp.calc.joint_stress import (
    Bar,
    FaceStress,
    LoadState,
    StressLimits,
    cap_reasons,
    face_stress,
    headroom_kn,
    limit_reasons,
    lose_bars,
    stress_plane,
    worst_of,
)
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.section import SectionProperties, section_properties
from fieldapp.calc.specs.joint_stress_sheet import sketch, steps
from fieldapp.calc.specs.kinds import (
    COORDINATE_M,
    LOAD_KN,
    MOMENT_KNM,
    STRESS_MPA,
)
from fieldapp.calc.specs.section import FACE_FIELDS, FACE_RULES

BARE = "without a state"


def _rules(given: Mapping[str, Any]) -> None:
    for place, index in enumerate(given.get("lost", ())):
        if not 0 <= index < len(given["bars"]):
            top = len(given["bars"]) - 1
            raise CalcRefusal(f"lost[{place}]", index, f"0 to {top}")
    if "limits" in given and not given["limits"]:
        wanted = "one or more of mean_min_mpa, local_min_mpa, spread_max_mpa"
        raise CalcRefusal("limits", given["limits"], wanted)
    seen = [state["name"] for state in given.get("states", ())]
    for index, name in enumerate(seen):
        if name in seen[:index]:
            raise CalcRefusal(f"states[{index}].name", name, "a name of its own")


def _solve(values: Values) -> Values:
    section = section_properties(values["outline"], values["voids"])
    bars = lose_bars(_bars(values), values["lost"])
    faces = {
        state.name: face_stress(
            section, values["outline"], _plane(section, bars, values, state)
        )
        for state in _states(values)
    }
    answer = _face_answer(worst_of(list(faces.values())))
    if values["states"]:
        answer["states"] = {
            name: _face_answer(face) | _limits_answer({name: face}, values)
            for name, face in faces.items()
        }
    return answer | _verdict(faces, bars, values)


def _bars(values: Values) -> tuple[Bar, ...]:
    return tuple(Bar(**bar) for bar in values["bars"])


def _states(values: Values) -> tuple[LoadState, ...]:
    if values["states"]:
        return tuple(LoadState(**state) for state in values["states"])
    return (LoadState(name=BARE, moment_x_knm=0.0, moment_y_knm=0.0),)


def _plane(
    section: SectionProperties,
    bars: tuple[Bar, ...],
    values: Values,
    state: LoadState,
) -> Any:
    return stress_plane(
        section,
        bars,
        values["moment_x_knm"] + state.moment_x_knm,
        values["moment_y_knm"] + state.moment_y_knm,
    )


def _face_answer(face: FaceStress) -> Values:
    return {
        "mean_mpa": face.mean_mpa,
        "min_mpa": face.min_mpa,
        "max_mpa": face.max_mpa,
        "spread_mpa": face.spread_mpa,
        "corners": [
            {"x_m": c.x_m, "y_m": c.y_m, "stress_mpa": c.stress_mpa}
            for c in face.corners
        ],
    }


def _verdict(
    faces: dict[str, FaceStress], bars: tuple[Bar, ...], values: Values
) -> Values:
    """Passed or not, over all states and all caps, where there is a limit at all."""
    capped = any(bar.cap_kn is not None for bar in bars)
    if not capped and values["limits"] is None:
        return {}
    reasons = _limits_answer(faces, values).get("reasons", [])
    reasons = [*reasons, *cap_reasons(bars)]
    verdict: Values = {"ok": not reasons, "reasons": reasons}
    if capped:
        verdict["headroom_kn"] = headroom_kn(bars, values["lost"])
    return verdict


def _limits_answer(faces: dict[str, FaceStress], values: Values) -> Values:
    if values["limits"] is None:
        return {}
    limits = StressLimits(**values["limits"])
    reasons = [
        reason if name == BARE else f"{name}: {reason}"
        for name, face in faces.items()
        for reason in limit_reasons(face, limits)
    ]
    return {"ok": not reasons, "reasons": reasons}


def _limit(key: str, what: str) -> Field:
    return Field(key=key, kind=STRESS_MPA, what=what, optional=True)


BAR = Record(
    fields=(
        Field(key="x_m", kind=COORDINATE_M, what="place x"),
        Field(key="y_m", kind=COORDINATE_M, what="place y"),
        Field(key="force_kn", kind=LOAD_KN, what="locked-off force"),
        Field(key="cap_kn", kind=LOAD_KN, what="most it may carry", optional=True),
    )
)
STATE = Record(
    fields=(
        Field(key="name", kind=Text(), what="name of the state"),
        Field(key="moment_x_knm", kind=MOMENT_KNM, what="moment pressing +y"),
        Field(key="moment_y_knm", kind=MOMENT_KNM, what="moment pressing +x"),
    )
)
LIMITS = Record(
    fields=(
        _limit("mean_min_mpa", "least mean"),
        _limit("local_min_mpa", "least anywhere"),
        _limit("spread_max_mpa", "most between greatest and least"),
    )
)
INDEX = Number(unit="", sign=ZERO_OR_ABOVE, high=9_999, whole=True)


def _moment(key: str, side: str) -> Field:
    return Field(
        key=key,
        kind=MOMENT_KNM,
        what=f"moment besides the bars', pressing {side}",
        optional=True,
        default=0.0,
        default_source="default: none",
    )


CALCULATION = Calculation(
    name="joint-stress",
    title="Stress on a joint under its bars",
    purpose="Stress at every corner of the face, compression positive, in all states.",
    inputs=Record(
        fields=(
            *FACE_FIELDS,
            Field(
                key="bars",
                kind=ListOf(item=BAR),
                what="bars",
                proof="the record of the last round",
            ),
            _moment("moment_x_knm", "+y"),
            _moment("moment_y_knm", "+x"),
            Field(
                key="states",
                kind=ListOf(item=STATE),
                what="states of loading",
                proof="the approved erection calculation",
                optional=True,
            ),
            Field(
                key="lost",
                kind=ListOf(item=INDEX, fewest=0),
                what="lost bars, counted from 0",
                optional=True,
                default=(),
                default_source="default: no bar lost",
            ),
            Field(
                key="limits",
                kind=LIMITS,
                what="limits",
                proof="the project's specification",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="mean_mpa", what="mean, the least of the states", unit="MPa"),
        Output(key="min_mpa", what="least anywhere", unit="MPa"),
        Output(key="max_mpa", what="greatest anywhere", unit="MPa"),
        Output(key="spread_mpa", what="greatest less least", unit="MPa"),
        Output(key="corners", what="least stress at each corner, MPa"),
        Output(key="states", what="each state, MPa"),
        Output(key="ok", what="within all limits and caps"),
        Output(key="reasons", what="what is not within"),
        Output(key="headroom_kn", what="what each bar may still take", unit="kN"),
    ),
    rules=_rules,
    solve=_solve,
    steps=steps,
    sketch=sketch,
    validity=(
        *FACE_RULES,
        "Plane sections, the whole face in contact; tension is reported, not refused.",
        "Forces as locked off in the last round, jack force less seating, or lift-off.",
        "Limits are inclusive. Bars may lie in a void.",
    ),
    sources=(
        "Bending about two axes with product of inertia (textbook).",
        (
            "Limits are the project's, e.g. VDOT 453-5.6 or the segmental clauses of "
            "AASHTO LRFD (from memory, confirm)."
        ),
    ),
    example={
        "outline": [[0, 0], [4, 0], [4, 2], [0, 2]],
        "voids": [[[0.35, 0.35], [3.65, 0.35], [3.65, 1.65], [0.35, 1.65]]],
        "bars": [
            {"x_m": 0.6, "y_m": 1.8, "force_kn": 420, "cap_kn": 676},
            {"x_m": 3.4, "y_m": 1.8, "force_kn": 420, "cap_kn": 676},
            {"x_m": 2.0, "y_m": 0.2, "force_kn": 500, "cap_kn": 676},
        ],
        "states": [
            {"name": "weight on the gear", "moment_x_knm": 0, "moment_y_knm": 0},
            {"name": "weight on the bars", "moment_x_knm": -120, "moment_y_knm": 0},
        ],
        "limits": {"mean_min_mpa": 0.276, "local_min_mpa": 0.207},
    },
)
