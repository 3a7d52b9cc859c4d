"""What `fieldapp record --archive` does: one subject, several, or all complete ones.

Each is archived by itself and told at once; what fails is told at the end and leaves
what was archived before it as it is.
"""

import argparse
from collections.abc import Sequence

from fieldapp.commands import CommandFault, say
from fieldapp.config import Running
from fieldapp.intake.archive import Archiver
from fieldapp.lookups import overview
from fieldapp.lookups.archive import all_archived
from fieldapp.records.archiving import Result, archive_each, complete_and_wanting
from fieldapp.records.pages import UnknownSize
from fieldapp.store.accounts import all_accounts
from fieldapp.store.database import Store

BY_COMMAND = "command"
NOBODY = "none: fieldapp person add-account PERSON --office makes one of the office"


def archive_asked(wired: Running, chosen: argparse.Namespace) -> None:
    """Archive what was asked for. Errors: `CommandFault`, when something was not."""
    by = _archiver(wired.door.store, chosen.account)
    subjects = _complete(wired) if chosen.all_complete else chosen.subjects
    if not subjects:
        say("nothing to archive: all complete subjects are archived as they stand")
    results = []
    try:
        for result in archive_each(
            wired.door, wired.reader, subjects, wired.clock, by=by, size=chosen.paper
        ):
            _tell(result)
            results.append(result)
    except UnknownSize as fault:
        raise CommandFault(str(fault)) from fault
    _must_be_all(subjects, results)


def _complete(wired: Running) -> list[str]:
    begun = [e for e in overview(wired.reader, wired.clock()) if e.entries]
    return complete_and_wanting(begun, all_archived(wired.reader, begun))


def _tell(result: Result) -> None:
    revision = result.revision
    if revision is None:
        return
    how = "archived" if result.made else "archived before, and nothing came since"
    verdict = revision.said["verdict"]
    say(f"{result.subject}: revision {revision.revision}, {how}; {verdict}")
    say(f"{revision.said['bytes']} bytes, SHA-256 {revision.hash}")


def _must_be_all(subjects: Sequence[str], results: Sequence[Result]) -> None:
    failed = [f"{each.subject}: {each.fault}" for each in results if each.fault]
    left = subjects[len(results) :]
    if left:
        failed.append(f"not tried: {', '.join(left)}")
    if failed:
        raise CommandFault("; ".join(failed))


def _archiver(store: Store, account: str | None) -> Archiver:
    known = {each.name: each for each in all_accounts(store) if each.office}
    if account not in known:
        allowed = ", ".join(known) or NOBODY
        raise CommandFault(f"--account {account or 'missing'}: allowed: {allowed}")
    person = known[account].person
    return Archiver(account=account, person=person, session=BY_COMMAND)
