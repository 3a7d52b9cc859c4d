"""`fieldapp check`: reads everything kept again and says whether it still holds.

What is said is only what was checked: that bytes, hashes, links and signatures agree
with each other and with the site's key, not that anything written in them is true.
Nothing is changed, so a damaged file or a copy of one may be looked at.
"""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from fieldapp.commands import OPENING_FAULTS, CommandFault, say
from fieldapp.config import DATABASE, SITE_KEY, default_data, in_use
from fieldapp.lookups.audit import Finding, Report, audit
from fieldapp.signatures import SigningKey, kept_key, read_key
from fieldapp.store.copies import at_one_moment, key_in, looked_at
from fieldapp.store.database import DISK_FAULTS, Store

BROKEN = 1
MOST_LINES = 200


def add_parser(commands: Any) -> None:
    """Say what `check` takes."""
    parser = commands.add_parser(
        "check", help="check every signature, link, hash and photo"
    )
    parser.add_argument(
        "file", type=Path, nargs="?", metavar="FILE", help="a backup to check instead"
    )
    parser.add_argument("--data", type=Path, default=default_data())
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Check everything; gives 0, or 1 if anything does not hold."""
    file = chosen.file or chosen.data / DATABASE
    report, key = checked(file, chosen.data / SITE_KEY)
    tell(report, key)
    return BROKEN if report.faults else 0


def checked(file: Path, key_file: Path) -> tuple[Report, SigningKey]:
    """Check a database with the key it carries, or else that of a file.

    Errors: `CommandFault` if it cannot be opened or no key is at hand.
    """
    try:
        opened = at_one_moment if in_use(file.parent) else looked_at
        with opened(file) as store:
            key = _key_carried(store) or kept_key(key_file)
            found = audit(store, office_key=key.id, office_public=key.public)
            return found, key
    except OPENING_FAULTS as fault:
        raise CommandFault(f"{file}: {fault}") from fault


def tell(report: Report, key: SigningKey) -> None:
    """Print what was looked at, what was found and the verdict."""
    say(f"site {report.site or 'not known'}, epoch {report.epoch or 'not known'}")
    say(f"site key {key.id}")
    say(", ".join(f"{count} {name}" for name, count in report.counts.items()))
    say(f"index {report.last}, head {report.head}")
    _tell_some("note: ", report.notes)
    _tell_some("WRONG ", report.faults)
    say(
        f"NOT consistent: faults found: {len(report.faults)}"
        if report.faults
        else "consistent: every signature, link and hash holds"
    )


def _key_carried(store: Store) -> SigningKey | None:
    try:
        pem = key_in(store)
    except DISK_FAULTS:
        return None
    return read_key(pem.encode("ascii")) if pem else None


def _tell_some(mark: str, findings: Sequence[Finding]) -> None:
    for each in findings[:MOST_LINES]:
        say(f"{mark}{each}")
    if len(findings) > MOST_LINES:
        say(f"{mark}… and {len(findings) - MOST_LINES} more")
