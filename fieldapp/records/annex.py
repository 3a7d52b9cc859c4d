"""What stands in the annex: the limits that were kept, each with its source.

A source named often stands once, under a letter, so that the texts stay readable. What
has no figure and rests, as it says, on common practice alone is counted here and stands
in the sheet, which every record carries: a page of it hides what somebody looks up.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from string import ascii_lowercase
from typing import Any

from fieldapp.records.opened import Opened
from fieldapp.records.steps import StepPart

LETTERED = 2
"""So often a source must be named to get a letter."""
NO_SOURCE = "common practice, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What a step, clock or point was held against: (text, source or its letter)."""

    title: str
    texts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Annex:
    """Limits in the order of the work, and what each letter stands for.

    by_eye: how many more there are that have no figure, and practice alone behind them.
    """

    limits: tuple[Limits, ...]
    letters: tuple[tuple[str, str], ...]
    by_eye: int


def limits_annex(opened: Opened, parts: Iterable[StepPart]) -> Annex:
    """Give the limits of what was recorded, of clocks, and what points require."""
    every = (*_steps(parts), *_clocks(opened), *_points(opened))
    told = [kept for each in every if (kept := _to_look_up(each)).texts]
    named = Counter(source for each in told for _, source in each.texts if source)
    often = [source for source, count in named.most_common() if count >= LETTERED]
    letters = dict(zip(often, ascii_lowercase, strict=False))
    return Annex(
        limits=tuple(_lettered(each, letters) for each in told),
        letters=tuple((letter, source) for source, letter in letters.items()),
        by_eye=_count(every) - _count(told),
    )


def _to_look_up(limits: Limits) -> Limits:
    texts = tuple(
        (text, source)
        for text, source in limits.texts
        # Of what names no source at all nobody said that practice is behind it.
        if source != NO_SOURCE or any(map(str.isdigit, text))
    )
    return Limits(title=limits.title, texts=texts)


def _count(told: Iterable[Limits]) -> int:
    return sum(len(each.texts) for each in told)


def _lettered(limits: Limits, letters: Mapping[str, str]) -> Limits:
    texts = tuple((text, letters.get(source, source)) for text, source in limits.texts)
    return Limits(title=limits.title, texts=texts)


def _steps(parts: Iterable[StepPart]) -> Iterator[Limits]:
    for part in parts:
        if part.rules:
            # Two checks may say the same: of what was chosen, and of its figure.
            texts = dict.fromkeys((rule.text, rule.source) for rule in part.rules)
            yield Limits(title=part.title, texts=tuple(texts))


def _clocks(opened: Opened) -> Iterator[Limits]:
    started = {name.partition("/")[0] for name in opened.state["clocks"]}
    for clock in opened.raw.get("clocks", ()):
        if clock["id"] in started:
            yield _of(str(clock["title"]), clock["ratios"], "title", ".")


def _points(opened: Opened) -> Iterator[Limits]:
    for name in opened.raw["flow"]:
        required = opened.raw["points"].get(name, {}).get("requires", ())
        if required:
            yield _of(opened.words.fact("name", name), required, "text")


def _of(
    title: str, told: Iterable[Mapping[str, Any]], key: str, end: str = ""
) -> Limits:
    texts = tuple((f"{each[key]}{end}", str(each.get("source", ""))) for each in told)
    return Limits(title=title, texts=texts)
