"""The subjects of a kind as the list sets them: what is at work first, the finished
and those not begun folded away, so that hundreds stay readable.
"""

from typing import Any

from fieldapp.web.stages import AHEAD, WHOLE

SHORT_LIST = 5
Row = dict[str, Any]


def group(title: str, rows: list[Row]) -> Row:
    """Give a kind's rows in three: at work, finished, not begun."""
    if len(rows) <= SHORT_LIST:
        # A short list needs no folding.
        return {"title": title, "count": len(rows), "rows": rows, "whole": [],
                "ahead": []}  # fmt: skip
    return {
        "title": title,
        "count": len(rows),
        "rows": [row for row in rows if _at_work(row)],
        "whole": [row for row in rows if _finished(row)],
        "ahead": [row for row in rows if row["stage"]["level"] == AHEAD],
    }


def _finished(row: Row) -> bool:
    settled = not row["stopped"] and not row["undecided"]
    return bool(row["stage"]["level"] == WHOLE and settled)


def _at_work(row: Row) -> bool:
    return row["stage"]["level"] != AHEAD and not _finished(row)
