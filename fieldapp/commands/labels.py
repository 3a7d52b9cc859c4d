"""`fieldapp labels [ITEM ...] --pdf FILE`: prints labels for items of the register."""

import argparse
from typing import Any

from fieldapp.commands import CommandFault
from fieldapp.commands.paper import add_paper, opened, write_pdf
from fieldapp.records.labels import UnknownItem, print_labels


def add_parser(commands: Any) -> None:
    """Say what `labels` takes."""
    parser = commands.add_parser("labels", help="print labels of the register's items")
    parser.add_argument("items", nargs="*", metavar="ITEM", help="all if left out")
    add_paper(parser)
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Write the labels; gives 0. Errors: `CommandFault`."""
    with opened(chosen) as here:
        reader, now = here.reader, here.clock()
        try:
            write_pdf(
                chosen.pdf,
                lambda: print_labels(reader, now, chosen.items, chosen.paper),
            )
        except UnknownItem as fault:
            raise CommandFault(str(fault)) from fault
    return 0
