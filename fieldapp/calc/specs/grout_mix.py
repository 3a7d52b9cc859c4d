"""grout-mix: density and yield of neat grout."""

from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.figures import figure
from fieldapp.calc.grout import mix_density_kg_per_l, mix_yield_l
from fieldapp.calc.inputs import Field, Number, Record
from fieldapp.calc.working import Part, Step


def _solve(values: Values) -> Values:
    mix = values["water_cement"], values["cement_sg"]
    answer: Values = {"density_kg_per_l": mix_density_kg_per_l(*mix)}
    if (bag := values["bag_kg"]) is not None:
        answer["yield_l_per_bag"] = mix_yield_l(*mix, bag)
    return answer


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    w, sg = figure(values["water_cement"]), figure(values["cement_sg"])
    parts = [
        Step(
            what="density, water 1 kg/L, no air",
            formula="ρ = (1 + w) / (1/SG + w)",
            numbers=f"(1 + {w}) / (1/{sg} + {w})",
            result=f"{figure(answer['density_kg_per_l'])} kg/L",
        )
    ]
    if values["bag_kg"] is not None:
        parts.append(
            Step(
                what="yield of a bag",
                formula="Y = bag (1/SG + w)",
                numbers=f"{figure(values['bag_kg'])} × (1/{sg} + {w})",
                result=f"{figure(answer['yield_l_per_bag'])} L",
            )
        )
    return tuple(parts)


CALCULATION = Calculation(
    name="grout-mix",
    title="Density and yield of neat grout",
    purpose="What the mud balance should show, and litres from a bag.",
    inputs=Record(
        fields=(
            Field(
                key="water_cement",
                kind=Number(unit="by mass", high=5.0),
                what="water/cement w",
                proof="the approved mix",
            ),
            Field(
                key="cement_sg",
                kind=Number(unit="", high=20.0),
                what="specific gravity of the cement SG",
                proof="the cement's certificate",
            ),
            Field(
                key="bag_kg",
                kind=Number(unit="kg"),
                what="mass of a bag",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="density_kg_per_l", what="density", unit="kg/L"),
        Output(key="yield_l_per_bag", what="yield", unit="L per bag"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=_steps,
    validity=("Neat grout of cement and water without air, sand or admixture.",),
    sources=("Absolute volumes (textbook).",),
    example={"water_cement": 0.4, "cement_sg": 3.15, "bag_kg": 50},
)
