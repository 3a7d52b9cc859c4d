"""The steps of a sheet in order: what was read, its limits, what it came to, by whom.

One way of setting serves every step, chosen by the shape of what was read: a list of
readings, a run of a few lines with one figure each, a table with a row a line, or one
with a row an item and its rounds side by side. No kind of subject is known by name.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.records.acts import line_label
from fieldapp.records.figures import computed, day
from fieldapp.records.limits import bound_text, bounds
from fieldapp.records.lines import Cell, Lines, lines_of
from fieldapp.records.marks import Mark, outcome
from fieldapp.records.opened import Opened
from fieldapp.records.rounds import Rounds, rounds_of
from fieldapp.records.unrecorded import steps_of_stops

LISTED_LINES = 3
RUN_OF = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A check of the step: what is raised, its source, and whether it was."""

    text: str
    source: str
    raised: str
    tone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPart:
    """A step as printed. `form` is "readings", "run", "table" or "rounds".

    plain: nothing but recorded, so that an icon says it; who: one person, or empty.
    """

    id: str
    title: str
    mark: Mark
    dates: str
    dated: bool
    missing: str
    form: str
    lines: Lines
    computed: tuple[Cell, ...]
    rules: tuple[Rule, ...]
    rounds: Rounds | None
    who: str

    @property
    def plain(self) -> bool:
        """Say whether there is nothing to tell of its state but that it is recorded."""
        return self.mark.tone == "green"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Steps set together: any number as "rows" of one table, else one alone."""

    form: str
    parts: tuple[StepPart, ...]


def step_parts(opened: Opened, state: dict[str, Any]) -> Iterator[StepPart]:
    """Tell every step that has a line, in the order of the work."""
    for name in opened.raw["flow"]:
        if name in opened.raw["steps"] and state["steps"][name]["lines"]:
            yield _step_part(opened, name, state["steps"][name])


def step_blocks(parts: Iterable[StepPart]) -> tuple[Block, ...]:
    """Gather plain steps that follow one another into one table."""
    blocks: list[Block] = []
    for part in parts:
        form = "rows" if part.form in ("readings", "run") else part.form
        if form == "rows" and blocks and blocks[-1].form == "rows":
            part_of = (*blocks.pop().parts, part)
            blocks.append(Block(form=form, parts=part_of))
        else:
            blocks.append(Block(form=form, parts=(part,)))
    return tuple(blocks)


def recorder_of(parts: Iterable[StepPart]) -> str:
    """Give the person who recorded the most, to be named once; empty for nobody."""
    names = Counter(row.who for part in parts for row in part.lines.rows)
    return names.most_common(1)[0][0] if names else ""


def not_called_for(opened: Opened) -> Iterator[str]:
    """Give the titles of steps that were not called for, or asked for nothing."""
    told = steps_of_stops(opened.raw, opened.entries)
    for name in opened.raw["flow"]:
        now = opened.state["steps"].get(name)
        if (
            name not in told
            and now
            and not now["lines"]
            and now["status"] in ("off", "done")
        ):
            yield opened.words.fact("step", name)


def _step_part(opened: Opened, name: str, now: dict[str, Any]) -> StepPart:
    step = opened.raw["steps"][name]
    days = sorted(set(_days(opened, now)))
    lines = lines_of(opened, name, now, dated=len(days) > 1)
    rounds = rounds_of(opened, name, lines, list(now["lines"]))
    people = {row.who for row in lines.rows}
    return StepPart(
        id=name,
        title=str(step["title"]),
        mark=outcome(now),
        dates=" to ".join(dict.fromkeys((days[0], days[-1]))),
        dated=len(days) > 1 or any(" " in row.when for row in lines.rows),
        missing=f"{now['missing']} still to record" if now["missing"] else "",
        form="rounds" if rounds else _form(step, lines),
        lines=lines,
        computed=tuple(_step_figures(opened, name, now)),
        rules=tuple(_rules(opened, name, now)),
        rounds=rounds,
        who=people.pop() if len(people) == 1 else "",
    )


def _form(step: Mapping[str, Any], lines: Lines) -> str:
    if len(lines.rows) == 1 and (not lines.marked or not step.get("lines")):
        return "readings"
    quiet = not any(row.remarks or row.earlier for row in lines.rows)
    sorts = Counter(sort for _, sort in lines.heads)
    short = max(sorts.values(), default=0) <= 1 and len(lines.rows) <= RUN_OF
    plain = quiet and lines.by and short and not lines.marked
    return "run" if plain else "table"


def _days(opened: Opened, now: dict[str, Any]) -> Iterator[str]:
    for line in now["lines"].values():
        yield day(line["at"], opened.by_id[line["entry"]].zone)


def _step_figures(opened: Opened, name: str, now: dict[str, Any]) -> Iterator[Cell]:
    stated = bounds(opened.raw, name, "step")
    for show in opened.part(name).get("shows", ()):
        if show["scope"] == "step" and show["id"] in now["shows"]:
            limits = [
                bound_text(bound, {}, show["places"], show.get("shown"))
                for bound in stated.get(("show", show["id"]), [])
            ]
            yield Cell(
                label=str(show["label"]),
                text=computed(now["shows"][show["id"]], show, show["unit"]),
                limits=tuple(text for text in limits if text),
                computed=True,
            )


def _rules(opened: Opened, name: str, now: dict[str, Any]) -> Iterator[Rule]:
    for check in opened.part(name).get("checks", ()):
        tone = "yellow" if check["raises"] == "caution" else "red"
        raised = _raised(opened, name, now, check)
        yield Rule(
            text=str(check["text"]),
            source=str(check.get("source", "")),
            raised=raised,
            tone=tone if raised else "",
        )


def _raised(
    opened: Opened, name: str, now: dict[str, Any], check: Mapping[str, Any]
) -> str:
    words = {"block": "refused", "caution": "caution"}
    word = words.get(check["raises"], str(check["raises"]))
    if check["scope"] == "step":
        return word if check["id"] in (*now["failed"], *now["cautions"]) else ""
    lines = [
        line_label(opened, name, line) or "reading"
        for line, each in now["lines"].items()
        if check["id"] in (*each["failed"], *each["cautions"])
    ]
    if not lines:
        return ""
    more = f" and {len(lines) - LISTED_LINES} more" if lines[LISTED_LINES:] else ""
    return f"{word}: {', '.join(lines[:LISTED_LINES])}{more}"
