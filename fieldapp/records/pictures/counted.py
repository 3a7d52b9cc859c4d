"""What the forces are that a joint is judged by, beside those read at the jack.

Read off the sheet: it says by which number of a line the force read is made less.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.records.figures import figure
from fieldapp.records.opened import Opened

SEATING = "seating"
"""The number of a line that the binding `lock_off` takes from the force read."""
FORCE_PLACES = 1


def counted(opened: Opened, picture: Mapping[str, Any]) -> str:
    """Say what stands at the bars: the force last read, or less what seating takes."""
    values, steps = opened.raw["values"], opened.raw["steps"]
    losses = sorted(
        {
            line["numbers"][SEATING]
            for bar in picture["bars"]
            for step, value in _last_read(values[bar["force"]])
            if _less_seating(values.get(value) if isinstance(value, str) else value)
            for line in steps[step].get("lines", ())
            if SEATING in line["numbers"]
        }
    )
    if not losses:
        return "force last read [kN]"
    ends = dict.fromkeys((losses[0], losses[-1]))
    span = " to ".join(figure(each, FORCE_PLACES) for each in ends)
    return f"force counted [kN], the last at the jack less {span} as the nut seats"


def _last_read(word: Any) -> Iterator[tuple[str, Any]]:
    """Yield the step and the value of each last reading that a value rests on."""
    if isinstance(word, dict):
        if word.get("word") == "reduce" and word.get("how") == "last":
            yield word["step"], word["value"]
        for inner in word.values():
            yield from _last_read(inner)
    elif isinstance(word, list):
        for inner in word:
            yield from _last_read(inner)


def _less_seating(word: Any) -> bool:
    loss = {"word": "constant", "name": SEATING}
    terms = word.get("terms", ()) if isinstance(word, dict) else ()
    return any(factor == -1 and part == loss for factor, part in terms)
