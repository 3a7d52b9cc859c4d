"""Every key of a TOML text is found on the line where a person sees it."""

import tomllib
from typing import Any

import pytest

from fieldapp.plan.toml_lines import lines_of
from tests.plan.sample import SAMPLE

TEXT = '''# a comment with [brackets] and a = b
id = "a # no comment"

[steps.one]
title = """
two lines, [not.a.table]
x = 1"""
fields = [
  { id = "a", low = -1.5 },  # }
  { id = 'b]', "odd key" = [1,
     2] },
]
a.b.c = true
[[list]]
name = "first"
[[list]]
name = "second"
[list.inner]
deep = 2026-11-25
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("id",), 2),
        (("steps", "one"), 4),
        (("steps", "one", "title"), 5),
        (("steps", "one", "fields"), 8),
        (("steps", "one", "fields", 0), 9),
        (("steps", "one", "fields", 0, "low"), 9),
        (("steps", "one", "fields", 1, "odd key"), 10),
        (("steps", "one", "fields", 1, "odd key", 1), 11),
        (("steps", "one", "a", "b", "c"), 13),
        (("list", 0, "name"), 15),
        (("list", 1), 16),
        (("list", 1, "name"), 17),
        (("list", 1, "inner", "deep"), 19),
    ],
)
def test_a_key_is_found_on_its_line(path: tuple[str | int, ...], line: int) -> None:
    assert lines_of(TEXT)[path] == line


@pytest.mark.parametrize("name", ["site.toml", "plan/glued_joint.toml"])
def test_every_key_of_the_sample_has_a_line_that_shows_it(name: str) -> None:
    text = (SAMPLE / name).read_text("utf-8")
    lines, shown = lines_of(text), text.splitlines()
    paths = list(_paths(tomllib.loads(text), ()))
    assert len(paths) > 10
    for path in paths:
        assert path in lines
        if isinstance(path[-1], str):
            assert path[-1] in shown[lines[path] - 1]


def _paths(value: Any, path: tuple[str | int, ...]) -> Any:
    pairs = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in pairs:
        yield (*path, key)
        if isinstance(inner, dict | list):
            yield from _paths(inner, (*path, key))
