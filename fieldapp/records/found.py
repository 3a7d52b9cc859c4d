"""The figure a rule found fault with, and the limit it was held against, in words.

Both are worked out again from what the reading itself said; where a check binds
something that is no plain figure of the sheet nothing is told, and never guessed.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.core.kernel import Kernel
from fieldapp.core.scene import Scene
from fieldapp.core.steps import fails
from fieldapp.records.figures import figure
from fieldapp.records.limits import betweens

Part = Mapping[str, Any]


def as_read(scene: Scene, step: str, line: str, entry: str) -> Scene:
    """Give the scene with a line as one of its readings or corrections stated it."""
    lines = scene.lines(step)
    place = scene.view.history.graph.index.get(entry)
    if line not in lines or place not in lines[line].asserted:
        return scene
    older = scene.view.line_at(lines[line], place)
    return scene.with_lines(step, {**lines, line: older})


def failed_as_read(scene: Scene, step: str, line: str, entry: str) -> tuple[str, ...]:
    """Give the ids of the checks that one of a line's readings fails, as it stood."""
    judged = as_read(scene, step, line, entry)
    where = {"line": f"{step}/{line}"}
    # Of several lines one alone answers for no check of the whole step.
    alone = len(scene.lines(step)) == 1
    return tuple(
        check.id
        for check in scene.view.sheet.steps[step].checks
        if check.raises != "caution"
        and (alone or check.scope == "line")
        and fails(judged, check, where.get(check.scope, ""))
    )


def found_told(scene: Scene, fault: Part) -> str:
    """Say what was found and what is allowed: "40.6 °C, at most 40.0 °C"."""
    raw, step = scene.view.sheet.raw, fault.get("step") or ""
    part = raw["steps"].get(step, {})
    checks = {each["id"]: each for each in part.get("checks", ())}
    check = checks.get(fault.get("check") or "")
    if check is None or fault["code"] != "check_failed":
        return ""
    line = fault.get("line", "")
    judged = as_read(scene, step, line, fault.get("entry", "")) if line else scene
    where = f"{step}/{line}" if check["scope"] == "line" else ""
    told = _bounds(judged, raw, check, where)
    return "; ".join(dict.fromkeys(told))


def _bounds(scene: Scene, raw: Part, check: Part, where: str) -> Iterator[str]:
    kernel = Kernel(dict(raw), scene.view.sheet.tables)
    for between in betweens(raw, check["must"]):
        about = _plain(raw, between["value"])
        value = _whole(kernel, scene, between["value"], where, least=True)
        if about is None or value is None:
            continue
        low = _whole(kernel, scene, between.get("low"), where, least=True)
        high = _whole(kernel, scene, between.get("high"), where, least=False)
        places, unit = about.get("places", 0), str(about.get("unit", ""))
        if low is not None and value < low:
            limit = f"at least {figure(low, places, unit)}"
        elif high is not None and value > high:
            limit = f"at most {figure(high, places, unit)}"
        else:
            continue
        yield f"{figure(value, places, unit)}, {limit}"


def _whole(
    kernel: Kernel, scene: Scene, part: Any, where: str, *, least: bool
) -> int | None:
    """Give a part of a check as the outermost whole number it allows."""
    if part is None:
        return None
    found = (part, 1) if isinstance(part, int) else kernel.value(part)(scene, where)
    if found is None or found[1] == 0:
        return None
    number, divisor = found if found[1] > 0 else (-found[0], -found[1])
    return -(-number // divisor) if least else number // divisor


def _plain(raw: Part, value: Any) -> Part | None:
    """Give the field or shown figure a value is of: its places and its unit."""
    for step in raw["steps"].values():
        for show in step.get("shows", ()):
            if show["value"] == value:
                return dict(show)
    word = raw["values"].get(value) if isinstance(value, str) else value
    if not isinstance(word, dict):
        return None
    if word.get("word") == "reduce" and word.get("how") in ("max", "min"):
        return next((_plain(raw, each) for each in word.get("values", ())), None)
    if word.get("word") != "reading":
        return None
    fields = raw["steps"][word["step"]].get("fields", ())
    return next((dict(f) for f in fields if f["id"] == word["field"]), None)
