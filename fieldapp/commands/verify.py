"""`fieldapp verify FILE`: checks a record with nothing but the file.

Exit status: 0 authentic or consistent, 1 no, 2 not a file that can be read. What is
said is only what was checked: that nothing was altered, not that it is true.
"""

import argparse
import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from fieldapp.commands import CommandFault, open_data, say
from fieldapp.config import DATABASE
from fieldapp.core.canonical import sha256_hex
from fieldapp.records.verify import (
    AUTHENTIC,
    NO,
    REGISTER_STATED,
    SAME,
    Verdict,
    verify_record,
)
from fieldapp.records.verify_dossier import (
    DossierVerdict,
    is_dossier,
    verify_dossier,
)
from fieldapp.store.archive import find_revision, revisions_of
from fieldapp.store.database import connected

NOT_PROVED = 1
ITEMS = "items stand as they were registered"
CHECKED = (
    "every entry is signed by a key that the site's key enrolled",
    "the sheet and its tables are those the site issued",
    "indices, hash chain and receipts agree, as far as neighbours are in the file",
    ITEMS,
    "the entries fold to the state printed on the pages",
)


def add_parser(commands: Any) -> None:
    """Say what `verify` takes."""
    parser = commands.add_parser("verify", help="check a record or dossier, a PDF file")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument(
        "--site-key",
        metavar="FINGERPRINT",
        help="the site's key as you hold it from elsewhere; blanks do not matter",
    )
    parser.add_argument(
        "--data",
        type=Path,
        default=None,
        metavar="DIR",
        help="say too whether the site's archive there holds these very bytes",
    )
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Check the file; gives 0, or 1 for no. Errors: `CommandFault`."""
    # The reader of PDF grumbles about files that are none; the verdict says so.
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        pdf = chosen.file.read_bytes()
    except OSError as fault:
        raise CommandFault(f"{chosen.file}: {fault.strerror}") from fault
    if is_dossier(pdf):
        whole = verify_dossier(pdf, chosen.site_key)
        for line in dossier_told(whole):
            say(line)
        for each in whole.records if chosen.data else ():
            say(f"{each.file}: {in_archive(chosen.data, each.hash)}")
        return 0 if whole.holds else NOT_PROVED
    verdict = verify_record(pdf, chosen.site_key)
    for line in told(verdict):
        say(line)
    if chosen.data:
        say(in_archive(chosen.data, sha256_hex(pdf)))
    return NOT_PROVED if verdict.result == NO else 0


def told(verdict: Verdict) -> list[str]:
    """Give a verdict as lines: the word first, then what it rests on."""
    if verdict.result == NO:
        return ["no", *(f"because: {each}" for each in verdict.reasons)]
    items = REGISTER_STATED not in verdict.limits
    pages = (
        "the pages, set again from the evidence, are the same to the byte"
        if verdict.pages == SAME
        else "NOT compared: the pages with the evidence (other version or libraries)"
    )
    return [
        f"{_against(verdict.result)} {verdict.site_key}",
        f"document: {verdict.revision}",
        f"entries: {verdict.entries}",
        *(f"checked: {each}" for each in CHECKED if each != ITEMS or items),
        f"checked: {pages}" if verdict.pages == SAME else pages,
        *(f"taken as stated: {each}" for each in verdict.limits),
    ]


def dossier_told(whole: DossierVerdict) -> Iterator[str]:
    """Give a dossier's verdict as lines: a line or more a record, then the whole."""
    for each in whole.records:
        yield f"{each.file}: {each.verdict.text}"
        yield from (f"{each.file}: because: {fault}" for fault in each.faults)
    yield from (f"because: {fault}" for fault in whole.faults)
    held = sum(each.holds for each in whole.records)
    yield f"records that hold, each with its pages here: {held} of {len(whole.records)}"
    yield f"NOT compared: cover and contents, pages 1 to {whole.front}"
    if not whole.holds:
        yield "no"


def in_archive(data: Path, digest: str) -> str:
    """Say which archived revision has this SHA-256. Errors: `CommandFault`."""
    if not (data / DATABASE).is_file():
        raise CommandFault(f"--data {data}: holds no site")
    door = open_data(data)
    with connected(door.store):
        found = find_revision(door.store, digest)
        if found is None:
            return "archive: these bytes are NOT in it"
        last = revisions_of(door.store, found.subject)[-1].revision
    newer = "the last one" if last == found.revision else f"the last one is {last}"
    return (
        f"archive: byte for byte revision {found.revision} of {found.subject}; {newer}"
    )


def _against(result: str) -> str:
    if result == AUTHENTIC:
        return "authentic against site key"
    return "consistent, with the site key that the file states itself:"
