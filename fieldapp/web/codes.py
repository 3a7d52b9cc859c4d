"""A text as a code to scan, for a page: the path of its dark modules, one unit each."""

from fieldapp.records.codes import QUIET, matrix


def code_path(text: str) -> dict[str, str | int]:
    """Give `size` (units a side, the quiet border within) and `path`."""
    rows = matrix(text)
    return {
        "size": len(rows) + 2 * QUIET,
        "path": "".join(
            f"M{place + QUIET} {number + QUIET}h1v1h-1z"
            for number, row in enumerate(rows)
            for place, dark in enumerate(row)
            if dark
        ),
    }
