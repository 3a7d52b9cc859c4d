"""`fieldapp calc NAME`: one calculation, JSON in and JSON out, or set out as a sheet.

A refusal names the key, its value and what is allowed, on standard error, and nothing
is written on standard output. The command computes; it records nothing.
"""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from fieldapp import __version__
from fieldapp.app import paper_app
from fieldapp.calc import METHOD_VERSION, catalogue
from fieldapp.calc.inputs import in_one_line
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.working import Heading
from fieldapp.calc.working_text import as_text
from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, say
from fieldapp.commands.paper import write_pdf
from fieldapp.web.calculations.reading import Given
from fieldapp.web.calculations.sheet import sheet_of, sheet_pdf
from fieldapp.web.calculations.solving import Solved

HEADING = ("job", "subject", "revision", "prepared", "checked")


def add_parser(commands: Any) -> None:
    """Say what `calc` takes."""
    parser = commands.add_parser(
        "calc",
        help="work out one calculation",
        description="Reads one JSON object, writes one JSON object. Calculations: "
        + ", ".join(catalogue.names()),
    )
    parser.add_argument("name", metavar="NAME", help="the calculation")
    parser.add_argument(
        "--file", type=Path, help="input file; standard input if left out"
    )
    parser.add_argument(
        "--working", action="store_true", help="set the calculation out by hand"
    )
    parser.add_argument(
        "--pdf", type=Path, metavar="FILE", help="write the sheet to be signed as a PDF"
    )
    parser.add_argument(
        "--example", action="store_true", help="write an example of the input"
    )
    for key in HEADING:
        parser.add_argument(f"--{key}", default="", help="for the sheet's heading")
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Work out and print; gives 0. Errors: `CommandFault` for a refusal."""
    try:
        if chosen.pdf:
            _print_sheet(chosen)
        else:
            say(_answer(chosen))
    except CalcRefusal as refusal:
        raise CommandFault(f"calc {chosen.name}: {refusal}") from refusal
    return 0


def _answer(chosen: argparse.Namespace) -> str:
    calculation = catalogue.get(chosen.name)
    if chosen.example:
        return _written(calculation.example)
    data = read_object(_given(chosen.file))
    if not chosen.working:
        return _written(catalogue.run(chosen.name, data))
    heading = _heading(chosen)
    version = f"fieldapp {__version__}, method {METHOD_VERSION}"
    sheet = catalogue.working(chosen.name, data, heading, version=version)
    return as_text(sheet).rstrip("\n")


def _print_sheet(chosen: argparse.Namespace) -> None:
    calculation = catalogue.get(chosen.name)
    given = Given(data=read_object(_given(chosen.file)), heading=_heading(chosen))
    answer = catalogue.run(chosen.name, given.data)
    solved = Solved(values=calculation.inputs.read(given.data, ""), answer=answer)
    with paper_app().app_context():
        sheet = sheet_of(calculation, given, solved)
        write_pdf(chosen.pdf, lambda: sheet_pdf(sheet, given, solved, utc_now_ms()))


def _heading(chosen: argparse.Namespace) -> Heading:
    given: dict[str, str] = {key: getattr(chosen, key) for key in HEADING}
    for key, text in given.items():
        if not in_one_line(text):
            raise CalcRefusal(f"--{key}", text, "a text in one line, in UTF-8")
    return Heading(**given)


def read_object(text: str) -> Any:
    """JSON as data; CalcRefusal where it is none, or gives a key twice."""
    try:
        return json.loads(text, object_pairs_hook=_keys_once)
    except CalcRefusal:
        raise
    except (ValueError, RecursionError) as fault:
        raise CalcRefusal("input", str(fault), "one JSON object") from fault


def _keys_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise CalcRefusal(key, value, "each key once")
        found[key] = value
    return found


def _given(file: Path | None) -> str:
    try:
        raw = file.read_bytes() if file else sys.stdin.buffer.read()
        return raw.decode("utf-8-sig")
    except OSError as fault:
        raise CommandFault(f"{file}: {fault}") from fault
    except UnicodeDecodeError as fault:
        found = f"{file or 'standard input'} is no UTF-8 from byte {fault.start} on"
        raise CommandFault(f"{found}; allowed: one JSON object in UTF-8") from fault


def _written(answer: Any) -> str:
    # Any terminal and any script can read ASCII; JSON means the same.
    return json.dumps(answer, allow_nan=False)
