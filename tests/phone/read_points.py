"""How long an honest reading of a gate takes: the words its screen shows, counted.

On demand, not a test: `python -m tests.phone.read_points FOLDER [--language de]`.
Brings a gang to each gate of the sample joint on a day on which all goes well, counts
the words and figures its screen shows, keeps a picture of it, and says the seconds.
"""

import argparse
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from fieldapp.clock import utc_now_ms
from tests.phone.alone import gang_alone
from tests.phone.gang import ALL_READ, JOINT, Gang

WORDS_A_MINUTE = 230
"""Silent reading of an adult. Common practice, no source."""
TAPS, TAP_S = 8, 1
"""The gate from the joint, its key, six digits of a PIN."""
OTHER = "j-e1"
WHOLE = (360, 2_400)


@dataclass(frozen=True, slots=True)
class Reading:
    """What a gate's screen says but for its keys, and the time to read and sign it."""

    words: int
    text: str
    every_word: int
    """With the head above it and all its keys, each once."""

    @property
    def seconds(self) -> float:
        """Give the time from opening the joint to the signature (s)."""
        return _seconds(self.words)

    @property
    def every_second(self) -> float:
        """Give the same for whoever reads every word there is."""
        return _seconds(self.every_word)


def _seconds(words: int) -> float:
    return words / WORDS_A_MINUTE * 60 + TAPS * TAP_S


def gates(gang: Gang) -> Iterator[str]:
    """Bring a gang to one gate after the other, all in limits; gives their names."""
    _open(gang, OTHER)
    gang.go_on()
    yield f"{OTHER}/lift"
    _open(gang, JOINT)
    gang.tell({"step": "faces", "values": ALL_READ})
    gang.go_on()
    # Whoever signs was called.
    gang.sign({"kind": "called", "point": "mixing"})
    yield f"{JOINT}/mixing"
    gang.release("leofric")
    gang.first_kit_at(utc_now_ms() - 60_000)
    gang.go_on()
    yield f"{JOINT}/weight"


def reading(gang: Gang, gate: str, language: str = "en") -> Reading:
    """Read a gate's screen from its top to its end."""
    page = gang.phone.page
    # From a screen that rests on nothing: what is read is not of the gate before.
    page.evaluate(_SHOW, ["#/more", language])
    gang.phone.until("() => document.body.dataset.screen === 'more'")
    page.evaluate(_SHOW, [f"#/point/{gate}", language])
    gang.phone.until(
        "() => document.body.dataset.screen === 'point'"
        " && document.querySelector('[data-rest]') !== null"
    )
    text, every = (
        said.replace("\N{NO-BREAK SPACE}", " ") for said in page.evaluate(_TEXT)
    )
    return Reading(_words(text), text, _words(every))


def _words(text: str) -> int:
    return len(re.findall(r"\S*\w\S*", _by_day(text)))


def _by_day(text: str) -> str:
    # Run about midnight a screen shows days beside times, and times of rows that have
    # none on the day they were read: a shift by day shows neither.
    alone = re.sub(rf"^{_DAY_CLOCK}(…{_DAY_CLOCK})?$", "", text, flags=re.MULTILINE)
    return re.sub(r"\b[A-Z][a-z]{2} \d{1,2} (?=\d\d:\d\d)", "", alone)


def _open(gang: Gang, subject: str) -> None:
    gang.phone.page.evaluate(_SHOW, [f"#/joint/{subject}", "en"])
    gang.phone.until(
        "async () => { const { model } = await import('/phone/screens/model.js');"
        f" return model.open?.subject === '{subject}' && Boolean(model.open.scene); }}"
    )


_DAY_CLOCK = r"[A-Z][a-z]{2} \d{1,2} \d\d:\d\d"
_SHOW = """async ([hash, language]) => {
  const { speak } = await import("/phone/screens/words.js");
  await speak(language);
  if (location.hash === hash) dispatchEvent(new HashChangeEvent("hashchange"));
  else location.hash = hash;
}"""


_TEXT = """() => {
  // What only a screen reader hears is not seen; a phone on the site has its hours.
  const unseen = [...document.querySelectorAll(".heard, #zone-mark")];
  for (const one of unseen) one.hidden = true;
  const every = ["head", "screen", "dock", "bar"].map((one) =>
    document.getElementById(one).innerText).join("\\n");
  for (const one of unseen) one.hidden = false;
  // Keys are found by their place and are not read; all else is.
  const hidden = [...document.querySelectorAll("#screen button")];
  for (const key of hidden) key.style.display = "none";
  const text = document.getElementById("screen").innerText;
  for (const key of hidden) key.style.display = "";
  return [text, every];
}"""
"""What is read of a screen, and every word on it."""


def main() -> None:
    """Enrol a gang, bring it to its gates, and count."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--language", choices=("en", "de", "es"), default="en")
    wished = asked.parse_args()
    wished.folder.mkdir(parents=True, exist_ok=True)
    with gang_alone() as (gang, _, _):
        page = gang.phone.page
        for gate in gates(gang):
            found = reading(gang, gate, wished.language)
            name = f"{gate.replace('/', '-')}-{wished.language}"
            (wished.folder / f"{name}.txt").write_text(found.text)
            page.set_viewport_size({"width": WHOLE[0], "height": WHOLE[1]})
            page.screenshot(path=str(wished.folder / f"{name}.png"))
            print(
                f"{gate}: {found.words} words, {found.seconds:.0f} s; with every "
                f"key {found.every_word}, {found.every_second:.0f} s",
                flush=True,
            )


if __name__ == "__main__":
    main()
