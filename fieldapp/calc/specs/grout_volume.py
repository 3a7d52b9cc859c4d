"""grout-volume: litres in a duct, litres to order, and whether it fills in time."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.bands import at_most
from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.figures import figure
from fieldapp.calc.grout import net_l_per_m, order_l
from fieldapp.calc.inputs import ZERO_OR_ABOVE, Field, Number, Record, only_with
from fieldapp.calc.specs.kinds import AREA_MM2, LENGTH_M, MINUTES, WASTE_RATIO
from fieldapp.calc.working import Part, Step


def _rules(given: Mapping[str, Any]) -> None:
    only_with(given, "pumpable_min", "rate_m_per_min")


def _solve(values: Values) -> Values:
    per_m = net_l_per_m(values["duct_bore_mm"], values["steel_area_mm2"])
    net, caps = per_m * values["length_m"], values["caps_l"]
    answer: Values = {
        "net_l_per_m": per_m,
        "net_l": net,
        "order_l": order_l(net, caps, values["waste_ratio"]),
    }
    if (rate := values["rate_m_per_min"]) is not None:
        pump = per_m * rate
        answer |= {"pump_l_per_min": pump, "fill_min": (net + caps) / pump}
        if (pumpable := values["pumpable_min"]) is not None:
            answer["in_time"] = at_most(answer["fill_min"], pumpable)
    return answer


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    v = {key: figure(value) for key, value in {**values, **answer}.items()}
    parts = [
        Step(
            what="net volume of a metre (1 mm² × 1 m = 0.001 L)",
            formula="v = (π d²/4 − As) / 1000",
            numbers=f"(π × {v['duct_bore_mm']}²/4 − {v['steel_area_mm2']}) / 1000",
            result=f"{v['net_l_per_m']} L/m",
        ),
        Step(
            what="net volume",
            formula="V = v L",
            numbers=f"{v['net_l_per_m']} × {v['length_m']}",
            result=f"{v['net_l']} L",
        ),
        Step(
            what="volume to order",
            formula="V' = (V + caps)(1 + w)",
            numbers=f"({v['net_l']} + {v['caps_l']}) × (1 + {v['waste_ratio']})",
            result=f"{v['order_l']} L",
        ),
    ]
    if "fill_min" in answer:
        parts += _pump_steps(v, answer)
    return tuple(parts)


def _pump_steps(v: dict[str, str], answer: Values) -> list[Step]:
    verdict = {None: "", True: ": in time", False: ": NOT IN TIME"}
    return [
        Step(
            what="pump",
            formula="q = v × rate",
            numbers=f"{v['net_l_per_m']} × {v['rate_m_per_min']}",
            result=f"{v['pump_l_per_min']} L/min",
        ),
        Step(
            what="time to fill"
            + (f", pumpable {v['pumpable_min']} min" if "in_time" in answer else ""),
            formula="t = (V + caps) / q",
            numbers=f"({v['net_l']} + {v['caps_l']}) / {v['pump_l_per_min']}",
            result=f"{v['fill_min']} min{verdict[answer.get('in_time')]}",
        ),
    ]


CALCULATION = Calculation(
    name="grout-volume",
    title="Volume of grout for a duct",
    purpose="Net volume beside the steel, volume to order, and time to fill.",
    inputs=Record(
        fields=(
            Field(
                key="duct_bore_mm",
                kind=Number(unit="mm"),
                what="inside diameter d",
                proof="the duct's data sheet",
            ),
            Field(
                key="steel_area_mm2",
                kind=AREA_MM2,
                what="area of the steel As",
                proof="the tendon drawing",
            ),
            Field(key="length_m", kind=LENGTH_M, what="length of the duct L"),
            Field(key="waste_ratio", kind=WASTE_RATIO, what="waste w"),
            Field(
                key="caps_l",
                kind=Number(unit="L", sign=ZERO_OR_ABOVE),
                what="caps",
                optional=True,
                default=0.0,
                default_source="default: none",
            ),
            Field(
                key="rate_m_per_min",
                kind=Number(unit="m/min"),
                what="speed of the grout in the duct",
                proof="the method statement",
                optional=True,
            ),
            Field(
                key="pumpable_min",
                kind=MINUTES,
                what="pumpable life of a batch",
                proof="the trial mix",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="net_l_per_m", what="net volume of a metre", unit="L/m"),
        Output(key="net_l", what="net volume", unit="L"),
        Output(key="order_l", what="volume to order", unit="L"),
        Output(key="pump_l_per_min", what="pump", unit="L/min"),
        Output(key="fill_min", what="time to fill", unit="min"),
        Output(key="in_time", what="filled within the pumpable life"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    validity=("Round duct, steel smaller than the bore; waste from 0 to 1.",),
    sources=(
        "Geometry. Speed in the duct 5 to 15 m/min: EN 446 and PTI, from memory.",
    ),
    example={
        "duct_bore_mm": 100,
        "steel_area_mm2": 2660,
        "length_m": 40,
        "waste_ratio": 0.15,
        "caps_l": 4,
        "rate_m_per_min": 10,
        "pumpable_min": 30,
    },
)
