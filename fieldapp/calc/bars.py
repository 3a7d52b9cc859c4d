"""Extension of a straight bar under the jack, and the force left when it is locked.

Extension confirms a force, it does not accept it. The modulus comes from the bar's own
certificate: rolled and cold-stretched bars differ by a fifth.
"""

from fieldapp.calc.refusals import CalcRefusal


def bar_extension_mm(
    *,
    length_m: float,
    force_kn: float,
    area_mm2: float,
    modulus_gpa: float,
    datum_force_kn: float = 0.0,
    grip_length_m: float = 0.0,
) -> float:
    """Extension from the datum force to the force, before seating.

    The stretched length is nut to nut plus the bar inside the jack.
    Source: F L / (A E), elastic bar (textbook).
    """
    if datum_force_kn >= force_kn:
        raise CalcRefusal("datum_force_kn", datum_force_kn, f"below {force_kn:g}")
    stretched_m = length_m + grip_length_m
    return (
        (force_kn - datum_force_kn)
        * stretched_m
        / axial_kn_per_mm_m(area_mm2, modulus_gpa)
    )


def locked_force_kn(
    *,
    length_m: float,
    force_kn: float,
    area_mm2: float,
    modulus_gpa: float,
    seating_mm: float,
) -> float:
    """Force left nut to nut after the nut has taken up its seating.

    Source: F - s A E / L, elastic bar (textbook).
    """
    per_mm_kn = axial_kn_per_mm_m(area_mm2, modulus_gpa) / length_m
    locked = force_kn - seating_mm * per_mm_kn
    if locked < 0:
        most_mm = force_kn / per_mm_kn
        raise CalcRefusal(
            "seating_mm", seating_mm, f"0 to {most_mm:.6g}, the bar slack"
        )
    return locked


def axial_kn_per_mm_m(area_mm2: float, modulus_gpa: float) -> float:
    """Force in kN that stretches one metre of bar by one millimetre: A E / 1000.

    Source: elastic bar (textbook).
    """
    return area_mm2 * modulus_gpa / 1000
