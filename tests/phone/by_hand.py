"""The sample joint played by thumbs alone: every figure typed, every choice tapped.

Slow, and only for what is tested by thumbs; elsewhere the gang tells its phone at
once (`gang.py`).
"""

import contextlib
from collections.abc import Collection
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from PIL import Image
from playwright.sync_api import FilePayload
from playwright.sync_api import TimeoutError as Vanished

from tests.phone.gang import (
    DRY,
    FACES,
    FACES_TITLE,
    FIGURES,
    JOINT,
    PINS,
    WARM,
    YES,
    Gang,
)
from tests.phone.handset import DOUBLE_TAP_MS, Handset

GIVEN = "document.querySelectorAll('#releases [data-given=yes]').length"
MOST_ACTS = 60
OWN = ("faces", "ready")
"""Steps with answers of their own here: which of several readings, which adhesive."""
REDRAWN_MS = 6_000
MOST_LOOKS = 1_500
CAMERA_PX = (640, 480)
LOOK_MS = 40
FINGER_MS = 1_000
ANSWER_MS = 10_000
SHOWN = """() => [
  document.body.dataset.screen, location.hash,
  document.querySelector(".field.active")?.dataset.field,
  document.querySelector("#dock [aria-pressed='true']")?.dataset.value,
  document.querySelectorAll("#dock .thumb img").length,
].join()"""
"""What of a form changes by every answer that is taken."""
COUNT = """() => {
  window.tapped = [];
  document.addEventListener("click", ({ target }) => {
    const key = target.closest("[data-key]");
    window.tapped.push({
      key: key && !key.closest(".pinpad") ? key.dataset.key : "",
      pin: Boolean(key?.closest(".pinpad")),
      step: target.closest("[data-step]")?.dataset.step
        ?? location.hash.split("/")[3] ?? "",
    });
  }, true);
}"""
"""Notes every tap from now on: the key of a figure, or a key of the screen."""


@dataclass(frozen=True, slots=True)
class Taps:
    """Taps in their order, each with the figure's key and the screen it was on."""

    told: list[dict[str, Any]]

    def figures(self) -> int:
        """Count the figures typed: runs of digits."""
        keys = [tap["key"] for tap in self.told]
        ends = zip(keys, [*keys[1:], ""], strict=True)
        return sum(_is_digit(key) and not _is_digit(then) for key, then in ends)

    def others(self, *, without: Collection[str]) -> int:
        """Count taps that type no digit and no PIN, but those for some steps."""
        return sum(
            not _is_digit(tap["key"]) and not tap["pin"] and tap["step"] not in without
            for tap in self.told
        )

    def of(self, step: str) -> int:
        """Count all taps for a step."""
        return sum(tap["step"] == step for tap in self.told)


@dataclass(frozen=True, slots=True)
class ByHand:
    """A gang that taps; `gang.acts` is what its main buttons said, in order."""

    gang: Gang

    @property
    def phone(self) -> Handset:
        """Give the phone the gang stands round."""
        return self.gang.phone

    def hang_segment(self) -> None:
        """From the day before to the open gap, with the lift's two releases."""
        self.go_on()
        self.look_across()
        self.release("brannoc")
        self.release("edric")
        self.fit()

    def fit(self) -> None:
        """From the released lift to the open gap."""
        for _ in range(MOST_ACTS):
            if self._asks("faces") or self.gang.asked().startswith(FACES_TITLE):
                return
            self.one_act()
        raise AssertionError("the faces were never asked for")

    def look_across(self) -> None:
        """Sign what was seen of the other arm, which no phone here has heard."""
        self.gang.act()
        self.phone.sees("Nothing was ever heard of the other arm", "#arm-heard")
        self.phone.tap("#sighting button")
        # Read before it is signed: meanwhile the screen is drawn anew.
        self.phone.page.wait_for_timeout(REDRAWN_MS)
        self.phone.tap("#sign-sighting")
        self.phone.sees("last heard or seen", "#arm-heard")
        self.phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
        self.phone.until("() => document.body.dataset.screen === 'joint'")

    def prepare_surfaces(self) -> None:
        """Record both faces and the air, and that all is ready."""
        self.read_faces()
        # Not the adhesive of the day before: its lots are asked for first.
        self.phone.sees("Lots, warm", "#dock")
        self.one_act()
        self.say_ready()

    def read_faces(self) -> None:
        """Record both faces and the air."""
        if not self._asks("faces"):
            self.gang.act()
        self.gang.choose(DRY)
        self.gang.choose(DRY)
        for figure in FACES:
            self.gang.figure(figure)
        self.gang.choose_first()
        self.gang.choose(WARM)
        self.gang.choose(YES)
        self.gang.save()

    def say_ready(self) -> None:
        """Record that all is ready for mixing."""
        # By itself after the faces, or as the joint's next key.
        self.phone.sees("Ready to mix")
        if not self._asks("ready"):
            self.gang.act()
        self.gang.choose(YES)
        self.gang.choose(YES)
        self.gang.save()
        self.phone.sees("Look and decide", "#dock")

    def release(self, person: str) -> None:
        """Look at the gate that is next and release it by PIN."""
        self.gang.act()
        self.phone.sees(":", "#releases")
        given = self.phone.page.evaluate(f"() => {GIVEN}")
        self.phone.tap("#release")
        # Where several may sign, the phone asks who; where one may, for the PIN.
        self.phone.until("() => document.querySelector('#over .sheet') !== null")
        if self.phone.page.locator(f'#over [data-person="{person}"]').count():
            self.phone.tap(f'#over [data-person="{person}"]')
        self.phone.type_pin(PINS[person])
        self.phone.until(
            f"() => location.hash === '#/joint/{JOINT}' || {GIVEN} > {given}"
        )
        # Where another must still sign, the point stays for the next person; where
        # nobody must, the joint comes by itself, just now or soon.
        self.phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
        self.phone.until("() => document.body.dataset.screen === 'joint'")

    def go_on(self) -> None:
        """Do what the big buttons ask until a gate is next."""
        for _ in range(MOST_ACTS):
            if self.gang.asked().startswith("Look and decide"):
                return
            self.one_act()
        raise AssertionError("no gate was ever next")

    def take_weight_off(self) -> None:
        """Record stage by stage that the weight goes from the hook to the bars."""
        self.gang.act()
        self._slack_to("470")
        self.gang.act()
        # Stages with a target follow one another by themselves.
        for _ in range(4):
            self._slack_to("")

    def _slack_to(self, left: str) -> None:
        if left:
            self.gang.figure(left)
        else:
            self.gang.tap_slowly("#dock .target")
        self.gang.choose(YES)
        self.gang.save()

    def sign_off(self) -> None:
        """Review what is to be reviewed, test the ducts, let the force be reduced."""
        # So soon no pot has gelled, nor grew a reading old: the review wants one more.
        self.gang.act()
        self.gang.choose("2")
        self.phone.tap('[data-step="face-temp"] .row')
        self.one_act()
        self.release("leofric")
        self.release("leofric")
        self.one_act()
        self.release("leofric")
        self.phone.tap('[data-step="cubes"] .row')
        self.phone.tap('[data-step="cubes"] [data-line]')
        self.gang.figure("31")
        self.release("edric")

    def count(self) -> None:
        """Note every tap from now on."""
        self.phone.page.evaluate(COUNT)

    def counted(self) -> "Taps":
        """Give what was tapped since `count`, and begin anew."""
        found = self.phone.page.evaluate("() => window.tapped.splice(0)")
        return Taps(found)

    def one_act(self) -> None:
        """Do the first thing asked and wait until it is saved."""
        before = len(self.phone.storage("entries"))
        self.gang.act()
        self.finish(before)

    def finish(self, before: int | None = None) -> None:
        """Answer what is left of a form, and of those that follow it by themselves."""
        if before is None:
            before = len(self.phone.storage("entries"))
        for _ in range(MOST_LOOKS):
            self.phone.page.wait_for_timeout(LOOK_MS)
            is_there = self._on("joint") or any(self._asks(one) for one in OWN)
            if is_there and len(self.phone.storage("entries")) > before:
                return
            if self._on("form"):
                shown = self.phone.page.evaluate(SHOWN)
                self._answer()
                self._await_other(shown)
        raise AssertionError("the form never came to its end")

    def _answer(self) -> None:
        page = self.phone.page
        # A form that is being saved may go away under the finger.
        with contextlib.suppress(Vanished):
            if page.locator("#dock .target").count():
                page.wait_for_timeout(DOUBLE_TAP_MS)
                page.locator("#dock .target").click(timeout=FINGER_MS)
            elif page.locator('[data-field="photos"].active').count():
                self._photograph()
            elif page.locator('#dock [data-value][aria-pressed="true"]').count():
                page.locator('#dock [data-key="go"]').click(timeout=FINGER_MS)
            elif page.locator("#dock [data-value]").count():
                # Not as fast as a double tap, which answers one question only.
                page.wait_for_timeout(DOUBLE_TAP_MS)
                page.locator("#dock [data-value]").first.click(timeout=FINGER_MS)
            else:
                label = page.locator(".field.active .flabel").inner_text()
                self.gang.figure(
                    next((v for k, v in FIGURES.items() if k in label), "2")
                )

    def _await_other(self, shown: str) -> None:
        """Wait for what a tap led to: an impatient thumb would count as more taps."""
        with contextlib.suppress(Vanished):
            self.phone.page.wait_for_function(
                f"before => ({SHOWN})() !== before", arg=shown, timeout=ANSWER_MS
            )

    def _photograph(self) -> None:
        """Take the photo that is asked for, and save once it is there."""
        if self.phone.page.locator("#dock .thumb img").count():
            self.phone.page.locator('#dock [data-key="go"]').click(timeout=FINGER_MS)
        else:
            self.phone.page.set_input_files("#camera", photo(), timeout=FINGER_MS)
            self.phone.page.wait_for_timeout(LOOK_MS)

    def _asks(self, step: str) -> bool:
        asked: str = self.phone.page.evaluate("() => location.hash")
        return asked.startswith(f"#/form/{JOINT}/{step}/") and self._on("form")

    def _on(self, screen: str) -> bool:
        found: str = self.phone.page.evaluate("() => document.body.dataset.screen")
        return found == screen


def _is_digit(key: str) -> bool:
    return key.isdigit() or key in {".", "minus"}


def photo() -> FilePayload:
    """Give a picture of a plain face, as a camera would."""
    out = BytesIO()
    Image.new("RGB", CAMERA_PX, (150, 150, 140)).save(out, "JPEG")
    return {"name": "face.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}
