"""adhesive-quantity: litres, kilograms and whole kits for a joint."""

from fieldapp.calc.adhesive import adhesive_quantity
from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import Field, Number, Record
from fieldapp.calc.specs.kinds import WASTE_RATIO
from fieldapp.calc.working import Part, Step


def _solve(values: Values) -> Values:
    quantity = adhesive_quantity(**values)
    return {
        "volume_l": quantity.volume_l,
        "mass_kg": quantity.mass_kg,
        "order_mass_kg": quantity.order_mass_kg,
        "kits": quantity.kits,
    }


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    v = {key: figure(value) for key, value in {**values, **answer}.items()}
    kits = answer["order_mass_kg"] / values["kit_kg"]
    return (
        Step(
            what="volume on the faces (1 m² × 1 mm = 1 L)",
            formula="V = A t n",
            numbers=f"{v['area_m2']} × {v['thickness_mm']} × {v['faces']}",
            result=f"{v['volume_l']} L",
        ),
        Step(
            what="net mass",
            formula="m = V ρ",
            numbers=f"{v['volume_l']} × {v['density_kg_per_l']}",
            result=f"{v['mass_kg']} kg",
        ),
        Step(
            what="mass to order",
            formula="m' = m (1 + w)",
            numbers=f"{v['mass_kg']} × (1 + {v['waste_ratio']})",
            result=f"{v['order_mass_kg']} kg",
        ),
        Step(
            what="whole kits, never split",
            formula="N = m' / kit, rounded up",
            numbers=f"{v['order_mass_kg']} / {v['kit_kg']} = {figure(kits)}",
            result=v["kits"],
        ),
    )


CALCULATION = Calculation(
    name="adhesive-quantity",
    title="Quantity of adhesive for a joint",
    purpose="Adhesive on the coated faces, with waste, in whole kits.",
    inputs=Record(
        fields=(
            Field(
                key="area_m2",
                kind=Number(unit="m²"),
                what="area of the face A",
                proof="the segment's drawing",
            ),
            Field(
                key="thickness_mm",
                kind=Number(unit="mm"),
                what="thickness as applied on each coated face t",
                proof="the method statement",
            ),
            Field(
                key="faces",
                kind=Number(unit="", low=1.0, high=2.0, whole=True),
                what="coated faces n",
                proof="the method statement",
            ),
            Field(
                key="density_kg_per_l",
                kind=Number(unit="kg/L"),
                what="mixed density ρ",
                proof="the maker's data sheet",
            ),
            Field(key="waste_ratio", kind=WASTE_RATIO, what="waste w"),
            Field(
                key="kit_kg",
                kind=Number(unit="kg"),
                what="mass of a kit",
                proof="the maker's data sheet",
            ),
        )
    ),
    outputs=(
        Output(key="volume_l", what="net volume", unit="L"),
        Output(key="mass_kg", what="net mass", unit="kg"),
        Output(key="order_mass_kg", what="mass to order", unit="kg"),
        Output(key="kits", what="whole kits"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=_steps,
    validity=("One or two coated faces; waste from 0 to 1 of the net mass.",),
    sources=("Arithmetic; full kits only: common practice.",),
    example={
        "area_m2": 6.16,
        "thickness_mm": 1.6,
        "faces": 1,
        "density_kg_per_l": 1.65,
        "waste_ratio": 0.15,
        "kit_kg": 5,
    },
)
