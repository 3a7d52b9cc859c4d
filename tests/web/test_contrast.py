"""Text of the desk reaches 7 to 1 on every ground, computed from its style sheet.

Contrast after WCAG 2.2, "relative luminance" and "contrast ratio".
"""

import re
from itertools import product

import pytest

from tests.sources import ROOT

STYLE = (ROOT / "static" / "css" / "desk.css").read_text("utf-8")
LEAST = 7.0
WASHES = ("red", "yellow", "green", "blue", "grey")
GROUNDS = ("ground", "paper", *(f"{tone}-wash" for tone in WASHES))
# Any word may stand on any ground; a tone stands on its own wash and on plain ones.
PAIRS = [
    *product(("ink", "soft"), GROUNDS),
    *product(WASHES, ("ground", "paper", "grey-wash")),
    *((tone, f"{tone}-wash") for tone in WASHES if tone != "grey"),
    ("bar-ink", "bar"),
]


def colours(theme: str) -> dict[str, str]:
    """Give the colours of a theme by name."""
    light, dark = re.findall(r":root \{(.*?)\}", STYLE, re.DOTALL)
    text = light if theme == "light" else dark
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", text))


def contrast(one: str, other: str) -> float:
    brighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (brighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_contrast_is_computed_as_the_guideline_says() -> None:
    # WCAG 2.2: black on white is 21 to 1. #767676 on white is known to just pass 4.5.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), PAIRS, ids="-on-".join)
def test_text_stands_out_from_its_ground(theme: str, text: str, ground: str) -> None:
    known = colours(theme)
    assert contrast(known[text], known[ground]) >= LEAST
