"""Stresses in words as the steps tell them: one figure for one thing on all of paper.

Each is rounded to its safe side, as the plan says of what it shows: what must not be
too little down, what must not be too much up. A limit is never rounded.
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.records.figures import computed
from fieldapp.records.limits import Bound, bound_text
from fieldapp.records.opened import Opened

STRESS_PLACES = 4
ROUNDED = "each rounded to its safe side"


def told_of(
    opened: Opened, picture: Mapping[str, Any], state: Mapping[str, Any]
) -> tuple[str, ...]:
    """Say mean, least, spread and greatest of a state, each with its limit."""
    values, limits = opened.state["values"], picture["limits"]
    told = []
    for name, side, least in (
        ("mean", "at least", True),
        ("least", "at least", True),
        ("spread", "at most", False),
    ):
        if state[name] in values:
            show = shown_as(opened, picture, state[name], least=least)
            bound = Bound(about=("show", name), low=None, high=limits[name])
            limit = bound_text(bound, {}, STRESS_PLACES, show.get("shown"))
            value = computed(values[state[name]], show)
            told.append(f"{name} {value} ({side} {limit.removeprefix('at most ')})")
    show = {**shown_as(opened, picture, state["least"]), "round": "up"}
    return (*told, f"greatest {computed(values[state['greatest']], show)}", ROUNDED)


def shown_as(
    opened: Opened, picture: Mapping[str, Any], value: str, *, least: bool = True
) -> Mapping[str, Any]:
    """Give how the sheet shows a value elsewhere: a picture says no other figure.

    What no step shows is told in as many places as the sheet's other stresses.
    """
    parts = [
        *(s for step in opened.raw["steps"].values() for s in step.get("shows", ())),
        *(
            each["show"]
            for point in opened.raw["points"].values()
            for each in point.get("requires", ())
            if "show" in each
        ),
    ]
    same = next((each for each in parts if each["value"] == value), None)
    named = {each for state in picture["states"] for each in state.values()
             if isinstance(each, str)}  # fmt: skip
    kept: Mapping[str, Any] = next((e for e in parts if e["value"] in named), {})
    plain = {"places": STRESS_PLACES, "round": "down" if least else "up"}
    return same or {**plain, **({"shown": kept["shown"]} if "shown" in kept else {})}
