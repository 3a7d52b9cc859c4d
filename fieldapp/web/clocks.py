"""The running lives of a subject as pages tell them: deadlines, and minutes in hand.

In hand is the first deadline that raises something, less when the gang would be there,
gone on with now at its own pace. The fold worked both out; here they are only set side
by side, and of a life of days neither: what is in between is not the gang's to hurry.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.records.clocks import kept, reached
from fieldapp.web.display import DAY_MS, MINUTE_MS, figure, lasting
from fieldapp.web.wording import titles_of

CLOSE_MIN = 5
"""With less in hand than this a clock is shown as close."""
FAR_MS = DAY_MS
"""With more left than this the gang's pace says nothing of when it will be there."""
State = Mapping[str, Any]


def clocks_told(sheet: State, state: State) -> Iterator[dict[str, Any]]:
    """Yield each clock that has begun, by the template's names."""
    titles = titles_of(sheet)
    known = {clock["id"]: clock for clock in sheet.get("clocks", ())}
    for name, now in state["clocks"].items():
        clock, line = known[name.partition("/")[0]], name.partition("/")[2]
        start = sheet["steps"][clock["start"]]
        labels = {each["id"]: each["label"] for each in start.get("lines", ())}
        ratios = {ratio["id"]: ratio for ratio in clock["ratios"]}
        until = titles.get(clock["until"], clock["until"])
        came = until.lower() if reached(clock, line, state) else ""
        yield {
            "title": f"{clock['title']} {labels.get(line, line)}".strip(),
            "start": clock["start"],
            "line": line,
            "now": now,
            "live": not now["ended"],
            "used": _used(now),
            "until": until,
            "expected": None if _far(now) else now.get("expected"),
            "in_hand": _in_hand(clock, now),
            "deadlines": [
                {
                    "id": each,
                    "title": ratios[each]["title"],
                    "at": at,
                    "left": now["left"][each],
                    "kept": kept(
                        now["left"][each],
                        ended=bool(now["ended"]),
                        before="" if ratios[each].get("raises") else came,
                    ),
                    "raises": bool(ratios[each].get("raises")),
                }
                for each, at in now["deadlines"].items()
            ],
        }


def _in_hand(clock: State, now: State) -> dict[str, str] | None:
    """Say what time is left from the expected moment to the first deadline.

    Rounded down, so that nobody is told of a minute that is not there.
    """
    raising = [r["id"] for r in clock["ratios"] if r.get("raises")]
    watched = [each for each in raising if each in now["deadlines"]]
    if "expected" not in now or not watched or _far(now):
        return None
    first: int = min(now["deadlines"][each] for each in watched)
    minutes = (first - now["expected"]) // MINUTE_MS
    tone = "late" if minutes < 0 else "close" if minutes < CLOSE_MIN else "fine"
    word = "short" if minutes < 0 else "in hand"
    return {"tone": tone, "text": f"{lasting(minutes * MINUTE_MS)} {word}"}


def _used(now: State) -> str:
    """Give the share of a life used, rounded up: less than was used is never told.

    "" of days, whose deadlines are shares of it.
    """
    whole = now["run_ms"] + max(now["left"].values(), default=0)
    return "" if whole > DAY_MS else figure(-(-now["used_ppm"] // 1_000), 1, "%")


def _far(now: State) -> bool:
    return min(now["left"].values(), default=0) > FAR_MS
