"""The two guides: every command and place they name exists, and none is left out.

A guide that lags behind its program is worse than none.
"""

import argparse
import re

import pytest

from fieldapp import cli
from fieldapp.calc import catalogue
from fieldapp.plan.bindings import BINDINGS
from tests.sources import ROOT

README = (ROOT / "README.md").read_text("utf-8")
GUIDE = (ROOT / "DEVELOPERS.md").read_text("utf-8")

ROOTS = ("fieldapp", "static", "templates", "tests", "sample_site")
_PATH = re.compile(rf"`((?:{'|'.join(ROOTS)})/[\w./-]*)`")
_COMMAND = re.compile(r"\bfieldapp ([a-z]+)\b")


def actions_of(command: str) -> list[str]:
    """What stands behind `fieldapp COMMAND`, if it has actions of its own."""
    parser = argparse.ArgumentParser()
    commands = parser.add_subparsers()
    cli.COMMANDS[command].add_parser(commands)
    inner = commands.choices[command]
    return [
        name
        for action in inner._actions
        if isinstance(action, argparse._SubParsersAction)
        for name in action.choices
    ]


@pytest.mark.parametrize("command", cli.COMMANDS)
def test_the_readme_names_every_command(command: str) -> None:
    assert f"fieldapp {command}" in README


@pytest.mark.parametrize("action", actions_of("person"))
def test_the_readme_names_what_can_be_done_with_people(action: str) -> None:
    assert re.search(rf"\b{action}\b", README)


def test_no_guide_names_a_command_that_is_none() -> None:
    named = set(_COMMAND.findall("\n".join(re.findall(r"`[^`]+`", README + GUIDE))))
    assert named
    assert named <= {*cli.COMMANDS}


@pytest.mark.parametrize("path", sorted(set(_PATH.findall(README + GUIDE))))
def test_every_place_that_is_named_exists(path: str) -> None:
    assert (ROOT / path).exists()


@pytest.mark.parametrize("package", sorted(
    path.name for path in (ROOT / "fieldapp").iterdir()
    if path.is_dir() and (path / "__init__.py").exists()
))  # fmt: skip
def test_the_tour_visits_every_package(package: str) -> None:
    assert f"`fieldapp/{package}/`" in GUIDE or f"`{package}/`" in GUIDE


@pytest.mark.parametrize("use", BINDINGS)
def test_the_grammar_names_every_calculation_of_a_plan(use: str) -> None:
    chapter = GUIDE.split("*Calculations* (`use =`)")[1].split("\n\n")[0]
    assert re.search(rf"\b{use}\b", chapter)


def test_the_readme_counts_the_calculations() -> None:
    assert len(catalogue.names()) == 17
    assert "Seventeen calculations" in README
