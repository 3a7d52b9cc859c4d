"""Joins the modules of the phone into a few scripts, as they are served.

A slow phone spends more time on asking for many small files than on reading them, and
what is joined packs smaller. A joined script holds each module in a scope of its own
and hands it out under one name; whoever imports one of them, by whatever address, gets
that very instance. It is made from the files on disk whenever they are served, so there
is nothing to build and nothing to go stale. Only the few forms our own scripts are
written in are understood; any other is a fault, and a test reads every script.

The first joined script is no module: Chromium compiles what a worker takes in and keeps
it compiled for every cold start, but only if it is none. Modules get at it by `holder`.
"""

import json
import posixpath
import re
from collections.abc import Callable, Collection, Iterable, Mapping

Read = Callable[[str], str]
"""Address of a script -> its text."""
Homes = Mapping[str, str]
"""Address of a joined module -> the module that hands it out under its name."""
HELD = "globalThis.$held"
"""Where the first script leaves its modules."""

_IMPORT = re.compile(
    r'^import\s+(?P<what>\{[^}]*\}|\* as \w+|\w+)\s+from\s+"(?P<path>\.[^"]+)"'
    r"(?P<kind>[^;]*);\n",
    re.MULTILINE,
)
_LATE_IMPORT = re.compile(r'\bimport\("(?P<path>\.[^"]+)"\)')
_EXPORT = re.compile(
    r"^export (?P<thing>(?:async )?function\*?|const|class) (?P<name>\w+)", re.MULTILINE
)
_EXPORT_LIST = re.compile(r"^export \{(?P<names>[\w\s,]*)\};\n", re.MULTILINE)
_LEFT_OVER = re.compile(r"^(?:import|export)\b(?!\()", re.MULTILINE)


class NotJoined(Exception):
    """A script is written in a form that cannot be joined; says which and where."""


def reached(
    starts: Iterable[str], read: Read, known: Collection[str] = ()
) -> tuple[str, ...]:
    """Give these scripts and what they need before they run, each after its needs.

    What is known already is left out. Raises NotJoined if they import each other in a
    circle, or what is not there.
    """
    order: list[str] = []

    def needs(address: str, above: tuple[str, ...]) -> list[str]:
        try:
            found = _IMPORT.finditer(read(address))
        except KeyError:
            way = " imports ".join([*above, address])
            raise NotJoined(f"{way}, which is not there") from None
        return [_target(address, one["path"]) for one in found]

    def visit(address: str, above: tuple[str, ...]) -> None:
        if address in above:
            raise NotJoined(" imports ".join([*above, address]))
        if address in order or address in known:
            return
        if address.endswith(".js"):
            for target in needs(address, above):
                visit(target, (*above, address))
        order.append(address)

    for start in starts:
        visit(start, ())
    return tuple(order)


def join_first(texts: Mapping[str, str], start: str, homes: Homes) -> str:
    """Give the page's own script: these modules, then the one that starts the page.

    Whoever needs the modules without the page (a test) may import it as well; then
    nothing is started. Raises NotJoined if one uses a form not understood.
    """
    parts = [_scope(one, text, texts, homes) for one, text in texts.items()]
    above = {line for lines, _ in parts for line in lines}
    if above:
        raise NotJoined(f"{start} needs {'; '.join(sorted(above))}")
    bodies = [body for _, body in parts]
    names = ", ".join(name_of(one) for one in texts if one != start)
    return "".join([
        f'"use strict";\nif (!{HELD}) {{\n', *bodies[:-1], f"{HELD} = {{ {names} }};\n",
        f"if (globalThis.document?.currentScript) {{\n{bodies[-1]}}}\n}}\n",
    ])  # fmt: skip


def holder(texts: Iterable[str], first: str) -> str:
    """Give the module that hands out what the first script holds."""
    names = ", ".join(map(name_of, texts))
    return (
        f'if (!{HELD}) await import("{first}");\nexport const {{ {names} }} = {HELD};\n'
    )


def join(texts: Mapping[str, str], homes: Homes) -> str:
    """Give one module that holds these, by address in the order they run.

    Raises NotJoined if one uses a form not understood.
    """
    parts = [_scope(one, text, texts, homes) for one, text in texts.items()]
    above = dict.fromkeys(line for lines, _ in parts for line in lines)
    names = ", ".join(map(name_of, texts))
    return "".join([
        *above, *(body for _, body in parts), f"export {{ {names} }};\n",
    ])  # fmt: skip


def stand_in(address: str, text: str, homes: Homes) -> str:
    """Give what is served in place of a joined module: its names, from there."""
    if not address.endswith(".js"):
        return text
    names = ", ".join(_exported(text))
    asking = _asking(address, homes)
    return f"{asking}export const {{ {names} }} = {name_of(address)};\n"


def bind(address: str, text: str, homes: Homes) -> str:
    """Give a script that takes what it imports of the joined modules from there."""
    above: dict[str, None] = {}

    def taken(found: re.Match[str]) -> str:
        target = _target(address, found["path"])
        if target not in homes:
            return found[0]
        above[_asking(target, homes)] = None
        return _taking(found["what"], target)

    body = _late(address, _IMPORT.sub(taken, text), homes)
    return "".join([*above, body])


def name_of(address: str) -> str:
    """Give the name a module has in the joined script."""
    return "$" + re.sub(r"\W", "_", address.strip("/").removesuffix(".js"))


def _scope(
    address: str, text: str, texts: Mapping[str, str], homes: Homes
) -> tuple[list[str], str]:
    """Give the lines a module wants above all others, and the module as one value."""
    name = name_of(address)
    if not address.endswith(".js"):
        told = json.dumps(json.loads(text), ensure_ascii=False, separators=(",", ":"))
        return [], f"const {name} = {told};\n"
    above: list[str] = []

    def taken(found: re.Match[str]) -> str:
        target = _target(address, found["path"])
        if target not in texts:
            above.append(_asking(target, homes, found))
        return _taking(found["what"], target)

    body = _late(address, _IMPORT.sub(taken, text), homes)
    body = _EXPORT_LIST.sub("", _EXPORT.sub(r"\g<thing> \g<name>", body))
    if left := _LEFT_OVER.search(body):
        line = body[left.start() :].split("\n", 1)[0]
        raise NotJoined(f"{address}: {line}")
    names = ", ".join(_exported(text))
    return above, f"const {name} = (() => {{\n{body}return {{ {names} }};\n}})();\n"


def _asking(target: str, homes: Homes, found: re.Match[str] | None = None) -> str:
    """Give the line that imports a module under its own name."""
    name = name_of(target)
    if target in homes:
        return f'import {{ {name} }} from "{homes[target]}";\n'
    assert found is not None
    whole = f"* as {name}" if found["what"][0] in "{*" else name
    return f'import {whole} from "{target}"{found["kind"]};\n'


def _late(address: str, text: str, homes: Homes) -> str:
    def taken(found: re.Match[str]) -> str:
        target = _target(address, found["path"])
        if target in homes:
            return f'import("{homes[target]}").then((all) => all.{name_of(target)})'
        return f'import("{target}")'

    return _LATE_IMPORT.sub(taken, text)


def _taking(what: str, target: str) -> str:
    if what.startswith("{"):
        what = what.replace(" as ", ": ")
    return f"const {what.removeprefix('* as ')} = {name_of(target)};\n"


def _exported(text: str) -> list[str]:
    listed = [
        name.strip()
        for found in _EXPORT_LIST.finditer(text)
        for name in found["names"].split(",")
        if name.strip()
    ]
    return [*(found["name"] for found in _EXPORT.finditer(text)), *listed]


def _target(address: str, path: str) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(address), path))
