"""The three questions of a morning, answered in few words at the head of *Today*: what
may go up next, what is waiting, what will bite this week.

Only told shorter what the page below tells in full; nothing is judged here.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

NAMED = 4
"""So many subjects are named for each state; more are counted."""
FEW, MANY = 3, 8
"""So many of what bites are told, and with all that is due today at most so many."""
Row = dict[str, Any]


def answers(shown: Mapping[str, Any]) -> Row:
    """Give the short answers from the lists of the day, by the template's names."""
    return {
        "next": list(_next(shown["arms"])),
        "called": shown["called"],
        "refused": shown["refused"],
        "undecided": sum(row["times"] for row in shown["undecided"]),
        **_bites(shown["bites"]),
    }


def _bites(rows: Iterable[Row]) -> Row:
    """Give what bites, harm first, with all that is due today; more is counted."""
    told = sorted(rows, key=lambda row: not row["harms"])
    today = [row for row in told if row["today"]]
    few = [*today, *(row for row in told if not row["today"])][:FEW]
    shown = (today if len(today) > FEW else few)[:MANY]
    return {
        "bites": shown,
        "bites_more": len(told) - len(shown),
        "bites_today": sum(row["today"] for row in told if row not in shown),
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
