"""The text of codes printed on the site: labels of items, marks of subjects.

A mark carries the site and a check, so that a foreign or a damaged one is known before
anything is looked up. The phone reads them in `static/device/roads/marks.js`.
"""

from fieldapp.core.canonical import sha256_hex

ITEM, SUBJECT = "ITEM", "SUBJECT"
CHECK_LETTERS = 8


def mark_text(sort: str, site: str, name: str) -> str:
    """Give the text of a code: sort is `ITEM` or `SUBJECT`, name the thing's id."""
    check = sha256_hex(f"{site}/{name}".encode())[:CHECK_LETTERS]
    return f"FR1:{sort}:{site}:{name}:{check}"
