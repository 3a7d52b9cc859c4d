"""The limits of the sample site's sheets are those of the documents they name.

Each document's figure stands here in its own unit and is turned into the sheet's whole
number towards the safe side, as closely as the reading's own step allows.
"""

import math
import re
from typing import Any

import pytest

from tests.plan.sample import FIRST, compiled

DUCT, DAY = "t-1L", "g2-1"
KPA_PER_PSI = 6.894757
HOUR_MS = 3_600_000
DAY_MS = 24 * HOUR_MS


def celsius(fahrenheit: float) -> float:
    """Tenths of a degree, as the sheets keep a temperature."""
    return (fahrenheit - 32) / 1.8 * 10


def kpa(psi: float) -> float:
    return psi * KPA_PER_PSI


def stress(psi: float, to: int = 10) -> float:
    """Ten-thousandths of a MPa, up to a whole thousandth as people read it."""
    return math.ceil(kpa(psi) * 10 / to) * to


def sheet(subject: str) -> dict[str, Any]:
    return dict(compiled().sheets[subject])


def resolved(subject: str, name: Any, among: str) -> Any:
    """What a name of the sheet stands for."""
    while isinstance(name, str):
        name = sheet(subject)[among][name]
    return name


def bounds(subject: str, step: str, check: str) -> dict[str, int]:
    """The whole numbers a check holds its readings between."""
    checks = {c["id"]: c for c in sheet(subject)["steps"][step]["checks"]}
    found: dict[str, int] = {}
    waiting = [checks[check]["must"]]
    while waiting:
        word = resolved(subject, waiting.pop(), "conditions")
        waiting += word.get("of", [])
        for key in ("low", "high"):
            if word["word"] == "between" and key in word:
                found[key] = resolved(subject, word[key], "values")
    return found


AT_LEAST = [
    (FIRST, "cold-route", "whole", celsius(40)),
    # Above 45 °F: 7.2 °C is below it, the next reading is not.
    (FIRST, "cold-route", "air", celsius(45)),
    (FIRST, "cold-kept", "band", celsius(40)),
    (FIRST, "faces", "dew", 3.0 * 100),
    (FIRST, "squeeze-air", "start", 0.01 * 10_000),
    (DUCT, "grout-air", "start", kpa(50)),
    (DUCT, "grout-batch", "cold", 5 * 10),
    (DUCT, "flow-time", "cone", 11),
    (DUCT, "mud-balance", "cone", 11),
    (DUCT, "shut-off", "held", kpa(50)),
    (DUCT, "shut-off", "seconds", 10),
    (DUCT, "tendon-force", "force", 2344 * 0.95),
    (DUCT, "tendon-force", "extension", 78 * 0.93),
    (DAY, "frost-free", "concrete", 5 * 10),
    (DAY, "trial-mix", "cold", 5 * 10),
    (DAY, "trial-mix", "cone", 11),
]
AT_MOST = [
    (FIRST, "faces", "hot-stop", celsius(115)),
    (FIRST, "cold-route", "cap", celsius(95)),
    (FIRST, "cold-kept", "band", celsius(95)),
    (FIRST, "lift-ready", "mean", 9.0 * 10),
    (FIRST, "lift-ready", "gust", 12.0 * 10),
    (FIRST, "final-marks", "thick", 3 * 100),
    (FIRST, "final-marks", "vertical", 0.003 * 10**6),
    (FIRST, "final-marks", "plan", 0.001 * 10**6),
    (DUCT, "grout-air", "loss", kpa(25)),
    (DUCT, "grout-batch", "hot", celsius(90)),
    (DUCT, "flow-time", "cone", 30),
    (DUCT, "mud-balance", "cone", 30),
    (DUCT, "shut-off", "cap", kpa(100)),
    (DUCT, "shut-off", "held", kpa(75)),
    (DUCT, "tendon-force", "force", 2344 * 1.05),
    (DUCT, "tendon-force", "extension", 78 * 1.07),
    (DAY, "trial-mix", "hot", celsius(90)),
    (DAY, "trial-mix", "cone", 30),
]


@pytest.mark.parametrize(("subject", "step", "check", "wanted"), AT_LEAST)
def test_what_must_be_reached_is_the_documents_or_the_next_reading_above(
    subject: str, step: str, check: str, wanted: float
) -> None:
    assert bounds(subject, step, check)["low"] == math.ceil(wanted - 1e-6)


@pytest.mark.parametrize(("subject", "step", "check", "wanted"), AT_MOST)
def test_what_may_not_be_passed_is_the_documents_or_the_next_reading_below(
    subject: str, step: str, check: str, wanted: float
) -> None:
    assert bounds(subject, step, check)["high"] == math.floor(wanted + 1e-6)


def test_the_offset_of_the_faces_is_within_a_quarter_inch() -> None:
    assert bounds(FIRST, "dry-fit", "offset")["high"] == 6 * 10 < 25.4 / 4 * 10


def test_contact_pressure_is_asked_for_as_the_documents_have_it() -> None:
    for state in ("gear", "bars", "next"):
        found = sheet(FIRST)["conditions"]
        # 40 psi on average, 0.03 ksi anywhere, 0.5 MPa from corner to corner.
        assert found[f"stress.{state}.mean"]["low"] == stress(40) == 2760
        assert found[f"stress.{state}.least"]["low"] == stress(30) == 2070
        assert found[f"stress.{state}.spread"]["high"] == 5000
    texts = [each["text"] for each in sheet(FIRST)["points"]["weight"]["requires"]]
    figures = [re.findall(r"\d\.\d+", text) for text in texts]
    assert figures == [["0.276"], ["0.207"], ["0.5"]] * 2


def test_bars_are_held_to_lift_off_and_to_the_cap_of_what_is_used_again() -> None:
    last = {line["id"]: line for line in sheet(FIRST)["steps"]["bars"]["lines"]}
    numbers = last["b1-r3"]["numbers"]
    assert numbers["low"] == 450 * 0.95 * 10
    assert numbers["high"] == 450 * 1.05 * 10
    # Characteristic strength of a 32 mm bar 950/1050: 845 kN.
    assert numbers["cap"] == 845 * 0.60 * 10


def test_time_or_strength_frees_the_force() -> None:
    found = resolved(FIRST, "hardened", "conditions")["of"]
    assert [each["low"] for each in found] == [24 * HOUR_MS, 20 * 10]


def clocks(subject: str) -> dict[str, dict[str, Any]]:
    return {clock["id"]: clock for clock in sheet(subject)["clocks"]}


@pytest.mark.parametrize(
    ("clock", "ratio", "wanted"),
    [
        ("in-duct", "by", 7 * DAY_MS),
        ("in-duct", "by-mild", 15 * DAY_MS),
        ("in-duct", "by-dry", 20 * DAY_MS),
        ("in-tension", "by", 14 * DAY_MS),
        ("to-engineer", "seen", 3 * DAY_MS),
        ("tested", "again", 2 * HOUR_MS),
    ],
)
def test_a_tendons_days_and_hours_are_the_documents(
    clock: str, ratio: str, wanted: int
) -> None:
    found = clocks(DUCT)[clock]
    (share,) = (each for each in found["ratios"] if each["id"] == ratio)
    assert share["cap_ms"] == wanted


@pytest.mark.parametrize("adhesive", ["cool", "warm", "hot"])
def test_the_adhesives_clocks_are_the_documents(adhesive: str) -> None:
    found = clocks(FIRST)
    film, pot = found[f"open-{adhesive}"], found[f"pot-{adhesive}"]
    # From the first kit combined, to contact pressure, at most 70 % of the open time.
    assert (film["start"], film["until"]) == (f"mix-{adhesive}", "pressure")
    shares = {each["id"]: (each["num"], each["den"]) for each in film["ratios"]}
    assert shares["pressure"] == (7, 10)
    # A kit is on the face within 20 minutes of its own combining, or sooner.
    (face,) = pot["ratios"]
    assert (pot["start"], pot["until"]) == (f"mix-{adhesive}", "spread")
    assert face["cap_ms"] == 20 * 60_000


def test_what_must_pass_first_is_a_day() -> None:
    for subject, hold in ((FIRST, "lock-out"), (DUCT, "vents-wait")):
        (found,) = (each for each in sheet(subject)["holds"] if each["id"] == hold)
        assert found["ms"] == DAY_MS
