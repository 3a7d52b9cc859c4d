"""balance: out-of-balance moment at a pier, and which side may take the next lift."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.balance import (
    SIDES,
    Load,
    arm_moment_knm,
    balance_knm,
    next_lift,
)
from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.figures import figure, signed
from fieldapp.calc.inputs import (
    Choice,
    Field,
    ListOf,
    Number,
    Record,
    exactly_one,
)
from fieldapp.calc.sketch import Arrow, Dot, Sketch, Stroke
from fieldapp.calc.specs.kinds import LEVER_M, LOAD_KN
from fieldapp.calc.working import Grid, Note, Part, Step

ABSENT = "no next lift is given on this side"


def _rules(given: Mapping[str, Any]) -> None:
    exactly_one(given, ("limit_knm",), ("limit_a_knm", "limit_b_knm"))


def _solve(values: Values) -> Values:
    moment = balance_knm(_arms(values))
    limits = _limits(values)
    answer: Values = {"moment_knm": moment, "after_a_knm": None, "after_b_knm": None}
    reasons: dict[str, str] = {}
    for side in SIDES:
        if values["next"][side] is None:
            reasons[side] = ABSENT
            continue
        lift = next_lift(moment, side, Load(**values["next"][side]), *limits)
        answer[f"after_{side.lower()}_knm"] = lift.after_knm
        if lift.reason:
            reasons[side] = lift.reason
    allowed = [side for side in SIDES if side not in reasons]
    return answer | {"allowed": allowed, "reasons": reasons}


def _arms(values: Values) -> dict[str, list[Load]]:
    return {
        side: [Load(**load) for load in values["arms"][side]]
        + [
            Load(weight_kn=part["weight_kn"], lever_m=part["lever_m"])
            for part in values["equipment"]
            if part["arm"] == side
        ]
        for side in SIDES
    }


def _limits(values: Values) -> tuple[float, float]:
    if values["limit_knm"] is not None:
        return values["limit_knm"], values["limit_knm"]
    return values["limit_a_knm"], values["limit_b_knm"]


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    arms = _arms(values)
    rows = tuple(
        (
            side,
            figure(load.weight_kn),
            figure(load.lever_m),
            figure(load.weight_kn * load.lever_m),
        )
        for side in SIDES
        for load in arms[side]
    )
    sums = [figure(arm_moment_knm(arms[side])) for side in SIDES]
    moment = answer["moment_knm"]
    return (
        Grid(
            title="Loads and equipment about the pier's axis",
            columns=("arm", "W [kN]", "a [m]", "W a [kNm]"),
            rows=rows,
        ),
        Step(
            what="moment out of balance, A positive",
            formula="M = Σ W a (A) − Σ W a (B)",
            numbers=f"{sums[0]} − {sums[1]}",
            result=f"{figure(moment)} kNm",
        ),
        *(part for side in SIDES for part in _next_parts(side, values, answer)),
    )


def _next_parts(side: str, values: Values, answer: Values) -> list[Part]:
    load = values["next"][side]
    if load is None:
        return [Note(text=f"{side}: {ABSENT}.")]
    turn = 1 if side == "A" else -1
    after = answer[f"after_{side.lower()}_knm"]
    low, high = (figure(limit) for limit in reversed(_limits(values)))
    verdict = "within" if side in answer["allowed"] else "NOT WITHIN"
    weight, lever = figure(load["weight_kn"]), figure(load["lever_m"])
    return [
        Step(
            what=f"after the next lift on {side}",
            formula=f"M {'+' if turn > 0 else '−'} W a",
            numbers=f"{figure(answer['moment_knm'])} "
            f"{signed(turn)} × {weight} × {lever}",
            result=f"{figure(after)} kNm, {verdict} −{low} to {high}",
        )
    ]


def _sketch(values: Values, answer: Values) -> Sketch:
    arms = _arms(values)
    reach = max([1.0, *(load.lever_m for side in SIDES for load in arms[side])])
    arrows = []
    for side, turn in zip(SIDES, (-1, 1), strict=True):
        for load in arms[side]:
            at = turn * load.lever_m
            label = figure(load.weight_kn)
            arrows.append(Arrow(start=(at, 0.0), end=(at, -reach / 6), label=label))
    return Sketch(
        caption="Pier with arm A left and arm B right; weights in kN, levers to scale",
        strokes=(
            Stroke(points=((-reach, 0.0), (reach, 0.0))),
            Stroke(points=((0.0, 0.0), (0.0, -reach / 3)), kind="axis"),
        ),
        dots=(
            Dot(at=(-reach, 0.0), label="A"),
            Dot(at=(reach, 0.0), label="B"),
        ),
        arrows=tuple(arrows),
        notes=(f"Moment {figure(answer['moment_knm'])} kNm; positive: A heavier.",),
    )


LOAD = Record(
    fields=(
        Field(key="weight_kn", kind=LOAD_KN, what="weight"),
        Field(key="lever_m", kind=LEVER_M, what="lever from the pier's axis"),
    )
)
LIFTED = Record(
    fields=(Field(key="arm", kind=Choice(options=SIDES), what="arm"), *LOAD.fields)
)
ARMS = Record(
    fields=tuple(
        Field(key=side, kind=ListOf(item=LOAD, fewest=0), what=f"arm {side}")
        for side in SIDES
    )
)
NEXT = Record(
    fields=tuple(
        Field(key=side, kind=LOAD, what=f"on {side}", optional=True) for side in SIDES
    )
)


def _limit(key: str, what: str) -> Field:
    return Field(
        key=key,
        kind=Number(unit="kNm"),
        what=what,
        proof="the erection manual",
        optional=True,
    )


CALCULATION = Calculation(
    name="balance",
    title="Balance of a cantilever pair",
    purpose="Moment out of balance now, and after the next lift on either side.",
    inputs=Record(
        fields=(
            Field(key="arms", kind=ARMS, what="hung segments", proof="the record"),
            Field(
                key="equipment",
                kind=ListOf(item=LIFTED, fewest=0),
                what="equipment",
                proof="the equipment list",
                optional=True,
                default=(),
                default_source="default: none",
            ),
            _limit("limit_knm", "limit towards either side"),
            _limit("limit_a_knm", "limit towards A"),
            _limit("limit_b_knm", "limit towards B"),
            Field(key="next", kind=NEXT, what="next lift"),
        )
    ),
    outputs=(
        Output(key="moment_knm", what="moment out of balance", unit="kNm"),
        Output(key="after_a_knm", what="after a lift on A", unit="kNm"),
        Output(key="after_b_knm", what="after a lift on B", unit="kNm"),
        Output(key="allowed", what="sides within the limits"),
        Output(key="reasons", what="why not the other sides"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "Vertical weights about the pier's axis; limits are inclusive.",
        "Permission needs fresh records of both arms; landing a load is always open.",
    ),
    sources=("Statics. Limits are the erection manual's.",),
    example={
        "arms": {
            "A": [
                {"weight_kn": 462, "lever_m": 4.5},
                {"weight_kn": 462, "lever_m": 7.5},
            ],
            "B": [{"weight_kn": 462, "lever_m": 4.5}],
        },
        "equipment": [{"arm": "A", "weight_kn": 80, "lever_m": 6}],
        "limit_knm": 6000,
        "next": {
            "A": {"weight_kn": 462, "lever_m": 10.5},
            "B": {"weight_kn": 462, "lever_m": 7.5},
        },
    },
)
