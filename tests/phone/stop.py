"""One stop of a walk through the phone's screens: how it is come to, in any language.

What a stop does on its screen is text for `phone_walk.js`; it may be done again.
"""

from dataclasses import dataclass
from pathlib import Path

from axe_playwright_python.base import AXE_SCRIPT

from tests.phone.gang import Gang

JS = Path(__file__).resolve().parents[1] / "js"
TEXTS = tuple((JS / name).read_text("utf-8") for name in
              ("phone_look.js", "phone_walk.js"))  # fmt: skip
NAMES = (
    "look, grow, walk, tap, seen, type, figure, pin, give, frames, parcel, picture, "
    "codesOf"
)
"""What the page has at hand while it is walked."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One screen in one state."""

    name: str
    route: str
    doing: str = ""
    """What is done on the screen once it is shown (JavaScript)."""
    slow: bool = False
    """Whether it takes a key of its own to show, half a second and more."""


def begin(gang: Gang) -> None:
    """Hand the page what looks and walks."""
    page = gang.phone.page
    page.evaluate(AXE_SCRIPT)
    # Kept for the evaluations to come; the page itself never sees this text.
    texts = ";".join(TEXTS)
    page.evaluate(f"() => {{ {texts}; Object.assign(window, {{ {NAMES} }}); }}")


def show(gang: Gang, stop: Stop, language: str) -> None:
    """Show a stop anew in a language, and do there what it does."""
    page = gang.phone.page
    page.evaluate("(all) => walk.show(...all)", [stop.route, language])
    if stop.doing:
        page.evaluate(f"async () => {{ {stop.doing} await frames(2); }}")


def typed(code: str) -> str:
    """Type an office's code and go on (JavaScript)."""
    return f"await type('#code', '{code}'); await tap('#dock .main');"
