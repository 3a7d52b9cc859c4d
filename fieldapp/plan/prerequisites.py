"""Reads what other subjects must have reached before a point of this one.

The others are the one before on the arm, or those a column of the subject's own row
names; what they must have reached is a stage of their own kind.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.faults import Faults
from fieldapp.plan.references import words_of
from fieldapp.plan.site import Subject
from fieldapp.plan.toml_node import Node


def read_prerequisites(draft: Draft) -> list[dict[str, Any]]:
    """Read the prerequisites of a kind for its subject; none for a first on an arm."""
    found = []
    for node in draft.kind.items("prerequisites", need=False):
        before = [draft.point(place) for place in node.items("before")]
        reached = node.child("milestone")
        for subject, named in _others(node, draft):
            if draft.stage_of(subject, named, reached):
                found.append(
                    {"subject": subject, "milestone": reached.value, "before": before}
                )
        node.finish()
    return found


def _others(node: Node, draft: Draft) -> Iterator[tuple[str, Node]]:
    """Give the ids of the other subjects, each with the place that named it."""
    if "by" in node:
        place = node.child("by")
        for name in draft.names_in_column(place):
            yield name, place
        return
    node.one_of("previous", ("arm",))
    mine = draft.subject
    for other in draft.site.subjects:
        same_arm = (other.pier, other.arm) == (mine.pier, mine.arm)
        before = mine.order is not None and other.order == mine.order - 1
        if other.kind == mine.kind and same_arm and before:
            yield other.id, node.child("previous")


def check_circles(
    subjects: tuple[Subject, ...],
    sheets: Mapping[str, dict[str, Any]],
    faults: Faults,
) -> None:
    """Report subjects that wait for each other: none of them could ever begin."""
    waits = {name: sorted(_waits_for(sheet)) for name, sheet in sheets.items()}
    clear: set[str] = set()
    for subject in subjects:
        circle = _circle(subject.id, waits, clear, ())
        if circle:
            allowed = "subjects that do not wait for each other"
            found = " for ".join(circle)
            faults.add(subject.table, subject.line, "id", found, allowed)
            return


def _waits_for(sheet: dict[str, Any]) -> set[str]:
    listed = {each["subject"] for each in sheet["prerequisites"]}
    asked = {word["subject"] for word in words_of(sheet) if "subject" in word}
    return listed | asked


def _circle(
    name: str, waits: Mapping[str, list[str]], clear: set[str], path: tuple[str, ...]
) -> tuple[str, ...]:
    """Give a way that comes back to where it has been, or nothing."""
    if name in path:
        return (*path[path.index(name) :], name)
    if name in clear:
        return ()
    for other in waits.get(name, ()):
        found = _circle(other, waits, clear, (*path, name))
        if found:
            return found
    clear.add(name)
    return ()
