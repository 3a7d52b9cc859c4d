"""Puts chapters into a story: lines that many stories tell alike, kept in one file.

    { at = "19:00", chapter = "../chapters/race.toml", with = { lot = "lot-c1" } }

A chapter is a TOML file of `lines`; their times count from the line that names it.
`with` gives the words that stand as "$lot" in the chapter, all of them and no other.
"""

import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from fieldapp.play.world import PlayFault

_KEYS = {"at", "chapter", "with"}
DEEPEST = 4


def with_chapters(lines: object, folder: Path) -> object:
    """Give the lines of a story with every chapter's in its place.

    folder: where the names of chapters start. Errors: `PlayFault`.
    """
    if not isinstance(lines, list):
        return lines
    return list(_told(lines, folder, 0))


def _told(lines: list[Any], folder: Path, deep: int) -> Iterator[Any]:
    for said in lines:
        if isinstance(said, dict) and "chapter" in said:
            yield from _chapter(said, folder, deep)
        else:
            yield said


def _chapter(said: Mapping[str, Any], folder: Path, deep: int) -> Iterator[Any]:
    name, words = str(said["chapter"]), said.get("with", {})
    if set(said) - _KEYS or not isinstance(words, dict) or "at" not in said:
        raise PlayFault(f"chapter {name}: allowed: at, chapter, with = {{ … }}")
    if deep == DEEPEST:
        raise PlayFault(f"chapter {name}: chapters lie {DEEPEST} deep at most")
    path = folder / name
    used: set[str] = set()
    lines = _filled(_read(path), words, used, name)
    if unused := sorted(set(words) - used):
        raise PlayFault(f"chapter {name}: no line asks for {', '.join(unused)}")
    moved = [
        _moved(each, said["at"], name, first=not n) for n, each in enumerate(lines)
    ]
    yield from _told(moved, path.parent, deep + 1)


def _read(path: Path) -> list[Any]:
    try:
        told = tomllib.loads(path.read_text("utf-8"), parse_float=Decimal)
    except OSError as fault:
        raise PlayFault(f"{path}: {fault.strerror or fault}") from fault
    except (ValueError, RecursionError) as fault:
        raise PlayFault(f"{path}: {fault}") from fault
    lines = told.get("lines")
    if set(told) != {"lines"} or not isinstance(lines, list) or not lines:
        raise PlayFault(f"{path}: allowed: a list of lines")
    return lines


def _filled(part: Any, words: Mapping[str, Any], used: set[str], name: str) -> Any:
    if isinstance(part, list):
        return [_filled(each, words, used, name) for each in part]
    if isinstance(part, dict):
        return {
            _filled(key, words, used, name): _filled(each, words, used, name)
            for key, each in part.items()
        }
    if not (isinstance(part, str) and part.startswith("$")):
        return part
    if part[1:] not in words:
        raise PlayFault(f"chapter {name}: with: found no {part[1:]}, which it asks for")
    used.add(part[1:])
    return words[part[1:]]


def _moved(said: Any, start: str, name: str, *, first: bool) -> Any:
    """Count a line's times from the chapter's start; the first line stands there."""
    if not isinstance(said, dict):
        return said
    found = {"at": "0:00", **said} if first else dict(said)
    for key in ("at", "typed"):
        if key in found:
            found[key] = _sum(start, found[key], f"chapter {name}")
    return found


def _sum(one: object, other: object, where: str) -> str:
    hours, seconds = divmod(_seconds(one, where) + _seconds(other, where), 3_600)
    return f"{hours}:{seconds // 60:02}:{seconds % 60:02}"


def _seconds(text: object, where: str) -> int:
    parts = text.split(":") if isinstance(text, str) else []
    if not 2 <= len(parts) <= 3 or not all(part.isdecimal() for part in parts):
        raise PlayFault(f"{where}: found {text!r}, allowed: hours:minutes[:seconds]")
    hours, minutes, seconds = [*map(int, parts), 0][:3]
    return hours * 3_600 + minutes * 60 + seconds
