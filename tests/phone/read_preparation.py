"""How long a foreman who reads every word takes from opening a joint to its call.

On demand: `python -m tests.phone.read_preparation FOLDER [--language de]`. A gang plays
the sample joint by thumbs from the day before to the call at its mixing gate; at every
tap the words on the screen that were not there before are counted. Says what each step
cost. What is done with the hands between the taps is not counted, nor what others
read and sign: the two who release the lift.
"""

import argparse
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise
from pathlib import Path
from typing import Any

from tests.phone.alone import gang_apart
from tests.phone.by_hand import ByHand
from tests.phone.gang import WARM, Gang
from tests.phone.handset import Handset
from tests.phone.office import Office
from tests.phone.read_points import WORDS_A_MINUTE

TAP_S, DIGIT_S, SCREEN_S = 1.1, 0.3, 0.5
"""A key found and tapped, a further digit, another kind of screen that comes. After the
keystroke level model's pointing and keying (from memory, confirm)."""
DAY = """() => {
  window.read = [];
  const seen = new Set();
  const words = (text) => (text.match(/\\S*[\\p{L}\\p{N}]\\S*/gu) ?? []).length;
  const inSight = (one, of) => {
    const [box, room] = [one.getBoundingClientRect(), of.getBoundingClientRect()];
    return box.height > 0 && box.bottom > room.top + 8 && box.top < room.bottom - 8;
  };
  const told = () => [...document.querySelectorAll("#screen *, #dock *, #over *")]
    // Of a list of things one looks for the mark in hand.
    .filter((one) => !one.closest(".pinpad, .pad, svg")
      && !(one.closest(".ask:has(#label) .choice")
        && !one.closest("[aria-pressed=true]")))
    .map((one) => [one, [...one.childNodes].filter(({ nodeType }) => nodeType === 3)
      .map(({ data }) => data.trim()).join(" ").trim()])
    // A caution is whole once, then its first sentence: that one was read.
    .flatMap(([one, text]) => text.split(/ \u00b7 |(?<=[.!?]) /)
      .map((part) => [one, part]))
    .filter(([one, text]) => text && (document.body.dataset.screen === "form"
      ? one.getBoundingClientRect().height > 0
      : inSight(one, one.closest("#screen, #dock, #over"))));
  document.addEventListener("click", ({ target }) => {
    const key = target.closest("[data-key]")?.dataset.key ?? "";
    // What says the same in several places is read once; a figure when it is whole.
    const isTyping = /^(\\d|\\.|minus)$/.test(key);
    const fresh = isTyping ? [] : [...new Set(told().map(([, text]) => text))]
      .filter((text) => !seen.has(text));
    for (const text of fresh) seen.add(text);
    const step = location.hash.split("/")[3] ?? "";
    window.read.push({
      key, pin: Boolean(target.closest(".pinpad")),
      screen: document.body.dataset.screen,
      calls: Boolean(target.closest("#call")),
      step: target.closest("[data-step]")?.dataset.step ?? step, hash: location.hash,
      words: words(fresh.join(" ")), fresh,
    });
  }, true);
}"""
"""Notes at every tap what is on the screen that was never there before."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What some taps cost whoever reads all that is new on the screen before each."""

    words: int
    taps: int
    digits: int
    screens: int

    @property
    def seconds(self) -> float:
        """Give the time to read and to tap (s)."""
        return (self.words / WORDS_A_MINUTE * 60 + self.taps * TAP_S
                + self.digits * DIGIT_S + self.screens * SCREEN_S)  # fmt: skip


def watch(gang: Gang) -> None:
    """Note every tap from now on, and what was new on the screen."""
    gang.phone.page.evaluate(DAY)


def called(thumbs: ByHand) -> list[dict[str, Any]]:
    """Call to the gate that is next; gives what was noted up to then."""
    thumbs.gang.act()
    thumbs.phone.tap("#call")
    thumbs.phone.sees("waits", "#called")
    thumbs.phone.tap("#back")
    return noted(thumbs.gang)


def noted(gang: Gang) -> list[dict[str, Any]]:
    """Give what the foreman did since `watch`, up to the call; the lift is others'."""
    page = gang.phone.page
    found: list[dict[str, Any]] = page.evaluate("() => window.read.splice(0)")
    call = next(at for at, tap in enumerate(found) if tap["calls"])
    return [tap for tap in found[: call + 1] if not tap["hash"].endswith("/lift")]


def cost(taps: Iterable[dict[str, Any]]) -> Cost:
    """Add up what taps cost."""
    told = [tap for tap in taps if not tap["pin"]]
    digits = sum(tap["key"].isdigit() or tap["key"] in {".", "minus"} for tap in told)
    return Cost(
        words=sum(tap["words"] for tap in told),
        taps=len(told) - digits,
        digits=digits,
        screens=sum(one["screen"] != then["screen"] for one, then in
                    pairwise(told)),
    )  # fmt: skip


def since_hung(taps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Give what was done in one go, from the segment hung to the call."""
    steps = [tap["step"] for tap in taps]
    return taps[steps.index("hung-up") :]


def steps_of(taps: list[dict[str, Any]]) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Give the taps of one step after the other."""
    for step, told in groupby(taps, lambda tap: tap["step"]):
        yield step, list(told)


def prepare(thumbs: ByHand) -> list[dict[str, Any]]:
    """Play a joint from the day before to its call; gives what the foreman did."""
    gang = thumbs.gang
    watch(gang)
    # What is planned is what the day then asks for: warm.
    gang.act()
    gang.choose(WARM)
    thumbs.finish()
    thumbs.go_on()
    thumbs.look_across()
    thumbs.release("brannoc")
    thumbs.release("edric")
    thumbs.fit()
    thumbs.read_faces()
    thumbs.say_ready()
    return called(thumbs)


def _begun(office: Office, phone: Handset) -> Gang:
    office.start()
    gang = Gang(phone.start())
    gang.enrol_everybody(office)
    gang.open_joint()
    return gang


def main() -> None:
    """Enrol a gang, have it prepare a joint, and say what each step cost."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    wished = asked.parse_args()
    wished.folder.mkdir(parents=True, exist_ok=True)
    with gang_apart(_begun) as (gang, _, _):
        taps = prepare(ByHand(gang))
    text = []
    for step, told in steps_of(taps):
        found = cost(told)
        print(f"{step:14}{found.words:5} words{found.taps:4} taps{found.digits:4} "
              f"digits{found.screens:3} screens{found.seconds:6.1f} s")  # fmt: skip
        text += [f"== {step}", *(f"{tap['words']:4} {' | '.join(tap['fresh'])}"
                                 for tap in told)]  # fmt: skip
    (wished.folder / "read.txt").write_text("\n".join(text))
    for name, told in (("hung to call", since_hung(taps)), ("all", taps)):
        print(name, cost(told), f"{cost(told).seconds:.0f} s")


if __name__ == "__main__":
    main()
