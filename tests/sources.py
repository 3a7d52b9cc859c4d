"""Finds the project's own files and reads JavaScript as far as checks need.

No parser: strings, comments and regular expressions are blanked out (their line
breaks stay), and what is left is searched. Good enough for budgets and imports.
"""

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

_COMMENT = r"//[^\n]*|/\*[\s\S]*?\*/"
_STRING = r'"(?:\\.|[^"\\\n])*"|' r"'(?:\\.|[^'\\\n])*'|" r"`(?:\\[\s\S]|[^`\\])*`"
_PATTERN = (
    r"(?:(?<=[(,=:\[!&|?{};+~\n])|(?<=\breturn))[ \t]*"
    r"/(?![*/])(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n\[])+/[a-z]*"
)
_TOKEN = re.compile(f"(?P<comment>{_COMMENT})|(?P<string>{_STRING})|{_PATTERN}")
_IMPORT = re.compile(
    r"^\s*(?:import|export)\b[^;\"']*?from\s*[\"']([^\"']+)[\"']"
    r"|^\s*import\s*[\"']([^\"']+)[\"']"
    r"|\bimport\(\s*[\"']([^\"']+)[\"']",
    re.MULTILINE,
)
_NO_FUNCTION = {"if", "for", "while", "switch", "catch", "with", "await"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One function's body: where it begins, and how many lines it has."""

    line: int
    lines: int


@cache
def project_files() -> tuple[Path, ...]:
    """Answer with every file that is, or could be, committed."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    paths = (ROOT / name for name in listed.split("\0") if name)
    return tuple(sorted(path for path in paths if path.is_file()))


def files_in(*folders: str, suffix: str) -> list[Path]:
    """Answer with the project's files of one suffix below the named folders."""
    return [
        path
        for path in project_files()
        if path.suffix == suffix and path.relative_to(ROOT).parts[0] in folders
    ]


def name_of(path: Path) -> str:
    """Answer with a file's path from the project's root, as messages show it."""
    return path.relative_to(ROOT).as_posix()


def without_comments(script: str) -> str:
    """Blank out the comments of a script; strings stay."""
    return _TOKEN.sub(lambda m: _blank(m) if m["comment"] else m[0], script)


def texts_of(script: str) -> list[str]:
    """Answer with the strings of a script, of whatever quotes."""
    return [found["string"] for found in _TOKEN.finditer(script) if found["string"]]


def bare(script: str) -> str:
    """Blank out comments, strings and regular expressions of a script."""
    return _TOKEN.sub(_blank, script)


def script_imports(script: str) -> list[str]:
    """Answer with what a script imports or re-exports, as it is written there."""
    found = _IMPORT.finditer(without_comments(script))
    return [next(filter(None, match.groups())) for match in found]


def script_bodies(script: str) -> Iterator[Body]:
    """Yield the body of each function of a script that has braces."""
    text = bare(script)
    opened: list[int] = []
    for place, sign in enumerate(text):
        if sign == "{":
            opened.append(place)
        elif sign == "}" and opened:
            start = opened.pop()
            if _opens_function(text[:start].rstrip()):
                inside = script[start + 1 : place].strip()
                line = script.count("\n", 0, start) + 1
                yield Body(line=line, lines=len(inside.splitlines()))


def _blank(match: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", match[0])


def _opens_function(before: str) -> bool:
    if before.endswith("=>"):
        return True
    if not before.endswith(")"):
        return False
    depth = 0
    for place in range(len(before) - 1, -1, -1):
        depth += {")": 1, "(": -1}.get(before[place], 0)
        if depth == 0:
            word = re.search(r"([\w$]+)\s*$", before[:place])
            return word is not None and word[1] not in _NO_FUNCTION
    return False
