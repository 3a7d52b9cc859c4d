"""`fieldapp sheet SUBJECT --blank --pdf FILE`: prints a sheet to be written on."""

import argparse
from typing import Any

from fieldapp.commands.paper import add_paper, opened, write_pdf
from fieldapp.commands.record import must_be_issued
from fieldapp.records.blank import print_blank


def add_parser(commands: Any) -> None:
    """Say what `sheet` takes."""
    parser = commands.add_parser("sheet", help="print a subject's blank sheet")
    parser.add_argument("subject")
    parser.add_argument(
        "--blank", action="store_true", required=True, help="to be written on"
    )
    add_paper(parser)
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Write the blank sheet; gives 0. Errors: `CommandFault`."""
    with opened(chosen) as here:
        reader = here.reader
        must_be_issued(reader, chosen.subject)
        write_pdf(
            chosen.pdf,
            lambda: print_blank(reader, chosen.subject, here.clock(), chosen.paper),
        )
    return 0
