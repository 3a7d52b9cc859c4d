"""Calls of the vectors that ask of moments: how long, and between what."""

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

from fieldapp.core import bounds, clocks, pace


def moment_in(given: dict[str, Any]) -> clocks.Moment:
    """Read a moment; what is not given is not known."""
    names = ("at", "session", "mono", "offset")
    known: list[Any] = [given.get(name) for name in names]
    bounds = given.get("between")
    between = bounds and tuple(each and moment_in(each) for each in bounds)
    return clocks.Moment(*known, given.get("unknown", False), between)


def moment_out(moment: clocks.Moment) -> dict[str, Any]:
    """Write a moment without what is not known."""
    return {
        k: v for k, v in moment._asdict().items() if v is not None and v is not False
    }


def moment_of(given: dict[str, Any]) -> dict[str, Any]:
    entry: Any = SimpleNamespace(**{"offset": None, **given["entry"]})
    at, unknown = given.get("at"), given.get("unknown", False)
    return moment_out(clocks.moment_of(entry, at, unknown))


def elapsed_ms(given: dict[str, Any]) -> int:
    start, end = moment_in(given["start"]), moment_in(given["end"])
    return clocks.elapsed_ms(start, end, given["use_by"])


def bound_of(given: dict[str, Any]) -> Any:
    found = clocks.bound_of(moment_in(given["moment"]), given["side"])
    return "missing" if found is None else moment_out(found)


def over_at(given: dict[str, Any]) -> Any:
    began, at = moment_in(given["began"]), moment_in(given["at"])
    found = bounds.over_at(began, at, given["wait"])
    return "missing" if found is None else found


def is_past(given: dict[str, Any]) -> Any:
    found = bounds.is_past(given["end"], moment_in(given["at"]))
    return "missing" if found is None else found


MOMENTS: dict[str, Callable[[dict[str, Any]], Any]] = {
    "bounds.is_past": is_past,
    "bounds.over_at": over_at,
    "bounds.surely_after": lambda g: bounds.surely_after(
        moment_in(g["act"]), moment_in(g["moment"]), g.get("ms", 60_000)
    ),
    "bounds.surely_before": lambda g: bounds.surely_before(
        moment_in(g["act"]), moment_in(g["moment"])
    ),
    "bounds.untimed": lambda g: bounds.untimed(
        moment_in(g["start"]), moment_in(g["end"])
    ),
    "clocks.bound_of": bound_of,
    "clocks.bound_ms": lambda g: clocks.bound_ms(moment_in(g["moment"]), g["side"]),
    "clocks.elapsed_ms": elapsed_ms,
    "pace.measured": lambda g: list(
        pace.measured(g["times"], g["typical"]) or ["missing"]
    ),
    "clocks.moment_of": moment_of,
    "clocks.moment_now": lambda g: moment_out(clocks.moment_now(g["now"])),
}
