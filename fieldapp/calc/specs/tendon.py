"""tendon: force, extension and set of a stressed tendon, from one end or both."""

from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.inputs import ZERO_OR_ABOVE, Choice, Field, ListOf, Number, Record
from fieldapp.calc.specs.kinds import (
    AREA_MM2,
    FORCE_KN,
    LEVER_M,
    MODULUS_GPA,
)
from fieldapp.calc.specs.tendon_sheet import sketch, steps, tendon_reaches
from fieldapp.calc.tendon import (
    PER_ANGLE,
    PER_LENGTH,
    jack_strand_mm,
    jacked_tendon,
)
from fieldapp.calc.tendon_set import anchor_sets, force_after_set_kn


def _solve(values: Values) -> Values:
    pieces = tendon_reaches(values)
    steel = {
        key: values[key] for key in ("area_mm2", "modulus_gpa", "jacking_force_kn")
    }
    ends, force = values["ends"], values["jacking_force_kn"]
    jacked = jacked_tendon(pieces, ends=ends, **steel)
    strand = jack_strand_mm(**steel, jack_length_m=values["jack_length_m"])
    sets = anchor_sets(pieces, ends=ends, draw_in_mm=values["draw_in_mm"], **steel)
    answer: Values = {
        "extension_mm": jacked.extension_mm,
        "jack_extension_mm": jacked.extension_mm + ends * strand,
        "force_kn": jacked.force_kn,
        "least_force_kn": jacked.least_force_kn,
        "least_at_m": jacked.least_at_m,
    }
    if ends == 1:
        answer["far_force_kn"] = jacked.force_kn[-1]
    lengths = [one.length_m for one in sets]
    anchors = [one.anchor_force_kn for one in sets]
    return answer | {
        "set_length_m": lengths if ends == 2 else lengths[0],
        "anchor_force_kn": anchors if ends == 2 else anchors[0],
        "force_after_set_kn": force_after_set_kn(pieces, sets, force),
    }


FRICTION = Record(
    fields=(
        Field(
            key="mu",
            kind=Number(unit="per rad", sign=ZERO_OR_ABOVE, high=10.0),
            what="curvature μ",
        ),
        Field(
            key="k_per_m",
            kind=Number(unit="per m", sign=ZERO_OR_ABOVE, high=10.0),
            what="wobble k",
        ),
        Field(key="form", kind=Choice(options=(PER_ANGLE, PER_LENGTH)), what="form"),
    )
)
PIECE = Record(
    fields=(
        Field(key="length_m", kind=LEVER_M, what="length"),
        Field(
            key="angle_rad",
            kind=Number(unit="rad", sign=ZERO_OR_ABOVE, high=100.0),
            what="angle turned",
        ),
    )
)

CALCULATION = Calculation(
    name="tendon",
    title="Stressing of a tendon",
    purpose="Force along the tendon, extension at the jack, and what draw-in leaves.",
    inputs=Record(
        fields=(
            Field(
                key="area_mm2",
                kind=AREA_MM2,
                what="area of the steel A",
                proof="the reel's certificate",
            ),
            Field(
                key="modulus_gpa",
                kind=MODULUS_GPA,
                what="modulus E",
                proof="the reel's certificate",
            ),
            Field(
                key="jacking_force_kn",
                kind=FORCE_KN,
                what="jacking force P0",
                proof="the approved stressing calculation",
            ),
            Field(
                key="friction",
                kind=FRICTION,
                what="friction",
                proof="the project's specification",
            ),
            Field(
                key="pieces",
                kind=ListOf(item=PIECE, most=500),
                what="pieces from the first jack on",
                proof="the tendon drawing",
            ),
            Field(key="ends", kind=Choice(options=(1, 2)), what="ends stressed"),
            Field(
                key="draw_in_mm",
                kind=Number(unit="mm", sign=ZERO_OR_ABOVE),
                what="draw-in at each jacked end δ",
                proof="the system's approval",
            ),
            Field(
                key="jack_length_m",
                kind=LEVER_M,
                what="strand inside a jack",
                proof="the jack's data sheet",
            ),
        )
    ),
    outputs=(
        Output(key="extension_mm", what="extension, before draw-in", unit="mm"),
        Output(key="jack_extension_mm", what="with strand in the jack", unit="mm"),
        Output(key="force_kn", what="force at the ends of the pieces", unit="kN"),
        Output(key="least_force_kn", what="least force at jacking", unit="kN"),
        Output(key="least_at_m", what="its place from the first jack", unit="m"),
        Output(key="far_force_kn", what="force at the far end", unit="kN"),
        Output(key="set_length_m", what="length of the set", unit="m"),
        Output(key="anchor_force_kn", what="force at the anchor after", unit="kN"),
        Output(key="force_after_set_kn", what="force after draw-in", unit="kN"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=steps,
    sketch=sketch,
    validity=(
        "Elastic strand, exact exponentials, the same friction either way in the set.",
        "Two ends: stressed together, the same draw-in at each; two sets may meet.",
        "Compression of the concrete and the dead end's wedge pull are not included.",
    ),
    sources=(
        "per-angle: EN 1992-1-1 (5.45); per-length: US and British textbook form.",
        "Draw-in: area between the force before and after is δ A E (textbook).",
    ),
    example={
        "area_mm2": 2850,
        "modulus_gpa": 195,
        "jacking_force_kn": 3531.15,
        "friction": {"mu": 0.25, "k_per_m": 0.0017, "form": "per-length"},
        "pieces": [
            {"length_m": 10, "angle_rad": 0.1116},
            {"length_m": 10, "angle_rad": 0.1116},
        ],
        "ends": 1,
        "draw_in_mm": 5,
        "jack_length_m": 0.6,
    },
)
