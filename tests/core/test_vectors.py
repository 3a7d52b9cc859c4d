"""One file of vectors, two runners: each case says what it proves, and holds in both.

`tests/vectors/*.json` only ever grows: a case names a function of `fieldapp/core`, its
input, and what is expected, worked out by hand or published; never what our own code
answered. A function that exists twice without a case fails here.
"""

import ast
import json
import re
from pathlib import Path
from typing import Any

import pytest

from fieldapp.core.canonical import NotCanonical, canonical
from fieldapp.core.entries import EntryError
from fieldapp.core.kernel import UnknownWord
from fieldapp.core.sheet import UnsoundSheet
from tests.core.vector_calls import PURE
from tests.core.vector_scenes import SCENES
from tests.core.vector_stories import tell
from tests.javascript import JavaScript
from tests.sources import ROOT

VECTORS = ROOT / "tests" / "vectors"
CASES = {
    path.stem: json.loads(path.read_text("utf-8"))
    for path in sorted(VECTORS.glob("*.json"))
    if path.stem not in {"stories", "first_push"}
}
STORIES = json.loads((VECTORS / "stories.json").read_text("utf-8"))
EVERY = [case for cases in CASES.values() for case in cases]
CORE = sorted((ROOT / "fieldapp" / "core").glob("*.py"))
EXPORT = re.compile(r"^export (?:async )?function\*? (\w+)", re.MULTILINE)
# Kept under another name or place in script, for a reason.
ELSEWHERE = {
    "canonical.sha256_hex": "sha256.js",
    "register.certificate_of": "../phone/register/taken_out.js",
    "register.takes_out": "../phone/register/taken_out.js",
}


@pytest.mark.parametrize("case", EVERY, ids=lambda case: case["id"])
def test_python_keeps_the_vector(case: dict[str, Any]) -> None:
    assert _answer(case) == _expected(case), case["proves"]


def test_javascript_keeps_every_vector(javascript: JavaScript) -> None:
    asked = json.dumps([[case["function"], case["input"]] for case in EVERY])
    answers = javascript.call(
        "tests/js/core_vectors.js", "answers", asked, json.dumps(STORIES)
    )
    assert len(answers) == len(EVERY)
    wrong = {
        case["id"]: (answer, canonical(_expected(case)).decode())
        for case, answer in zip(EVERY, answers, strict=True)
        if answer != canonical(_expected(case)).decode()
    }
    assert wrong == {}


def test_no_vector_is_lost_and_none_runs_twice() -> None:
    ids = [case["id"] for case in EVERY]
    assert len(set(ids)) == len(ids)
    assert len(ids) >= 425, "vectors are only ever added"


@pytest.mark.parametrize("case", EVERY, ids=lambda case: case["id"])
def test_a_vector_says_what_it_proves(case: dict[str, Any]) -> None:
    assert set(case) <= {"id", "proves", "source", "function", "input"} | {
        "expect",
        "refusal",
    }
    assert ("expect" in case) != ("refusal" in case)
    assert len(case["proves"].split()) > 2


def test_every_function_that_exists_twice_has_a_vector() -> None:
    proved = {case["function"] for case in EVERY}
    assert {name for name in _mirrored() if name not in proved} == set()


def test_both_runners_know_the_same_functions(javascript: JavaScript) -> None:
    known = javascript.call("tests/js/core_vectors.js", "functions")
    assert known == sorted([*PURE, *SCENES])


def test_every_public_function_of_the_core_exists_in_script() -> None:
    assert [
        f"{module}.{name}"
        for module, name in _public()
        if _camel(name) not in _exports(module, name)
    ] == []


def _answer(case: dict[str, Any]) -> dict[str, Any]:
    name, given = case["function"], case["input"]
    try:
        if name in PURE:
            return {"value": PURE[name](given)}
        told = tell(STORIES, given)
        return {"value": told.named(SCENES[name](told))}
    except EntryError as fault:
        return {"refusal": f"EntryError: {fault.where}"}
    except (NotCanonical, UnknownWord, UnsoundSheet) as fault:
        return {"refusal": type(fault).__name__}


def _expected(case: dict[str, Any]) -> dict[str, Any]:
    if "refusal" in case:
        return {"refusal": case["refusal"]}
    return {"value": case["expect"]}


def _mirrored() -> list[str]:
    return [f"{module}.{name}" for module, name in _public()]


def _public() -> list[tuple[str, str]]:
    return [
        (path.stem, node.name)
        for path in CORE
        for node in ast.parse(path.read_text("utf-8")).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    ]


def _exports(module: str, name: str) -> list[str]:
    script = ELSEWHERE.get(f"{module}.{name}", f"{module}.js")
    path: Path = ROOT / "static" / "core" / script
    return EXPORT.findall(path.read_text("utf-8")) if path.is_file() else []


def _camel(name: str) -> str:
    return re.sub(r"_(\w)", lambda found: found[1].upper(), name)
