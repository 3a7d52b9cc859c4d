"""The command `fieldapp`: finds the command asked for and hands over.

Exit status: 0 done, 1 a check did not hold, 2 bad input (said on standard error).
"""

import argparse
import sys
from collections.abc import Sequence

from fieldapp import __version__
from fieldapp.commands import (
    CommandFault,
    backup,
    calc,
    check,
    demo,
    dossier,
    import_,
    issue,
    labels,
    load,
    person,
    plan,
    play,
    record,
    restore,
    serve,
    sheet,
    verify,
)
from fieldapp.store.database import DISK_FAULTS, StoreUnavailable

BAD_INPUT = 2
COMMANDS = {
    "serve": serve,
    "load": load,
    "issue": issue,
    "demo": demo,
    "record": record,
    "dossier": dossier,
    "sheet": sheet,
    "plan": plan,
    "labels": labels,
    "verify": verify,
    "person": person,
    "play": play,
    "calc": calc,
    "check": check,
    "import": import_,
    "backup": backup,
    "restore": restore,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit status."""
    given = sys.argv[1:] if arguments is None else [str(each) for each in arguments]
    chosen = _parser().parse_args(_data_behind(given))
    try:
        status: int = chosen.run(chosen)
    except CommandFault as fault:
        sys.stderr.write(f"fieldapp: {fault}\n")
        return BAD_INPUT
    except (StoreUnavailable, *DISK_FAULTS) as fault:
        sys.stderr.write(f"fieldapp: the disk or database failed: {fault}\n")
        return BAD_INPUT
    return status


def _data_behind(given: list[str]) -> list[str]:
    """Put a `--data DIR` that stands before the command behind it.

    There each command that works on a folder takes it; given twice, the later counts.
    """
    if given[:1] == ["--data"] and len(given) > 2:
        first, rest = given[:2], given[2:]
    elif given and given[0].startswith("--data="):
        first, rest = given[:1], given[1:]
    else:
        return given
    again = any(each.partition("=")[0] == "--data" for each in rest)
    return rest if again or not rest else [*rest, *first]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fieldapp", description="Site record for bridges of glued segments."
    )
    parser.add_argument("--version", action="version", version=__version__)
    parser.add_argument("--data", metavar="DIR", help="the site's folder")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in COMMANDS.values():
        command.add_parser(commands)
    return parser
