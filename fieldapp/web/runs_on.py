"""What runs on without a clock of this attempt: deadlines that outlast an ended one,
and waits whose beginning no clock can tell.

Both are the fold's own; they are only set beside the clocks here.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.core.clocks import OVER_MS
from fieldapp.web.joint_parts import label_of
from fieldapp.web.wording import titles_of

State = Mapping[str, Any]


def runs_on(sheet: State, state: State, now: int) -> list[dict[str, Any]]:
    """Give the deadlines that outlast their attempts, by the template's names.

    `at` is None where nobody can tell it; `left` is up to `now` (ms UTC) and `text`
    says what its end means.
    """
    told = (each for one in state.get("outlasting", ()) for each in _told(sheet, one))
    found = [
        {**each, "at": at, "left": None if at is None else at - now}
        for each, at in told
    ]
    return sorted(found, key=lambda each: each["at"] or 0)


def _told(sheet: State, one: State) -> Iterator[tuple[dict[str, Any], int | None]]:
    clock = next(each for each in sheet["clocks"] if each["id"] == one["clock"])
    line = label_of(sheet["steps"][clock["start"]], one["line"]) if one["line"] else ""
    titles = titles_of(sheet)
    begins = [
        name for name in sheet["flow"] if sheet["steps"].get(name, {}).get("again")
    ]
    for ratio in clock["ratios"]:
        at = one["deadlines"].get(ratio["id"])
        if at is not None:
            yield (
                {
                    "title": f"{line} {ratio['title']}".strip(),
                    "clock": clock["title"],
                    "text": ratio.get("text", ""),
                    "until": ", ".join(titles[name] for name in begins),
                },
                None if one["left"][ratio["id"]] < -OVER_MS // 2 else at,
            )


def untimed(sheet: State, state: State) -> list[dict[str, Any]]:
    """Give the waits that keep work waiting and have no hour."""
    return [
        {"id": hold["id"], "title": hold["title"]}
        for hold in sheet.get("holds", ())
        if state["holds"].get(hold["id"], {}).get("status") == "untimed"
    ]
