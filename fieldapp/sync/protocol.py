"""The page that says how to talk to this server, so that a stranger could.

Limits, kinds and versions are taken from where they are kept, so that the page cannot
say anything else than the program does. It tells nothing of the site and is open.
"""

import json
from importlib.resources import files
from typing import Any

from flask import Blueprint, render_template

from fieldapp.core import entries
from fieldapp.core.canonical import DEEPEST, LARGEST
from fieldapp.core.kinds import KINDS, VERDICTS
from fieldapp.intake.batch import LARGEST_BATCH, REVOKED_QUOTA
from fieldapp.intake.comeback import CHALLENGE_LIFE_MS, MOST_PROVING
from fieldapp.intake.photos import REVOKED_PHOTOS
from fieldapp.store import images
from fieldapp.store.devices import CODE_LETTERS, CODE_LIFE_MS
from fieldapp.store.ledger import START_HEAD
from fieldapp.sync.api import LARGEST_PUSH_BYTES
from fieldapp.sync.photos import HASH_HEADER
from fieldapp.sync.protocol_words import (
    ABOUT_TYPES,
    CODES,
    FIELDS,
    REASONS,
    RESULTS,
)
from fieldapp.sync.versions import API, API_HEADER
from fieldapp.sync.wire import LARGEST_PAGE, LAST_INDEX, LONGEST_FIELD

protocol = Blueprint("protocol", __name__)
EXAMPLE: dict[str, Any] = json.loads(
    files("fieldapp.sync").joinpath("example.json").read_text("utf-8")
)
LIMITS: dict[str, Any] = {
    "entry_bytes": entries.LARGEST_BYTES,
    "text": entries.LONGEST_TEXT,
    "list": entries.LONGEST_LIST,
    "quantity": entries.QUANTITY_LIMIT,
    "latest_ms": entries.LATEST_MS,
    "number": LARGEST,
    "deep": DEEPEST,
    "batch": LARGEST_BATCH,
    "push_bytes": LARGEST_PUSH_BYTES,
    "page": LARGEST_PAGE,
    "last_index": LAST_INDEX,
    "field": LONGEST_FIELD,
    "photo_bytes": images.LARGEST_BYTES,
    "photo_pixels": images.LARGEST_PIXELS,
    "photo_side": images.LONGEST_SIDE_PX,
    "photo_types": ", ".join(images.TYPES.values()),
    "quota": REVOKED_QUOTA,
    "photo_quota": REVOKED_PHOTOS,
    "code_letters": CODE_LETTERS,
    "code_minutes": CODE_LIFE_MS // 60_000,
    "challenge_minutes": CHALLENGE_LIFE_MS // 60_000,
    "proving": MOST_PROVING,
}


@protocol.get("/protocol")
def protocol_page() -> str:
    """Show the protocol with its limits and an example that can be worked out anew."""
    return render_template(
        "protocol.html",
        limits=LIMITS,
        verdicts=", ".join(VERDICTS),
        fields_shown=[
            (name, form, "yes" if needed else "", meaning)
            for name, form, needed, meaning in FIELDS
        ],
        kinds_shown=[(kind, *_kind_told(told)) for kind, told in KINDS.items()],
        results=RESULTS,
        reasons=REASONS,
        codes_shown=[(code, *told) for code, told in CODES.items()],
        example=EXAMPLE,
        start_head=START_HEAD,
        api=API,
        api_header=API_HEADER,
        hash_header=HASH_HEADER,
    )


def _kind_told(kind: dict[str, Any]) -> tuple[str, str, str, str]:
    about = [
        f"{name}{'?' if form.endswith('?') else ''}: {ABOUT_TYPES[form.rstrip('?')]}"
        for name, form in kind["about"].items()
    ]
    needed = {"step": "subject, step", "point": "subject, point", "subject": "subject"}
    return (
        "; ".join(about),
        needed.get(kind["on"], ""),
        "may be" if kind["values"] else "none",
        "asked for" if kind["pin"] else "",
    )
