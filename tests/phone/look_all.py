"""Pictures of every screen and state of the phone, in every width, theme and language.

On demand, not a test: `python -m tests.phone.look_all FOLDER [--language de]
[--theme night] [--hand left] [--only TEXT]`. Keeps a picture of each stop of the walk
at each width, contact sheets of them, and tells what is cut off or what axe found.
Looking is yours.
"""

import argparse
import time
from dataclasses import dataclass, field
from pathlib import Path

from PIL import Image
from playwright.sync_api import Error

from tests.phone.alone import gang_alone
from tests.phone.gang import TITLE, Gang
from tests.phone.stop import Stop, begin, show
from tests.phone.walk import stops

SIZES = ((320, 640), (360, 740), (412, 892))
LANGUAGES, THEMES = ("en", "de", "es"), ("sun", "night")
ACROSS, DOWN, GAP = 6, 2, 8


@dataclass(slots=True)
class Eye:
    """Keeps a picture of each stop and what a browser finds at fault there."""

    gang: Gang
    folder: Path
    language: str
    theme: str
    only: str = ""
    faults: int = 0
    began: float = field(default_factory=time.monotonic)
    kept: dict[int, list[Path]] = field(default_factory=dict)

    def look(self, place: int, stop: Stop) -> None:
        """Look at one stop in every width."""
        page = self.gang.phone.page
        print(f"{time.monotonic() - self.began:.1f} s {stop.name}", flush=True)
        if self.only not in stop.name:
            return
        for width, height in SIZES:
            page.set_viewport_size({"width": width, "height": height})
            if width == SIZES[0][0]:
                show(self.gang, stop, self.language)
                page.evaluate("(theme) => walk.theme(theme)", self.theme)
            where = f"{stop.name} {width} {self.language} {self.theme}"
            self._note(where, page.evaluate("() => look.cut()"))
            name = f"{place:03} {where}".replace(" ", "-").replace(",", "")
            kept = self.folder / f"{name}.png"
            page.screenshot(path=str(kept))
            self.kept.setdefault(width, []).append(kept)
        self._note(where, page.evaluate("() => look.faults()"))

    def _note(self, where: str, found: list[str]) -> None:
        for fault in found:
            self.say(f"{fault} at {where}")

    def say(self, fault: str) -> None:
        """Tell what was found, at once."""
        self.faults += 1
        print(fault, flush=True)

    def sheets(self) -> None:
        """Lay the pictures out side by side, some of them a sheet."""
        for width, pictures in self.kept.items():
            for start in range(0, len(pictures), ACROSS * DOWN):
                sheet = _laid(pictures[start : start + ACROSS * DOWN])
                name = f"sheet-{self.language}-{self.theme}-{width}-{start:03}.png"
                sheet.save(self.folder / name)


def _laid(pictures: list[Path]) -> Image.Image:
    seen = [Image.open(each) for each in pictures]
    width, height = (side + GAP for side in seen[0].size)
    sheet = Image.new("RGB", (width * ACROSS, height * DOWN), (120, 120, 120))
    for place, each in enumerate(seen):
        sheet.paste(each, (place % ACROSS * width, place // ACROSS * height))
    return sheet


def main() -> None:
    """Enrol a gang, walk with it, and keep what was seen."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--language", choices=(*LANGUAGES, "longer"), default="en")
    asked.add_argument("--theme", choices=THEMES, default="sun")
    asked.add_argument("--hand", choices=("right", "left"), default="right")
    asked.add_argument("--only", default="", help="part of the stops' names")
    wished = asked.parse_args()
    wished.folder.mkdir(parents=True, exist_ok=True)
    with gang_alone() as (gang, office, work):
        phone = gang.phone
        phone.sees(TITLE, "#head")
        begin(gang)
        phone.page.evaluate(_HAND, wished.hand)
        eye = Eye(gang, wished.folder, wished.language, wished.theme, wished.only)
        try:
            for place, stop in enumerate(stops(gang, office, work)):
                try:
                    eye.look(place, stop)
                except Error as fault:
                    eye.say(f"{stop.name}: {fault} {phone.faults}")
        finally:
            eye.sheets()
    print(f"{eye.faults} faults", *phone.faults, sep="\n")


_HAND = """async (hand) => {
  const { setSetting } = await import("/phone/screens/settings.js");
  await setSetting("hand", hand);
}"""


if __name__ == "__main__":
    main()
