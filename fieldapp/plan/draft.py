"""A sheet while it is being made: what has been declared so far, by name.

Made for one subject from its kind's file. It answers expressions and calculations;
it never invents: a name that is not there is a fault of the plan.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, TypeVar

from fieldapp.plan.quantities import (
    CHOICE,
    COUNT,
    Condition,
    FieldShape,
    LineList,
    Quantity,
    StepShape,
    TableShape,
    Value,
)
from fieldapp.plan.site import Files, Section, Subject
from fieldapp.plan.toml_node import Node, as_decimal

Made = TypeVar("Made")
LEAST, MOST = Decimal(-(10**9)), Decimal(10**9)
FIELD_KINDS = ("number", "choice", "text", "item")


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """Everything known about the sheet of one subject."""

    site: Files
    subject: Subject
    kind: Node
    steps: Mapping[str, StepShape]
    points: tuple[str, ...]
    milestones: tuple[str, ...]
    clocks: tuple[str, ...]
    cards: tuple[str, ...]
    tables: dict[str, TableShape] = field(default_factory=dict)
    values: dict[str, Value] = field(default_factory=dict)
    conditions: dict[str, Condition] = field(default_factory=dict)
    lines: dict[str, LineList] = field(default_factory=dict)
    item_numbers: dict[str, dict[str, Quantity]] = field(default_factory=dict)
    items: dict[str, dict[str, Any]] = field(default_factory=dict)
    facts: list[dict[str, Any]] = field(default_factory=list)
    pictures: list[dict[str, Any]] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)
    being_read: set[str] = field(default_factory=set)
    declared: set[str] = field(default_factory=set)
    spoiled: set[str] = field(default_factory=set)

    def step(self, node: Node) -> str:
        """Give the id of a step named at a place; "" and a fault if there is none."""
        return self._one_of(node, tuple(self.steps), "a step")

    def point(self, node: Node) -> str:
        """Give the id of a point named at a place."""
        return self._one_of(node, self.points, "a point")

    def card(self, node: Node) -> str:
        """Give the id of a card named at a place."""
        return self._one_of(node, self.cards, "a card")

    def clock(self, node: Node) -> str:
        """Give the id of a clock named at a place."""
        return self._one_of(node, self.clocks, "a clock")

    def stage(self, node: Node) -> str:
        """Give the id of a step, point or milestone named at a place."""
        every = (*self.steps, *self.points, *self.milestones)
        return self._one_of(node, every, "a step, point or milestone")

    def subject_named(self, subject: str, named: Node) -> Subject | None:
        """Give the subject of an id; none is a fault of the place that named it."""
        other = next((s for s in self.site.subjects if s.id == subject), None)
        if other is None:
            if named.source.faults.touch_tables():
                named.source.faults.spare()
            else:
                named.fault("the id of a subject", subject)
        return other

    def names_in_column(self, place: Node) -> list[str]:
        """Give the ids that the subject's own row has in a column named at a place."""
        cells = self.subject.cells
        if place.value not in cells:
            known = ", ".join(cells)
            place.fault(f"a column of {self.subject.table}: {known}")
        return cells.get(str(place.value), "").split()

    def stage_of(self, subject: str, named: Node, node: Node) -> bool:
        """Say whether another subject has the stage named at a place.

        named: where the subject itself was named, for its fault.
        """
        other = self.subject_named(subject, named)
        if other is None:
            return False
        kind = self.site.kinds[other.kind]
        stages = [
            name
            for key in ("steps", "points", "milestones")
            for name, _ in kind.named(key, need=False)
        ]
        if node.value not in stages:
            known = ", ".join(stages)
            node.fault(f"a step, point or milestone of {other.kind}: {known}")
            return False
        return True

    def field(self, node: Node) -> tuple[str, str]:
        """Give step and field of a place that says "step.field"; ("", "") if none."""
        step, _, name = str(node.value).partition(".")
        if step in self.steps and name in self.steps[step].fields:
            return step, name
        known = [f"{s}.{f}" for s, shape in self.steps.items() for f in shape.fields]
        node.fault("a field as step.field: " + ", ".join(known))
        return "", ""

    def made(self, node: Node, known: Mapping[str, Made], what: str) -> Made | None:
        """Give what a calculation or the plan made under the name at a place.

        A name that is not there because its own making was faulty is not told again.
        """
        name = node.value if isinstance(node.value, str) else ""
        if name in known:
            return known[name]
        if name.partition(".")[0] in self.spoiled or name in self.spoiled:
            node.source.faults.spare()
        else:
            node.fault(f"{what} made before: " + (", ".join(known) or "there is none"))
        return None

    def declare(
        self, name: str, known: dict[str, Made], read: Callable[[], Made | None]
    ) -> None:
        """Read what the plan itself declares, once; what refers to itself is none.

        known: where it is kept under its name; read: reads it, None after a fault.
        """
        if name in known or name in self.spoiled or name in self.being_read:
            return
        self.being_read.add(name)
        found = read()
        self.being_read.discard(name)
        if found is None:
            self.spoiled.add(name)
        else:
            known[name] = found
            self.declared.add(name)

    def shape(self, step: str, name: str) -> FieldShape:
        """Give a field's shape."""
        return self.steps[step].fields[name]

    def kind_of(self, stage: str) -> str:
        """Say whether an id is a step, a point or a milestone."""
        if stage in self.steps:
            return "step"
        return "point" if stage in self.points else "milestone"

    @property
    def face(self) -> Section:
        """Give the face of a subject that has one; ask `has_face` first."""
        assert self.subject.section is not None, "asked without has_face"
        return self.subject.section

    def has_face(self, node: Node) -> bool:
        """Say whether the subject names a section; a fault at a place that needs it."""
        return self._has(node, self.subject.section is not None, "section")

    def has_segment(self, node: Node) -> bool:
        """Say whether the subject names a segment; a fault if not."""
        return self._has(node, self.subject.segment is not None, "segment")

    def has_bars(self, node: Node) -> bool:
        """Say whether the subject names bars; a fault if not."""
        return self._has(node, bool(self.subject.bars), "bars")

    def _has(self, node: Node, there: bool, what: str) -> bool:
        if not there:
            table = self.subject.table
            node.child("use").fault(f"a subject of {table} that names {what}")
        return there

    def _one_of(self, node: Node, known: tuple[str, ...], what: str) -> str:
        if isinstance(node.value, str) and node.value in known:
            return node.value
        node.fault(f"{what}: " + (", ".join(known) or "there is none"))
        return ""


def new_draft(site: Files, subject: Subject, kind: Node) -> Draft:
    """Start a sheet: read from the kind's file what there is to refer to."""
    steps = {name: _step_shape(node, site) for name, node in kind.named("steps")}
    draft = Draft(
        site=site,
        subject=subject,
        kind=kind,
        steps=steps,
        points=_names(kind, "points"),
        milestones=_names(kind, "milestones"),
        # Not every subject has one that asks for the other arm: nothing names those.
        clocks=tuple(
            name
            for name, node in kind.named("clocks", need=False)
            if "other_arm" not in node
        ),
        cards=_names(kind, "cards"),
    )
    _check_distinct(draft)
    return draft


def _names(kind: Node, key: str) -> tuple[str, ...]:
    return tuple(name for name, _ in kind.named(key, need=False))


def _check_distinct(draft: Draft) -> None:
    """A step, a point and a milestone never share an id: "reached" names only one."""
    seen = set(draft.steps)
    for key in ("points", "milestones"):
        for name, node in draft.kind.named(key, need=False):
            if name in seen:
                node.fault("an id no step, point or milestone has yet", name)
            seen.add(name)


def _step_shape(node: Node, site: Files) -> StepShape:
    lines = node.child("lines")
    fields = {}
    for place in node.items("fields", need=False):
        name = place.identity("id")
        fields[name] = _field_shape(place, site)
    return StepShape(
        fields=fields,
        many=lines.given or node.flag("series"),
        lines_from=lines.value if isinstance(lines.value, str) else "",
    )


def _field_shape(node: Node, site: Files) -> FieldShape:
    kind = node.one_of("kind", FIELD_KINDS)
    if not kind:
        return FieldShape(kind="", quantity=COUNT)
    if kind == "choice":
        options = tuple(option["value"] for option in options_of(node, site))
        return FieldShape(kind=kind, quantity=CHOICE, options=options)
    if kind == "item":
        return FieldShape(kind=kind, quantity=COUNT, item=node.identity("items"))
    if kind == "text":
        return FieldShape(kind=kind, quantity=COUNT)
    quantity = Quantity(
        node.text("unit", need=False), node.whole("places", 0, 6, default=0)
    )
    low, high = bound_of(node, "low"), bound_of(node, "high")
    return FieldShape(kind=kind, quantity=quantity, low=low, high=high)


def bound_of(node: Node, key: str) -> Decimal | None:
    """Give the written bound of a number field."""
    place = node.child(key)
    value = as_decimal(place) if place.given else None
    if not place.given:
        place.fault("a number: what can be read at all")
    elif value is not None and not LEAST <= value <= MOST:
        place.fault(f"a number from {LEAST} to {MOST}")
    return value


def options_of(node: Node, site: Files) -> list[dict[str, Any]]:
    """Give a choice's options; "formulations" stands for the site's adhesives."""
    if node.child("options").value == "formulations":
        return [
            {"value": each.number, "label": each.title}
            for each in site.formulations.values()
        ]
    return [_option(option) for option in node.items("options")]


def _option(node: Node) -> dict[str, Any]:
    option: dict[str, Any] = {
        "value": node.whole("value", 0, 999),
        "label": node.text("label"),
    }
    if node.child("good").given:
        option["good"] = int(node.flag("good"))
    if node.flag("stays"):
        option["stays"] = 1
    node.finish()
    return option
