"""In which order and company the calculations are listed, and advice on their forms.

Only words: a calculation that is missing here is listed at the end.
"""

from collections.abc import Iterable

from fieldapp.calc import catalogue
from fieldapp.calc.calculation import Calculation

GROUPS = (
    ("Before mixing", ("joint-window", "dew-point", "adhesive-life",
                       "adhesive-quantity")),
    ("The joint's face", ("section", "joint-stress")),
    ("Bars, jacks, tendons", ("bar-extension", "jack", "tendon", "extension-check")),
    ("Grout", ("air-test", "grout-volume", "grout-mix")),
    ("Balance and line", ("balance", "tip-error", "shim", "wind")),
)  # fmt: skip
ADVICE = {
    "dew-point": "Give the readings of both faces, or the coldest one alone, or none.",
    "adhesive-life": "To plan, give the planning temperature. For a running clock, "
    "leave it blank and give the readings since the first kit, the first at minute 0.",
    "jack": "Give the certified points, or the ram's area where there is no "
    "certificate; and either a pressure or a force.",
    "balance": "Give one limit for both sides, or one for each. Leave a side of the "
    "next lift blank where nothing is to be hung.",
    "extension-check": "Readings before draw-in. Give all four of area and modulus, "
    "or none.",
    "joint-stress": "Moments of a state are added to those that always act. The "
    "weight of an overhanging segment is negative at its joint.",
    "air-test": "Gauge pressures. Give both temperatures of the air, or neither.",
    "tip-error": "Angles turn the tip up where they are positive.",
    "joint-window": "The first hours of the forecast count from midnight. It plans; it "
    "never grants leave to mix.",
}

MADE_UP = "numbers made up for trying out"
EXAMPLES = {
    "tendon": "beam of 20 m, UTM OpenCourseWare SAB 4323, topic 4, example 4.3, with "
    "strand in a jack added",
}
"""Where an example's numbers come from, if they are not made up."""


def grouped() -> list[tuple[str, list[Calculation]]]:
    """Give the calculations in their groups, in the order of the work."""
    listed = {name for _, names in GROUPS for name in names}
    rest = tuple(name for name in catalogue.names() if name not in listed)
    groups = [(title, _known(names)) for title, names in (*GROUPS, ("Others", rest))]
    return [(title, found) for title, found in groups if found]


def _known(names: Iterable[str]) -> list[Calculation]:
    return [catalogue.get(name) for name in names if name in catalogue.names()]
