"""Joins the modules of the phone's first screen into one script, as it is served.

A slow phone spends more time on asking for twenty small files than on reading them.
The joined script holds each module in a scope of its own and hands it out under one
name; whoever imports one of them, by whatever address, gets that very instance. It is
made from the files on disk whenever they are served, so there is nothing to build and
nothing to go stale. Only the few forms our own scripts are written in are understood;
any other is a fault, and a test reads every script.
"""

import posixpath
import re
from collections.abc import Callable, Container, Mapping

Read = Callable[[str], str]
"""Address of a script -> its text."""

_IMPORT = re.compile(
    r'^import\s+(?P<what>\{[^}]*\}|\* as \w+|\w+)\s+from\s+"(?P<path>\.[^"]+)"'
    r"(?P<kind>[^;]*);\n",
    re.MULTILINE,
)
_LATE_IMPORT = re.compile(r'\bimport\("(\.[^"]+)"\)')
_EXPORT = re.compile(
    r"^export (?P<thing>(?:async )?function\*?|const|class) (?P<name>\w+)", re.MULTILINE
)
_EXPORT_LIST = re.compile(r"^export \{(?P<names>[\w\s,]*)\};\n", re.MULTILINE)
_LEFT_OVER = re.compile(r"^(?:import|export)\b(?!\()", re.MULTILINE)


class NotJoined(Exception):
    """A script is written in a form that cannot be joined; says which and where."""


def reached(start: str, read: Read) -> tuple[str, ...]:
    """Give the scripts that one needs before it runs, each after those it needs.

    Raises NotJoined if they import each other in a circle.
    """
    order: list[str] = []

    def visit(address: str, above: tuple[str, ...]) -> None:
        if address in above:
            raise NotJoined(" imports ".join([*above, address]))
        if address in order:
            return
        for found in _IMPORT.finditer(read(address)):
            target = _target(address, found["path"])
            if target.endswith(".js"):
                visit(target, (*above, address))
        order.append(address)

    visit(start, ())
    return tuple(order[:-1])


def join(texts: Mapping[str, str]) -> str:
    """Give one script that holds these modules, by address in the order they run.

    Raises NotJoined if one uses a form not understood.
    """
    above: dict[str, str] = {}
    scopes = [_scope(address, text, texts, above) for address, text in texts.items()]
    names = ", ".join(map(name_of, texts))
    return "".join([*above.values(), *scopes, f"export {{ {names} }};\n"])


def stand_in(address: str, text: str, joined: str) -> str:
    """Give what is served in place of a joined module: its names, from there."""
    whole = name_of(address)
    names = ", ".join(_exported(text))
    where = _relative(address, joined)
    return (
        f'import {{ {whole} }} from "{where}";\nexport const {{ {names} }} = {whole};\n'
    )


def bind(address: str, text: str, inside: Container[str], joined: str) -> str:
    """Give a script that takes what it imports of the joined modules from there."""
    wanted: dict[str, str] = {}

    def taken(found: re.Match[str]) -> str:
        target = _target(address, found["path"])
        if target not in inside:
            return found[0]
        wanted[target] = name_of(target)
        return _taking(found["what"], target)

    body = _IMPORT.sub(taken, text)
    if not wanted:
        return text
    return (
        f"import {{ {', '.join(wanted.values())} }} "
        f'from "{_relative(address, joined)}";\n{body}'
    )


def name_of(address: str) -> str:
    """Give the name a module has in the joined script."""
    return "$" + re.sub(r"\W", "_", address.strip("/").removesuffix(".js"))


def _scope(
    address: str, text: str, texts: Mapping[str, str], above: dict[str, str]
) -> str:
    def taken(found: re.Match[str]) -> str:
        target = _target(address, found["path"])
        if target not in texts:
            named = found["what"][0] in "{*"
            whole = f"* as {name_of(target)}" if named else name_of(target)
            above[target] = f'import {whole} from "{target}"{found["kind"]};\n'
        return _taking(found["what"], target)

    body = _IMPORT.sub(taken, text)
    body = _LATE_IMPORT.sub(lambda m: f'import("{_target(address, m[1])}")', body)
    body = _EXPORT_LIST.sub("", _EXPORT.sub(r"\g<thing> \g<name>", body))
    if left := _LEFT_OVER.search(body):
        line = body[left.start() :].split("\n", 1)[0]
        raise NotJoined(f"{address}: {line}")
    names = ", ".join(_exported(text))
    return (
        f"const {name_of(address)} = (() => {{\n{body}return {{ {names} }};\n}})();\n"
    )


def _taking(what: str, target: str) -> str:
    if what.startswith("* as "):
        return f"const {what.removeprefix('* as ')} = {name_of(target)};\n"
    return f"const {what.replace(' as ', ': ')} = {name_of(target)};\n"


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


def _relative(address: str, target: str) -> str:
    found = posixpath.relpath(target, posixpath.dirname(address))
    return found if found.startswith(".") else f"./{found}"
