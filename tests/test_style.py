"""Budgets and habits that keep the code small enough to read.

An exception is listed in `EXCEPTIONS` with its reason, so that it is seen.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.sources import (
    ROOT,
    bare,
    files_in,
    name_of,
    project_files,
    script_bodies,
)

BODY_LINES = 40
WIDTH = 88
MODULE_LINES = {".py": 300, ".js": 250}
# One closed list of words, to be read from end to end beside its twin.
KERNEL_LINES = 500
KERNELS = {"fieldapp/core/kernel.py", "static/core/kernel.js"}
# "file" or "file:function" -> the reason why the budget is broken there.
EXCEPTIONS: dict[str, str] = {}

TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "pyproject.toml",
    "fieldapp", "static", "templates", "tests", "sample_site",
}  # fmt: skip
NAMES_THAT_SAY_NOTHING = re.compile(
    r"(?:^|_)(?:utils?|helpers?|commons?|managers?|misc)(?:_|$)"
)
CLOCKS = {"fieldapp/clock.py", "static/device/clock.js"}
SCRIPT_CLOCK = re.compile(
    r"\bDate\s*\.\s*now\b|\bnew\s+Date\s*(?:\(\s*\)|(?![\s(]))"
    r"|(?<![\w.$])(?<!new )Date\s*\(|\bperformance\s*\.\s*(?:now|timeOrigin)\b"
)
# Where some machine keeps its files says nothing to another one.
MACHINE_PATH = re.compile(r"(?<![\w.<}])/(?:work|tmp|root|home)/[\w.]")
UNSAFE_SCRIPT = re.compile(
    r"\b(?:innerHTML|outerHTML|insertAdjacentHTML|srcdoc)\b"
    r"|\bdocument\s*\.\s*write|(?<![\w.$])eval\s*\(|\bnew\s+Function\b"
)
UNSAFE_PAGE = re.compile(
    r"<script(?![^>]*\ssrc=)|<style\b|\s(?:on[a-z]+|style)\s*=\s*[\"']|javascript:",
    re.IGNORECASE,
)

PYTHON = files_in("fieldapp", "tests", suffix=".py")
SCRIPTS = files_in("static", "tests", suffix=".js")
SHELLS = [path for path in project_files() if path.suffix == ".sh"]
SHEETS = files_in("static", "templates", suffix=".css")
PAGES = files_in("static", "templates", suffix=".html")


def python_bodies(source: str) -> Iterator[tuple[str, int]]:
    """Yield each function's name and its body's lines, without its docstring."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            told = ast.get_docstring(node) is not None
            body = node.body[1:] if told else node.body
            lines = (node.end_lineno or 0) - body[0].lineno + 1 if body else 0
            yield node.name, lines


def clock_reads(source: str) -> list[str]:
    """Answer with what in a Python source reads a clock; sleeping is no reading."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found += [name.name for name in node.names if name.name == "time"]
        elif isinstance(node, ast.ImportFrom) and node.module == "time":
            found += [name.name for name in node.names if name.name != "sleep"]
        elif isinstance(node, ast.Attribute) and _names_now(node):
            found.append(ast.unparse(node))
    return found


# Each test reads all files and lists every fault: a test a file would be thousands.
def test_python_stays_within_its_budgets() -> None:
    assert [fault for path in PYTHON for fault in _length_faults(path)] == []
    assert [
        f"{name_of(path)}:{name} has {lines} lines"
        for path in PYTHON
        for name, lines in python_bodies(path.read_text("utf-8"))
        if lines > BODY_LINES and f"{name_of(path)}:{name}" not in EXCEPTIONS
    ] == []


def test_a_script_stays_within_its_budgets() -> None:
    assert [fault for path in SCRIPTS for fault in _length_faults(path)] == []
    assert [
        f"{name_of(path)}:{body.line} has {body.lines} lines"
        for path in SCRIPTS
        for body in script_bodies(path.read_text("utf-8"))
        if body.lines > BODY_LINES
    ] == []


def test_lines_fit_the_page() -> None:
    assert [
        f"{name_of(path)}:{number} is {len(line)} wide"
        for path in PYTHON + SCRIPTS + SHELLS + SHEETS
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if len(line) > WIDTH
    ] == []


def test_a_module_is_named_for_what_it_holds() -> None:
    named = [path for path in PYTHON + SCRIPTS if _says_nothing(path)]
    assert named == []


def test_only_the_clock_modules_read_a_clock() -> None:
    named = files_in("fieldapp", suffix=".py") + files_in("static", suffix=".js")
    reading = {name_of(path) for path in named if _reads_a_clock(path)}
    assert reading == CLOCKS


def _reads_a_clock(path: Path) -> bool:
    source = path.read_text("utf-8")
    if path.suffix == ".py":
        return clock_reads(source) != []
    return SCRIPT_CLOCK.search(bare(source)) is not None


def test_a_script_builds_no_markup_and_no_code_from_text() -> None:
    assert [
        f"{name_of(path)}: {found}"
        for path in files_in("static", suffix=".js")
        for found in UNSAFE_SCRIPT.findall(bare(path.read_text("utf-8")))
    ] == []


def test_a_page_holds_no_script_and_no_style() -> None:
    assert [
        f"{name_of(path)}: {found}"
        for path in PAGES
        for found in UNSAFE_PAGE.findall(path.read_text("utf-8"))
    ] == []


def test_a_module_opens_with_its_contract() -> None:
    sources = {
        name_of(path): path.read_text("utf-8")
        for path in files_in("fieldapp", suffix=".py")
    }
    assert [
        name
        for name, source in sources.items()
        if source.strip() and ast.get_docstring(ast.parse(source)) is None
    ] == []


def test_only_known_names_are_visible_at_the_top() -> None:
    tops = {path.relative_to(ROOT).parts[0] for path in project_files()}
    assert {name for name in tops if not name.startswith(".")} - TOP_LEVEL == set()


def test_no_file_knows_a_path_of_some_machine() -> None:
    assert [
        f"{name_of(path)}: {found[0]}"
        for path in project_files()
        if (found := MACHINE_PATH.search(_text_of(path)))
    ] == []


@pytest.mark.parametrize(
    ("source", "reads"),
    [
        ("import time", 1),
        ("from time import monotonic, sleep", 1),
        ("from time import sleep", 0),
        ("from datetime import UTC, datetime\nat = datetime.now(UTC)", 1),
        ("import datetime\nat = datetime.date.today()", 1),
        ("at = clock.now()", 0),
    ],
)
def test_a_planted_clock_is_found_in_python(source: str, reads: int) -> None:
    assert len(clock_reads(source)) == reads


@pytest.mark.parametrize(
    ("source", "reads"),
    [
        ("const at = Date.now();", 1),
        ("const at = new Date();", 1),
        ("const at = new Date;", 1),
        ("const text = Date();", 1),
        ("const passed = performance.now() - before;", 1),
        ("const shown = new Date(at_ms);", 0),
        ("const shown = formatDate(at_ms); // Date.now()", 0),
    ],
)
def test_a_planted_clock_is_found_in_a_script(source: str, reads: int) -> None:
    assert len(SCRIPT_CLOCK.findall(bare(source))) == reads


def test_the_body_of_a_python_function_is_measured_without_its_docstring() -> None:
    source = 'def f():\n    """One.\n\n    Two.\n    """\n    a = 1\n    return a\n'
    assert list(python_bodies(source)) == [("f", 2)]


def test_the_bodies_of_script_functions_are_measured() -> None:
    source = """
    function first(a, { b } = {}) {
      if (a) {
        return "}{";
      }
    }
    const second = (x) => {
      return /[{"]/.test(x);
    };
    class Third {
      method() {
        // {
      }
    }
    """
    assert [body.lines for body in script_bodies(source)] == [3, 1, 1]


@pytest.mark.parametrize(
    ("page", "faults"),
    [
        ('<script src="/static/a.js" type="module"></script>', 0),
        ("<script>start()</script>", 1),
        ('<p style="color: red">', 1),
        ('<button onclick="go()">', 1),
        ('<a href="javascript:go()">', 1),
        ("<p>on time = good style = yes</p>", 0),
    ],
)
def test_planted_page_code_is_found(page: str, faults: int) -> None:
    assert len(UNSAFE_PAGE.findall(page)) == faults


def _length_faults(path: Path) -> list[str]:
    name = name_of(path)
    budget = KERNEL_LINES if name in KERNELS else MODULE_LINES[path.suffix]
    lines = len(path.read_text("utf-8").splitlines())
    if lines <= budget or name in EXCEPTIONS:
        return []
    return [f"{name} has {lines} lines, {budget} allowed"]


def _says_nothing(path: Path) -> bool:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return any(NAMES_THAT_SAY_NOTHING.search(part) for part in parts)


def _names_now(node: ast.Attribute) -> bool:
    if node.attr not in {"now", "utcnow", "today"}:
        return False
    owner = ast.unparse(node.value).split(".")[-1]
    return owner in {"datetime", "date", "dt"}


def _text_of(path: Path) -> str:
    try:
        return path.read_text("utf-8")
    except UnicodeDecodeError:
        return ""
