"""Calls of the vectors that ask what a line raised before, and which gate it shuts."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from fieldapp.core import (
    earlier,
    early,
    gates,
    lasting,
    shutting,
    signers,
    slips,
    steps,
    stops,
    unused,
    view,
)
from fieldapp.core.faults import nonconformances
from tests.core.vector_stories import MINUTE_MS, Told


def _check(t: Told) -> Any:
    return next(each for each in t.step().checks if each.id == t.given["check"])


def _failures(t: Told, found: Any) -> list[list[str]]:
    return [[check, t.label(place)] for check, place in found]


def _gone(t: Told) -> list[str] | str:
    found = earlier.gone(t.scene, t.step(), t.line())
    return "missing" if found is None else t.labels(found.places)


def _failures_gone(t: Told) -> list[list[str]]:
    found = earlier.gone(t.scene, t.step(), t.line())
    assert found is not None
    return _failures(t, earlier.failures_gone(t.scene, t.step(), found))


def _shutting(t: Told) -> list[str]:
    fault = replace(nonconformances(t.scene)[0], blocks=tuple(t.given["shuts"]))
    return list(shutting.shutting(t.scene, fault).shuts)


def _taken_off(t: Told) -> int | str:
    """Give the minute of it."""
    found = unused.taken_off(t.scene, t.clock(), t.given["line"])
    return "missing" if found is None else found.at // MINUTE_MS


EARLIER: dict[str, Callable[[Told], Any]] = {
    "early.is_early": lambda t: early.is_early(t.scene, _check(t), t.line()),
    "early.is_settled": lambda t: early.is_settled(t.scene, _check(t), t.line()),
    "earlier.superseded": lambda t: _failures(
        t, earlier.superseded(t.scene, t.step(), t.line())
    ),
    "earlier.gone": _gone,
    "earlier.failures_gone": _failures_gone,
    "lasting.said_to_stay": lambda t: [
        [field, t.label(place), value]
        for field, place, value in lasting.said_to_stay(t.scene, t.step(), t.line())
    ],
    "lasting.taken_back": lambda t: [
        [field, t.label(place)]
        for field, place in lasting.taken_back(t.scene, t.step(), t.line())
    ],
    "shutting.shutting": _shutting,
    "steps.line_raises": lambda t: steps.line_raises(
        t.scene, t.step(), t.line(), t.given["failed"]
    ),
    "unused.thrown_away": lambda t: unused.thrown_away(
        t.scene, t.clock(), t.given["line"]
    ),
    "unused.taken_off": _taken_off,
    "shutting.went_through": lambda t: shutting.went_through(t.scene, t.given["point"]),
    "slips.stated_at": lambda t: slips.stated_at(
        t.scene.view.history, t.line(), mended=t.given["mended"]
    ),
    "stops.stops": lambda t: stops.stops(t.scene),
    "view.redoes": lambda t: view.redoes(t.scene.view, t.place()),
    "view.decides": lambda t: view.decides(t.scene.view, t.place()),
    "signers.signed_in_time": lambda t: signers.signed_in_time(
        t.scene, t.point(), t.place()
    ),
    "gates.signed_words": lambda t: t.labels(
        gates.signed_words(t.scene, t.point(), t.place())
    ),
    "signers.words_signed": lambda t: t.labels(
        signers.words_signed(t.scene, t.point(), t.place())
    ),
}
