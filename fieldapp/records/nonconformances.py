"""Nonconformances in full: what was found and where, what people said and decided.

Those that still shut a gate come first.
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.kinds import READINGS
from fieldapp.records.acts import Act, act, line_label, local, readings, signer, when
from fieldapp.records.attempts import orders_of_rework
from fieldapp.records.certificates import CORRECTED, corrected_told
from fieldapp.records.clocks import clock_parts
from fieldapp.records.figures import short
from fieldapp.records.found import found_told
from fieldapp.records.gates import shut_by
from fieldapp.records.marks import Mark, mark
from fieldapp.records.opened import Opened, state_before

READ = ("correction", *READINGS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Nonconformance:
    """A nonconformance in full; `acts` are what people proposed, decided, closed.

    reading: the entry that raised it, if a reading did; said: the acts without it;
    corrected: what became of the certificate it is about.
    """

    id: str
    words: str
    place: str
    raised: str
    source: str
    shuts: str
    passed: str
    found: str
    mark: Mark
    acts: tuple[Act, ...]
    step: str = ""
    line: str = ""
    reading: str = ""
    corrected: tuple[str, ...] = ()

    @property
    def said(self) -> tuple[Act, ...]:
        """Give what people said of it, without the reading that raised it."""
        return tuple(each for each in self.acts if each.entry != self.reading)


def nonconformances(opened: Opened) -> tuple[Nonconformance, ...]:
    """Tell every nonconformance, those that still shut a gate first."""
    order = {"open": 0, "proposed": 1, "disposed": 2, "closed": 3}
    told = sorted(
        opened.state["nonconformances"],
        key=lambda each: (order.get(each["status"], 0), _index(opened, each)),
    )
    return tuple(_nonconformance(opened, each) for each in told)


def _nonconformance(opened: Opened, told: dict[str, Any]) -> Nonconformance:
    entry = opened.by_id.get(told.get("entry", ""))
    raised = "by the rules, from what was recorded"
    if entry is not None and entry.kind == "nonconformance":
        raised = "by a person"
    shut, passed = shut_by(opened.raw, opened.state, told)
    return Nonconformance(
        id=short(told["id"]),
        words=opened.words.fault(told, entry),
        place=", ".join(text for text in _place(opened, told) if text),
        step=_place(opened, told)[0],
        line=_place(opened, told)[1],
        raised=raised,
        source=source_told(opened.raw, told),
        shuts=", ".join(opened.words.fact("point", name) for name in shut),
        passed=", ".join(opened.words.fact("point", name) for name in passed),
        mark=_mark(opened, told),
        acts=_about(opened, told, entry),
        found=_found(opened, told, entry),
        corrected=tuple(corrected_told(opened, told, entry)),
        reading=short(entry.id) if entry is not None and entry.kind in READ else "",
    )


def _found(opened: Opened, told: dict[str, Any], entry: Entry | None) -> str:
    """Say what a rule found: figure and limit, when it was read and by whom."""
    if told["code"] == "clock_over":
        return late_told(opened, told, entry)
    if entry is None or entry.kind not in READ:
        return found_told(opened.scene, told)
    who = signer(opened, entry).name
    # What else was read by a wrong certificate says nothing of it.
    read = "" if told["code"] == CORRECTED else readings(opened, entry)
    what = found_told(opened.scene, told) or read
    return ", ".join(text for text in (what, when(opened, entry), who) if text)


def late_told(opened: Opened, told: dict[str, Any], started: Entry | None) -> str:
    """Say which deadline was not kept, and by how much, in the attempt it was of."""
    for clock in clock_parts(opened, _state_of(opened, told, started)):
        if clock.starts == told.get("step") and clock.line_id == told.get("line", ""):
            for each in clock.deadlines:
                if each.id == told.get("check"):
                    when = local(opened, each.at_ms, opened.zone)
                    return f"{each.title} {when}: {each.kept}"
    return ""


def _state_of(
    opened: Opened, told: dict[str, Any], started: Entry | None
) -> dict[str, Any]:
    """Give the state that knows a clock: now, or as the rework that ended it found."""
    step = told.get("step", "")
    if started is None or started.attempt == opened.scene.view.attempt_of(step):
        return opened.state
    ended = next(orders_of_rework(opened, started.attempt), None)
    return opened.state if ended is None else state_before(opened, ended)


def _mark(opened: Opened, told: dict[str, Any]) -> Mark:
    plain = mark(told["status"], "nonconformance")
    if "verdict" not in told:
        return plain
    word = f"{plain.word}: {opened.words.verdict(told['verdict'])}"
    tone = "red" if told["verdict"] == "reject" else plain.tone
    return Mark(tone=tone, icon=plain.icon, word=word)


def _place(opened: Opened, told: dict[str, Any]) -> tuple[str, str]:
    """Give the step's title and the line's label, each empty where there is none."""
    step = told.get("step", "")
    title = opened.words.fact("step", step)
    return title, line_label(opened, step, told.get("line", ""))


def source_told(raw: dict[str, Any], told: dict[str, Any]) -> str:
    """Give the source of the limit that was not kept, of a check or of a clock."""
    step, check = told.get("step", ""), told.get("check", "")
    if told["code"] == "clock_over":
        rules = [
            ratio
            for clock in raw.get("clocks", ())
            if clock["start"] == step
            for ratio in clock["ratios"]
        ]
    else:
        rules = raw["steps"].get(step, {}).get("checks", ())
    found = [each.get("source", "") for each in rules if each["id"] == check]
    return str(found[0]) if found else ""


def _about(
    opened: Opened, told: dict[str, Any], entry: Entry | None
) -> tuple[Act, ...]:
    """Tell what raised it, and all that people proposed, decided or closed."""
    ids = [] if entry is None else [entry.id]
    ids += [e.id for e in opened.entries if e.about.get("target") == told["id"]]
    # Rework ordered for one failure ends the others of its attempt too.
    ids += [told["disposition"]] if "disposition" in told else []
    return tuple(act(opened, opened.by_id[each]) for each in dict.fromkeys(ids))


def _index(opened: Opened, told: dict[str, Any]) -> int:
    row = opened.rows.get(told.get("entry", ""))
    return row.index if row is not None else 0
