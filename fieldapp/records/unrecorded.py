"""What a STOP told of and nobody recorded: judged by entries, never by the last state.

A further attempt begins with empty steps, and a second STOP finds what the first one
left; neither says anything of what was recorded of a STOP in its own time.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.kinds import READINGS
from fieldapp.core.view import View

NOTHING, DISCARDED = "nothing recorded as “{}”", "recorded as “{}”, discarded since"
Newest = dict[int, list[int]]
"""By place, the STOPs that were the newest its author had seen."""


def steps_of_stops(raw: dict[str, Any], entries: Iterable[Entry]) -> set[str]:
    """Give the steps that the card of a STOP named: they were called for."""
    named = {card["id"]: card.get("step") for card in raw.get("cards", ())}
    found = (named.get(e.about["reason"]) for e in entries if e.kind == "stopped")
    return {step for step in found if step}


def unrecorded(view: View) -> dict[str, tuple[str, str]]:
    """Give each STOP, by its entry, of which nobody recorded what its card names.

    With that step, and with what to say of it.
    """
    named = {card["id"]: card.get("step") for card in view.sheet.raw.get("cards", ())}
    alike: dict[tuple[str, str | None], list[int]] = {}
    for place in view.among(view.history.by_kind.get("stopped")):
        step = named.get(view.history.entry(place).about["reason"])
        if step:
            alike.setdefault((step, _attempt(view, place, step)), []).append(place)
    return {
        view.history.entry(place).id: (step, said)
        for (step, attempt), pulled in alike.items()
        for place, said in _untold(view, step, attempt, pulled)
    }


def _attempt(view: View, stop: int, step: str) -> str | None:
    """Give the attempt at a step that a STOP was pulled in, as its author knew it."""
    past = view.history.graph.past[stop] & view.mask
    before = View(sheet=view.sheet, history=view.history, mask=past,
                  standing=view.standing)  # fmt: skip
    return before.attempt_of(step)


def _untold(
    view: View, step: str, attempt: str | None, pulled: list[int]
) -> Iterator[tuple[int, str]]:
    """Yield the STOPs, of those alike in one attempt, that no reading is of.

    A reading is of the newest STOP its author had seen (as in `core.stops`), or of the
    next: somebody may record first and pull the STOP then. It is of one alone, unless
    two were pulled side by side.
    """
    history = view.history
    read = [
        place
        for place in view.among(list(range(len(history.graph.entries))))
        if (entry := history.entry(place)).kind in READINGS
        and (entry.step, entry.attempt) == (step, attempt)
    ]
    newest = {
        place: history.unseen([s for s in pulled if history.saw(place, s)])
        for place in (*read, *pulled)
    }
    off = {place for place in read if _is_off(view, step, place)}
    used: set[int] = set()
    for stop in pulled:
        of_it = [p for p in read if stop in newest[p]]
        before = [p for p in read if newest[p] == newest[stop] and p not in used]
        standing = [p for p in (*before, *of_it) if p not in off]
        if not standing:
            gone = of_it or [p for p in before if not newest[p]]
            yield stop, DISCARDED if gone else NOTHING
        elif standing[0] in of_it:
            used.add(standing[0])


def _is_off(view: View, step: str, place: int) -> bool:
    """Say whether a reading was discarded and is not one made anew since."""
    discards = view.discards_of(step, place)
    anew = view.sheet.amended >= 2 and view.history.seeing([place], discards)
    return bool(discards) and not anew
