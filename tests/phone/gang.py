"""A gang round one phone: what leads up to a test is told to the phone's own journal.

Its readings are those of a mild, dry day on which everything goes well; a test that
wants trouble makes it itself, by the screens. `by_hand.py` taps all of it.
"""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.phone.handset import DOUBLE_TAP_MS, Handset
from tests.phone.office import Office

JOINT, TITLE = "j-w1", "Joint W1"
PINS = {
    "jorun": "274951",  # foreman
    "leofric": "830264",  # inspector
    "edric": "551907",  # erection engineer
    "caspar": "662018",  # designer's engineer
    "brannoc": "417385",  # lifting supervisor
}
FACES_TITLE = "Faces and air"
FACES = ("18,4", "21.5", "17.9", "20", "22.5", "61")
DRY, WARM, YES = "1", "2", "1"
ALL_READ: dict[str, Any] = {
    "rag-new": 1, "rag-old": 1, "cold-new": 184, "hot-new": 215, "cold-old": 179,
    "hot-old": 200, "air": 225, "humidity": 61, "formulation": 2, "seals": 1,
}  # fmt: skip
"""The same readings as they are kept: tenths of a degree, options by their value."""
FIGURES = {
    "Gust forecast": "6", "load left": "4", "Hook load": "489", "offset": "2",
    "point": "22",
    "Above": "201", "Below": "201", "at the start": "10,4", "Least after": "10,1",
    "Compressive": "31", "Extension": "11",
}  # fmt: skip
"""What is typed where a label has these words; elsewhere 2."""
TELL = Path(__file__).resolve().parents[1] / "js" / "gang_tells.js"

TIMES_OVER = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.nonconformances.filter(({ code }) => code === "clock_over")
    .map(({ id }) => id);
}"""
"""Gives the ids of what was raised by clocks that are over."""


@dataclass(slots=True)
class Gang:
    """People round one phone; `acts` is what its main buttons said, in order."""

    phone: Handset
    acts: list[str] = field(default_factory=list)

    def enrol_everybody(self, office: Office) -> None:
        """Put everybody on the phone and start the foreman's shift."""
        for place, (person, pin) in enumerate(PINS.items()):
            if place:
                self.phone.tap("#add-person")
            self.phone.enrol(office.code(person), pin)
        # The sheets and the roster come by themselves.
        cards = "() => document.querySelectorAll('article.card').length"
        self.phone.until(f"{cards} === {len(PINS)}")
        for role in ("Designer's engineer", "Lifting supervisor"):
            self.phone.sees(role)
        self.phone.start_shift("jorun", PINS["jorun"])

    def open_joint(self) -> None:
        """Go in by the elevation's list."""
        self.phone.tap("#more")
        self.phone.tap("#to-site")
        self.phone.tap(f'[data-subject="{JOINT}"]')
        self.phone.sees(TITLE, "#head")

    def tell(self, *acts: dict[str, Any]) -> list[dict[str, Any]]:
        """Have acts recorded as their forms would; gives what was recorded."""
        script = f"(told) => {{ {TELL.read_text('utf-8')}; return tell(told); }}"
        found: list[dict[str, Any]] = self.phone.page.evaluate(
            script, {"acts": list(acts)}
        )
        return found

    def prepare_surfaces(self) -> None:
        """Have both faces and the air recorded, and that all is ready."""
        self.tell({"step": "faces", "values": ALL_READ}, {"step": "ready"})
        self.phone.sees("Look and decide", "#dock")

    def release(self, person: str) -> None:
        """Have the gate that is next released by somebody's PIN."""
        self.tell({"release": person, "pin": PINS[person]})

    def sign(self, draft: dict[str, Any], person: str = "") -> None:
        """Have any other entry signed: by somebody's PIN, or in the shift."""
        self.tell({"sign": draft, "person": person, "pin": PINS.get(person, "")})

    def go_on(self, until: str = "gate") -> None:
        """Have recorded what the big buttons ask until a gate, or a step, is next."""
        figures = {label: float(text.replace(",", ".")) for label, text in
                   FIGURES.items()}  # fmt: skip
        self.tell({"until": until, "figures": figures})

    def clock_on(self, minutes: int) -> None:
        """Put the phone's clock on by some minutes, or back; it runs on from there."""
        self.phone.page.evaluate(
            """(minutes) => {
              const real = Date.now;
              Date.now = () => real() + minutes * 60_000;
            }""",
            minutes,
        )

    def first_kit_at(self, at_ms: int) -> None:
        """Have the first kit recorded as mixed earlier."""
        self.tell({"step": "mix-warm", "at": at_ms})

    def dispose(self, person: str, verdict: str, start: str, reason: str) -> None:
        """Dispose of the first nonconformance: again from a step, by PIN."""
        self.phone.tap("#nonconformances")
        self.phone.tap("[data-fault]")
        self.phone.tap(f'[data-verdict="{verdict}"]')
        self.phone.tap(f'[data-from="{start}"]')
        self.phone.page.fill("#screen textarea", reason)
        self.phone.tap("#dispose")
        self.phone.type_pin(PINS[person])
        self.phone.until("() => location.hash.startsWith('#/joint/')")

    def asked(self) -> str:
        """Give what the first main button says."""
        return self.phone.page.locator("#dock .main").first.inner_text()

    def act(self) -> None:
        """Tap the main button of the joint's screen, once it is there."""
        self.phone.until("() => document.body.dataset.screen === 'joint'")
        self.acts.append(self.asked())
        self.phone.tap("#dock .main")

    def choose(self, value: str) -> None:
        """Tap the choice with a value, not as fast as a double tap."""
        self.tap_slowly(f'#dock [data-value="{value}"]')

    def choose_first(self) -> None:
        """Tap the first choice there is."""
        self.tap_slowly("#dock [data-value]")

    def tap_slowly(self, selector: str) -> None:
        """Tap what a form offers, not as fast as a double tap after it came."""
        self.phone.page.locator(selector).first.wait_for()
        self.phone.page.wait_for_timeout(DOUBLE_TAP_MS)
        self.phone.tap(selector)

    def figure(self, text: str) -> None:
        """Type a figure and go on."""
        self.phone.type_figure(text)
        self.save()

    def save(self) -> None:
        """Tap the key that goes on or saves."""
        self.phone.tap('#dock [data-key="go"]')
