"""Nonconformances gathered by their reason, said once on page 1 with all it holds for.

A reading that raised one is told in its place among the steps; here it is only named.
What people said of it stands here in full.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.records.acts import Act
from fieldapp.records.marks import Mark
from fieldapp.records.nonconformances import Nonconformance


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """What is alike of some nonconformances, where each is, and what was said of them.

    places: where, the entry that raised it if it was a reading, its own id, and what
    was found there; corrected: what became of the certificate it is about.
    """

    words: str
    source: str
    raised: str
    shuts: str
    passed: str
    mark: Mark
    places: tuple[tuple[str, str, str, str], ...]
    acts: tuple[Act, ...]
    corrected: tuple[str, ...]


def by_reason(faults: Iterable[Nonconformance]) -> tuple[Reason, ...]:
    """Gather what reads alike, stands alike and was found at one step, in order."""
    found: dict[tuple[object, ...], list[Nonconformance]] = {}
    for each in faults:
        alike = (
            each.words, each.source, each.raised, each.shuts, each.passed, each.mark,
            each.step, each.corrected,
        )  # fmt: skip
        found.setdefault(alike, []).append(each)
    return tuple(_reason(same) for same in found.values())


def _reason(same: list[Nonconformance]) -> Reason:
    first = same[0]
    acts = {act.entry: act for each in same for act in each.said}
    return Reason(
        words=first.words,
        source=first.source,
        raised=first.raised,
        shuts=first.shuts,
        passed=first.passed,
        mark=first.mark,
        places=tuple(_places(same)),
        acts=tuple(sorted(acts.values(), key=lambda act: act.index)),
        corrected=first.corrected,
    )


def _places(same: list[Nonconformance]) -> Iterable[tuple[str, str, str, str]]:
    """Name the step once: later places say their line alone."""
    for number, each in enumerate(same):
        yield (number and each.line) or each.place, each.reading, each.id, each.found
