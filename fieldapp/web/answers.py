"""The three questions of a morning, answered in few words at the head of *Today*: what
may go up next, what is waiting, what will bite this week.

Only told shorter what the page below tells in full; nothing is judged here.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

NAMED = 4
"""So many subjects are named for each state; more are counted."""
Row = dict[str, Any]


def answers(shown: Mapping[str, Any]) -> Row:
    """Give the short answers from the lists of the day, by the template's names."""
    return {
        "next": list(_next(shown["arms"])),
        "called": shown["called"],
        "undecided": sum(row["times"] for row in shown["undecided"]),
        "bites": shown["bites"],
    }


def _next(arms: Iterable[Mapping[str, Any]]) -> Iterator[Row]:
    """Yield each state that the next of an arm is in, what may go up or was called
    first, with the subjects that are in it.
    """
    tips = [arm["tip"] for arm in arms if arm["tip"]]
    tips.sort(key=lambda tip: _RANK.get(tip["mark"]["tone"], len(_RANK)))
    for word in dict.fromkeys(tip["mark"]["word"] for tip in tips):
        alike = [tip for tip in tips if tip["mark"]["word"] == word]
        yield {
            "mark": alike[0]["mark"],
            "tips": alike[:NAMED],
            "more": max(len(alike) - NAMED, 0),
        }


_RANK = {"green": 0, "blue": 1, "red": 2, "yellow": 3}
