"""States as paper tells them: an icon, a word and a tone together, never colour alone.

Tones follow IEC 60073: red danger, yellow caution, green normal, blue to be done,
grey neutral.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.verdict import UNDECIDED


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A state for the eye: `tone` names a colour of the style sheet."""

    tone: str
    icon: str
    word: str


_MARKS: dict[str, dict[str, tuple[str, str, str]]] = {
    "verdict": {
        "complete": ("green", "✓", "complete"),
        "incomplete": ("grey", "○", "incomplete"),
        "concession": ("yellow", "△", "complete under concession"),
        "rejected": ("red", "✕", "rejected"),
    },
    "step": {
        "off": ("grey", "·", "not called for"),
        "closed": ("grey", "○", "not recorded"),
        "open": ("grey", "○", "not recorded"),
        "partial": ("blue", "◐", "not finished"),
        "failed": ("red", "✕", "outside its limits"),
        "disputed": ("yellow", "≠", "disputed"),
        "exceeded": ("yellow", "△", "recorded, outside its limits"),
        "anyway": ("red", "!", "happened anyway"),
        "done": ("green", "✓", "recorded"),
    },
    "line": {
        "ok": ("green", "✓", "recorded"),
        "partial": ("blue", "◐", "not finished"),
        "failed": ("red", "✕", "outside limits"),
        "exceeded": ("yellow", "△", "outside limits"),
        "disputed": ("yellow", "≠", "disputed"),
        "anyway": ("red", "!", "happened anyway"),
        "discarded": ("grey", "–", "discarded"),
    },
    "point": {
        "waiting": ("grey", "○", "not released"),
        "ready": ("blue", "▷", "not released, nothing missing"),
        "called": ("blue", "▷", "called, not released"),
        "released": ("green", "✓", "released"),
        "shut": ("red", "✕", "released, shut since by a nonconformance"),
        "refused": ("red", "✕", "refused"),
        "lapsed": ("yellow", "↺", "release lapsed"),
        "expired": ("yellow", "↺", "release expired"),
        "used": ("yellow", "↺", "released, lapsed after use"),
        "unreleased": ("red", "!", "passed without a release that counts"),
        "waived": ("yellow", "△", "notice has run out, went on"),
    },
    "condition": {
        "open": ("red", "✕", "open"),
        "closed": ("green", "✓", "closed"),
    },
    "clock": {
        "running": ("blue", "▷", "running"),
        "met": ("green", "✓", "met"),
        "over": ("red", "✕", "over"),
    },
    "hold": {
        "running": ("blue", "▷", "running"),
        "over": ("green", "✓", "run out"),
        "untimed": ("yellow", "△", "its beginning is not known"),
    },
    "nonconformance": {
        "open": ("red", "✕", "open"),
        "proposed": ("red", "✕", "open, verdict proposed"),
        "disposed": ("yellow", "△", "decided"),
        "closed": ("green", "✓", "closed"),
    },
}


def mark(status: str, what: str) -> Mark:
    """Give the mark of a status; an unknown one is printed as it is."""
    tone, icon, word = _MARKS[what].get(status, ("grey", "?", status))
    return Mark(tone=tone, icon=icon, word=word)


def verdict_mark(state: dict[str, Any]) -> Mark:
    """Give the mark of a subject's verdict; what is still to be decided is counted."""
    plain = mark(state["verdict"], "verdict")
    count = sum(f["status"] in UNDECIDED for f in state["nonconformances"])
    if state["verdict"] != "incomplete" or not count:
        return plain
    what = "nonconformance" if count == 1 else "nonconformances"
    return Mark(tone="red", icon="✕", word=f"{plain.word}: {count} {what} open")


def called_for(step: Mapping[str, Any]) -> bool:
    """Say whether a step asks for anything: not off, nor done without a line."""
    nothing = step["status"] == "done" and not step["lines"]
    return not nothing and step["status"] != "off"


def steps_counted(state: Mapping[str, Any]) -> tuple[int, int]:
    """Give how many steps are recorded, and of how many called for.

    Desk and paper say no other number: points are counted apart, and what is not called
    for is counted nowhere.
    """
    asked = [step for step in state["steps"].values() if called_for(step)]
    return sum(step["status"] == "done" for step in asked), len(asked)


def outcome(step: dict[str, Any]) -> Mark:
    """Give the mark of a step; one that asked for nothing is not called for."""
    lines = {line["status"] for line in step["lines"].values()}
    if "anyway" in lines and "failed" not in lines:
        return mark("anyway", "line")
    if lines == {"discarded"} and step["status"] == "done":
        return Mark(tone="grey", icon="–", word="recorded, discarded since")
    if step["status"] == "done" and any(e["failed"] for e in step["lines"].values()):
        return mark("exceeded", "step")
    if (step["failed"] or step["cautions"]) and step["status"] == "done":
        return Mark(tone="yellow", icon="△", word="recorded, with remarks")
    return mark(str(step["status"]) if called_for(step) else "off", "step")
