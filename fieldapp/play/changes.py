"""Says how two states differ, and where a state is not what was expected."""

from collections.abc import Iterator, Mapping
from typing import Any


def changes(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[str]:
    """Say what a state's steps, points, clocks and nonconformances went through."""
    for part in ("steps", "points", "clocks", "holds"):
        for name, found in after.get(part, {}).items():
            was = before.get(part, {}).get(name, {}).get("status", "none")
            if was != found["status"]:
                yield f"{name}: {was} -> {found['status']}"
    for name in after["milestones"].keys() - before["milestones"].keys():
        yield f"milestone reached: {name}"
    known = {each["id"]: each["status"] for each in before["nonconformances"]}
    for each in after["nonconformances"]:
        was = known.get(each["id"], "none")
        if was != each["status"]:
            place = " ".join(str(each[n]) for n in ("step", "line") if each.get(n))
            yield f"nonconformance {_code(each)} {place}: {was} -> {each['status']}"
    if before["verdict"] != after["verdict"]:
        yield f"verdict: {before['verdict']} -> {after['verdict']}"
    if ("stopped" in before) != ("stopped" in after):
        yield "STOP in force" if "stopped" in after else "STOP over"


def differences(state: Mapping[str, Any], expected: Mapping[str, Any]) -> list[str]:
    """Give what is not as expected, by place: what was found and what was wanted."""
    wrong = []
    for path, wanted in expected.items():
        found = _plain(_at(state, path))
        want = sorted(wanted) if isinstance(wanted, list) else wanted
        if found != want:
            wrong.append(f"{path}: found {found!r}, expected {want!r}")
    return wrong


def _at(part: Any, path: str) -> Any:
    """Follow a dotted path; an id may itself hold dots, so the longest key wins."""
    if not path:
        return part
    if not isinstance(part, Mapping):
        return None
    for key in sorted(part, key=len, reverse=True):
        if path == key:
            return part[key]
        if path.startswith(f"{key}."):
            return _at(part[key], path[len(key) + 1 :])
    return None


def _plain(found: Any) -> Any:
    if isinstance(found, list):
        return sorted(_code(each) if isinstance(each, dict) else each for each in found)
    return found


def _code(each: Mapping[str, Any]) -> str:
    return str(each.get("check") or each["code"])
