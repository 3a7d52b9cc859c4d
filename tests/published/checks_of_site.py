"""Checks of grout, air tests, balance, survey and wind against documents."""

from tests.published.check import Check


def mix(water_cement: float, density: float, yield_l: float) -> Check:
    """Neat grout of cement of 3.15, bags of 50 kg."""
    return Check(
        document="Absolute volumes of neat grout, SG 3.15 (arithmetic)",
        place=f"water/cement {water_cement:g}",
        name="grout-mix",
        data={"water_cement": water_cement, "cement_sg": 3.15, "bag_kg": 50},
        printed={
            "density_kg_per_l": (density, 0.0006),
            "yield_l_per_bag": (yield_l, 0.06),
        },
    )


def filling(rate: float, printed_l: float) -> Check:
    """Duct of 100 mm with 19 strands of 140 mm2."""
    return Check(
        document="EN 446 and PTI, 5 to 15 m/min in the duct (from memory)",
        place=f"100 mm duct, 2660 mm2, {rate:g} m/min (arithmetic)",
        name="grout-volume",
        data={
            "duct_bore_mm": 100,
            "steel_area_mm2": 2660,
            "length_m": 40,
            "waste_ratio": 0.15,
            "rate_m_per_min": rate,
        },
        printed={
            "net_l_per_m": (5.194, 0.0005),
            "net_l": (207.8, 0.05),
            "pump_l_per_min": (printed_l, 0.05),
        },
    )


GROUT = [
    mix(0.28, 2.142, 29.9),
    mix(0.30, 2.105, 30.9),
    mix(0.35, 2.023, 33.4),
    mix(0.40, 1.951, 35.9),
    mix(0.44, 1.901, 37.9),
    mix(0.45, 1.889, 38.4),
    Check(
        document="Concrete Construction, question on the volume of grout",
        place="94 lb of cement of 3.15 and 5 US gal make 1.145 cubic feet",
        name="grout-mix",
        data={"water_cement": 5 * 8.33 / 94, "cement_sg": 3.15, "bag_kg": 94 * 0.45359},
        # 28.3168 L to the cubic foot; the print rounds its two volumes to 0.001.
        printed={"yield_l_per_bag": (1.145 * 28.3168, 0.03)},
    ),
    filling(5, 26.0),
    filling(10, 51.9),
    filling(15, 77.9),
]

AIR_TESTS = [
    Check(
        document="Gas law on absolute pressure (arithmetic)",
        place="10.0 to 9.2 kPa while cooling from 20 to 18 C: 0.4 %",
        name="air-test",
        data={
            "start_kpa": 10.0,
            "end_kpa": 9.2,
            "start_temp_c": 20,
            "end_temp_c": 18,
        },
        printed={"loss_ratio": (0.004, 0.0005)},
    ),
    Check(
        document="UK TR47 practice, 10 % of 10 kPa in 5 min (from memory)",
        place="10.0 to 9.2 kPa uncorrected: 8.0 %",
        name="air-test",
        data={"start_kpa": 10.0, "end_kpa": 9.2},
        printed={"loss_ratio": (0.080, 1e-9)},
    ),
]


def wind(height_m: float, factor: float) -> Check:
    """A row of the height multipliers."""
    return Check(
        document="CPA TIN 101 (2009), height multipliers",
        place=f"{height_m:g} m",
        name="wind",
        data={"speed_10m_m_per_s": 10, "height_m": height_m},
        printed={"factor": (factor, 1e-12), "speed_m_per_s": (10 * factor, 1e-9)},
    )


def tip(angle_rad: float, printed_mm: float) -> Check:
    """One joint 40 m before the tip."""
    return Check(
        document="AASHTO LRFD Construction, deviation at joints (from memory)",
        place=f"{angle_rad:g} rad over 40 m (arithmetic)",
        name="tip-error",
        data={"joints": [{"at_m": 0, "error_rad": angle_rad}], "tip_m": 40},
        printed={"tip_mm": (printed_mm, 1e-9)},
    )


STATICS = [
    Check(
        document="Segment of 6.16 m2, 3.0 m, 25 kN/m3 at 36 m (arithmetic)",
        place="462 kN gives 16 632 kNm",
        name="balance",
        data={
            "arms": {"A": [{"weight_kn": 6.16 * 3 * 25, "lever_m": 36}], "B": []},
            "limit_knm": 16_632,
            "next": {
                "A": {"weight_kn": 0, "lever_m": 0},
                "B": {"weight_kn": 462, "lever_m": 36},
            },
        },
        printed={
            "moment_knm": (16_632, 1e-6),
            "after_b_knm": (0, 1e-6),
            "allowed": (["A", "B"], 0),
        },
    ),
    tip(0.001, 40),
    tip(0.003, 120),
    Check(
        document="VDOT/FDOT practice, one shim of 1/16 in",
        place="1.6 mm over 2.5 m moves a tip at 36 m by 23.0 mm (arithmetic)",
        name="shim",
        data={"thickness_mm": 1.6, "depth_m": 2.5, "tip_distance_m": 36},
        printed={"angle_rad": (0.00064, 1e-12), "tip_mm": (23.0, 0.05)},
    ),
    *(
        wind(height, factor)
        for height, factor in (
            (10, 1.00), (20, 1.10), (30, 1.17), (40, 1.22), (50, 1.26), (60, 1.29),
            (70, 1.32), (80, 1.35), (90, 1.37), (100, 1.39), (150, 1.47),
        )
    ),
]  # fmt: skip
