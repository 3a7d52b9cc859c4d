"""Imports point one way only, in both languages.

Each layer may import from the rows above its own, never from its own row's
neighbour. The pure layers may import nothing that reads a clock, a file or chance.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.sources import ROOT, bare, files_in, name_of, script_imports

LAYERS = [
    ("calc", "core"),
    ("plan",),
    ("signatures", "store"),
    ("intake", "lookups"),
    ("records",),
    # Handed on as arguments; only the rim may name their types.
    ("clock",),
    ("config",),
    ("sync", "web", "play"),
    ("app",),
    ("commands",),
    ("cli",),
    ("__main__",),
]
RANK = {unit: rank for rank, row in enumerate(LAYERS) for unit in row}

PURE_IMPORTS = {
    "abc", "base64", "bisect", "collections", "dataclasses", "decimal", "enum",
    "fractions", "functools", "graphlib", "hashlib", "heapq", "itertools", "math",
    "operator", "re", "types", "typing", "unicodedata",
}  # fmt: skip
PURE = {
    # calc sets its sheets out as lines of text.
    "calc": PURE_IMPORTS | {"textwrap"},
    # core reads its own packaged JSON when it is imported.
    "core": PURE_IMPORTS | {"importlib", "json", "rfc8785"},
}
HOMES = {
    "peewee": {"store"},
    "playhouse": {"store"},
    "weasyprint": {"records"},
    "flask": {"sync", "web", "app"},
    "flask_wtf": {"web", "app"},
    "wtforms": {"web"},
    "cheroot": {"commands"},
}

SCRIPT_LAYERS = ["core", "device", "phone"]
NOT_IN_SCRIPT_CORE = re.compile(
    r"(?<![\w.$])(?:document|window|navigator|indexedDB|localStorage|sessionStorage"
    r"|performance|console)\s*[.\[]"
    r"|(?<![\w.$])(?:fetch|setTimeout|setInterval|requestAnimationFrame)\s*\("
    r"|(?<![\w.$])Date\b|\bMath\.random\b|\bgetRandomValues\b|\brandomUUID\b"
)


def imports_of(source: str) -> Iterator[str]:
    """Yield every module a Python source imports, wherever the import stands."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            module = node.module or ""
            yield from (f"{module}.{name.name}" for name in node.names)


def faults_of(unit: str, source: str) -> list[str]:
    """Answer with what a module of `unit` imports and may not."""
    return [name for name in imports_of(source) if not _allowed(unit, name)]


def script_faults(layer: str, path: Path, source: str) -> list[str]:
    """Answer with the imports of a script that leave its layer upwards."""
    return [
        name
        for name in script_imports(source)
        if not _script_allowed(layer, path, name)
    ]


def test_python_imports_point_to_what_stands_above() -> None:
    units = {path: _unit_of(path) for path in files_in("fieldapp", suffix=".py")}
    assert set(units.values()) - set(RANK) == set(), "no place in LAYERS"
    assert [
        f"{name_of(path)}: {found}"
        for path, unit in units.items()
        for found in faults_of(unit, path.read_text("utf-8"))
    ] == []


def test_paper_is_set_in_one_file_and_its_lettering() -> None:
    users = [
        name_of(path)
        for path in files_in("fieldapp", suffix=".py")
        if any(
            name.split(".")[0] == "weasyprint"
            for name in imports_of(path.read_text("utf-8"))
        )
    ]
    paper = "fieldapp/records"
    assert set(users) <= {f"{paper}/pdf.py", f"{paper}/lettering.py"}


def test_script_imports_point_to_what_stands_above() -> None:
    layers = {
        path: path.relative_to(ROOT / "static").parts[0]
        for path in files_in("static", suffix=".js")
    }
    assert set(layers.values()) - set(SCRIPT_LAYERS) == set(), "not in SCRIPT_LAYERS"
    assert [
        f"{name_of(path)}: {found}"
        for path, layer in layers.items()
        for found in script_faults(layer, path, path.read_text("utf-8"))
    ] == []
    assert [
        f"{name_of(path)}: {found}"
        for path, layer in layers.items()
        if layer == "core"
        for found in NOT_IN_SCRIPT_CORE.findall(bare(path.read_text("utf-8")))
    ] == []


@pytest.mark.parametrize(
    ("unit", "source", "faults"),
    [
        ("core", "from fieldapp.calc.table import Table", 1),
        ("calc", "from fieldapp import core", 1),
        ("core", "def f():\n    import time", 1),
        ("calc", "import json", 1),
        ("core", "from importlib.resources import files\nimport rfc8785", 0),
        ("plan", "import fieldapp.store.models", 1),
        ("store", "from fieldapp.signatures import verify", 1),
        ("sync", "import fieldapp.web.forms", 1),
        ("records", "from peewee import SqliteDatabase", 1),
        ("web", "from fieldapp import __version__, lookups", 0),
        ("store", "import peewee\nfrom fieldapp.core.entries import Entry", 0),
        ("records", "from fieldapp.clock import Clock", 1),
    ],
)
def test_a_planted_import_is_judged_rightly(
    unit: str, source: str, faults: int
) -> None:
    assert len(faults_of(unit, source)) == faults


@pytest.mark.parametrize(
    ("layer", "source", "faults"),
    [
        ("core", 'import { a } from "../device/keys.js";', 1),
        ("core", 'import {\n  a,\n} from "./kernel.js";', 0),
        ("core", 'import idb from "idb";', 1),
        ("device", 'export * from "../phone/app.js";', 1),
        ("device", 'const m = await import("../core/fold.js");', 0),
        ("phone", '// import "../nowhere.js";\nimport "../core/fold.js";', 0),
        ("phone", 'import "/static/core/fold.js";', 1),
        ("device", 'const m = await import("../vendor/other.js");', 0),
        ("core", 'import "../vendor/other.js";', 1),
    ],
)
def test_a_planted_script_import_is_judged_rightly(
    layer: str, source: str, faults: int
) -> None:
    path = ROOT / "static" / layer / "planted.js"
    assert len(script_faults(layer, path, source)) == faults


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("const at = Date.now();", 1),
        ("const low = formulation.window.low;", 0),
        ("// the window.open of a page", 0),
        ('const text = "navigator.onLine";', 0),
        ("window.open(path);", 1),
        ("const plan = await fetch(path);", 1),
    ],
)
def test_the_world_is_found_in_the_core_of_scripts(source: str, found: int) -> None:
    assert len(NOT_IN_SCRIPT_CORE.findall(bare(source))) == found


def _unit_of(path: Path) -> str:
    first = path.relative_to(ROOT / "fieldapp").parts[0]
    unit = first.removesuffix(".py")
    # What every import of the package runs must be as pure as its purest layer.
    return "calc" if unit == "__init__" else unit


def _allowed(unit: str, name: str) -> bool:
    top, _, rest = name.partition(".")
    if top == "fieldapp":
        other = rest.split(".")[0]
        return other in {unit, "__version__"} or RANK.get(other, 99) < RANK[unit]
    if unit in PURE:
        return top in PURE[unit]
    return unit in HOMES.get(top, {unit})


def _script_allowed(layer: str, path: Path, name: str) -> bool:
    if not name.startswith(("./", "../")):
        return False
    inside = (path.parent / name).resolve().relative_to(ROOT)
    top, other, *_ = inside.parts
    # What others keep well is brought in by the set-up; the core needs none of it.
    if (top, other) == ("static", "vendor"):
        return layer != "core"
    order = SCRIPT_LAYERS
    return (
        top == "static" and other in order and order.index(other) <= order.index(layer)
    )
