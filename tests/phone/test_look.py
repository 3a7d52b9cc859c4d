"""Made for gloves, sun and night: every screen and state as a browser lays it out.

One phone walks through all of them once (`walk.py`); the tests judge what was seen.
Each stop is looked at in one language after the other, every third with every word two
fifths longer; `look_all.py` looks at all of them in all, on demand.
"""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Playwright

from tests.phone.conftest import Enrolled
from tests.phone.gang import TITLE, Gang
from tests.phone.handset import Handset
from tests.phone.office import Office
from tests.phone.stop import Stop, begin, show
from tests.phone.walk import stops

ROOT = Path(__file__).resolve().parents[2]
SMALLEST_PX, PRIMARY_PX, MAIN_PX = 60, 76, 120
LEAST_CONTRAST = 7
NARROW, USUAL = (320, 640), (360, 740)
LANGUAGES, THEMES = ("en", "de", "es"), ("sun", "night")


@dataclass(slots=True)
class Seen:
    """What was seen; each entry names its state, screen and how it was looked at."""

    targets: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    colours: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    cut: list[tuple[str, str]] = field(default_factory=list)
    faults: list[tuple[str, str]] = field(default_factory=list)
    screens: set[str] = field(default_factory=set)
    planted: list[str] = field(default_factory=list)


@pytest.fixture(scope="module")
def seen(
    playwright: Playwright, enrolled: Enrolled, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Seen]:
    profile = tmp_path_factory.mktemp("look") / "gang"
    shutil.copytree(enrolled.profile, profile, symlinks=True)
    shutil.copytree(enrolled.data, profile.parent / "office")
    office = Office(data=profile.parent / "office", port=enrolled.port)
    phone = Handset(
        playwright=playwright, profile=profile, url=office.url, quick_pins=True
    )
    try:
        phone.start()
        phone.sees(TITLE, "#head")
        gang, found = Gang(phone), Seen()
        begin(gang)
        for place, stop in enumerate(stops(gang, office, profile.parent)):
            _look(gang, place, stop, found)
        found.planted = phone.page.evaluate(_PLANT)
        yield found
    finally:
        phone.kill()
        office.kill()
    assert phone.faults == []


def test_every_screen_was_seen(seen: Seen) -> None:
    main = (ROOT / "static" / "phone" / "main.js").read_text("utf-8")
    listed = re.findall(r"^  (\w+): (?:async )?\(\) =>", main, re.MULTILINE)
    assert len(listed) > 10
    assert set(listed) - seen.screens == set()


def test_every_target_is_large_enough_for_gloves(seen: Seen) -> None:
    small = []
    for where, box in seen.targets:
        kinds = box["kind"].split()
        wanted = MAIN_PX if "main" in kinds else SMALLEST_PX
        if {"act", "plain", "choice", "key", "nav", "stop"} & set(kinds):
            wanted = PRIMARY_PX
        if box["height"] < wanted or box["width"] < SMALLEST_PX:
            small.append((where, box))
    assert small == []


def test_primary_targets_lie_in_the_lower_half(seen: Seen) -> None:
    high = [
        (where, box)
        for where, box in seen.targets
        if "main" in box["kind"].split() and box["bottom"] < USUAL[1] / 2
    ]
    assert high == []


def test_every_text_stands_out_in_sun_and_at_night(seen: Seen) -> None:
    faint = {
        (text["ink"], text["paper"]): (where, text["text"])
        for where, text in seen.colours
        if contrast(text["ink"], text["paper"]) < LEAST_CONTRAST
    }
    assert faint == {}
    assert {where.split()[-1] for where, _ in seen.colours} == {"sun", "night"}


def test_no_text_is_cut_off_or_runs_out_of_the_screen_in_any_language(
    seen: Seen,
) -> None:
    assert "\n".join(f"{found} at {where}" for where, found in seen.cut) == ""
    # A key whose word is too long for it, put there on purpose, was found.
    assert "out of its box: Freigabebestätigung" in seen.planted


def test_no_screen_shuts_anybody_out(seen: Seen) -> None:
    assert "\n".join(f"{fault} at {where}" for where, fault in seen.faults) == ""


def test_the_contrast_of_black_on_white_is_21() -> None:
    # WCAG 2.2, "contrast ratio": 21:1 for black on white, 1:1 for the same colour.
    assert contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21)
    assert contrast("rgb(9, 9, 9)", "rgb(9, 9, 9)") == pytest.approx(1)


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of two colours. Source: WCAG 2.2, contrast ratio."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    # Source: WCAG 2.2, relative luminance.
    parts = [float(part) / 255 for part in colour[4:-1].split(",")]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _look(gang: Gang, place: int, stop: Stop, seen: Seen) -> None:
    """Look at a stop in both themes, and narrow with words as they are and longer."""
    page = gang.phone.page
    language = LANGUAGES[0] if stop.slow else LANGUAGES[place % len(LANGUAGES)]
    where = f"{stop.name}, {language}"

    def size(wanted: tuple[int, int]) -> None:
        page.set_viewport_size({"width": wanted[0], "height": wanted[1]})

    size(NARROW)
    show(gang, stop, language)
    seen.screens.add(page.evaluate("() => document.body.dataset.screen"))
    seen.cut += [(where, each) for each in page.evaluate("() => look.cut()")]
    size(USUAL)
    seen.cut += [(where, each) for each in page.evaluate("() => look.cut()")]
    seen.targets += [(where, each) for each in page.evaluate("() => look.targets()")]
    # The theme that is looked at last is the one axe sees.
    for theme in THEMES if place % 2 else reversed(THEMES):
        page.evaluate("(theme) => walk.theme(theme)", theme)
        found = page.evaluate("() => look.colours()")
        assert found, f"{where} shows nothing"
        seen.colours += [(f"{where} {theme}", each) for each in found]
    seen.faults += [(where, each) for each in page.evaluate("() => look.faults()")]
    if not stop.slow and place % len(LANGUAGES) == 0:
        size(NARROW)
        show(gang, stop, "longer")
        found = page.evaluate("() => look.cut()")
        seen.cut += [(f"{stop.name}, longer", each) for each in found]


_PLANT = """() => {
  const key = document.createElement("button");
  key.style.width = "60px";
  key.textContent = "Freigabebestätigung";
  document.getElementById("screen").prepend(key);
  return look.cut();
}"""
