"""Calls of the vectors that ask of attempts and releases, and of what ends them."""

from collections.abc import Callable
from typing import Any

from fieldapp.core import attempts, lapses, outlasting
from tests.core.vector_calls import plain
from tests.core.vector_stories import Told


def _attempt_chain(t: Told) -> list[list[Any]]:
    view = t.scene.view
    ordered = view.among(view.history.by_kind.get("disposition"))
    return [list(map(plain, each)) for each in attempts.attempt_chain(view, ordered)]


def _is_on(t: Told) -> bool:
    view = t.scene.view
    return attempts.is_on(view, t.step(), view.attempts()[: t.given["attempts"]])


ATTEMPTS: dict[str, Callable[[Told], Any]] = {
    "attempts.attempt_chain": _attempt_chain,
    "attempts.is_on": _is_on,
    "gates.lapse": lambda t: plain(lapses.lapse(t.scene, t.point(), t.place())),
    "lapses.lapse": lambda t: plain(lapses.lapse(t.scene, t.point(), t.place())),
    "lapses.lapsing": lambda t: t.labels(lapses.lapsing(t.scene, t.point(), t.place())),
    "outlasting.outlasting": lambda t: outlasting.outlasting(t.scene),
}
