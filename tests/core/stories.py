"""Random stories: many phones, people and mistakes, told as canonical entries.

A story mostly does the work in the order of the sheet, so that gates open and records
end complete; around that it retakes, corrects, forks, forgets, stops and contradicts.
Everything comes from the seed: a failing seed is a case.
"""

from dataclasses import dataclass
from random import Random
from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.revisions import revisions_of
from fieldapp.core.sheet import Sheet
from tests.core.circles import open_circles
from tests.core.mishaps import concede, mishap, nonconformances
from tests.core.sheets import random_sheet
from tests.core.telling import MINUTE_MS, Phone, Telling, phone_of, restart
from tests.core.work import do_step, pass_point


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One sheet and one story, as they would be kept and sent."""

    seed: int
    sheet: dict[str, Any]
    tables: dict[str, Any]
    older: dict[str, dict[str, Any]]
    entries: list[str]
    standing: dict[str, Any]
    now: dict[str, Any]

    def prepared(self) -> Sheet:
        """Give the sheet, prepared afresh."""
        return _ready(self.sheet, self.tables, self.older)

    def read(self) -> list[Entry]:
        """Give the entries, read from their texts."""
        return [read_entry(text.encode()) for text in self.entries]


def random_case(seed: int) -> Case:
    """Give the case of a seed."""
    rng = Random(seed)
    calm = rng.random() < 0.3
    sheet, tables = random_sheet(rng, calm)
    sheet = open_circles(sheet)
    _let_races_begin(sheet)
    older = _older_revision(rng, sheet)
    story = Telling(rng, sheet, _ready(sheet, tables, older), list(older))
    if calm:
        _go_well(story)
    else:
        for _ in range(rng.choice([3, 10, 20, 20, 35])):
            _go_on(story)
    texts = [text for text in story.texts if rng.random() > story.loss]
    return Case(
        seed=seed,
        sheet=sheet,
        tables=tables,
        older=older,
        entries=texts,
        standing=story.standing,
        now=story.now(),
    )


def _let_races_begin(sheet: dict[str, Any]) -> None:
    """Let some checks raise only once another step has begun.

    Drawn aside, so that what is told for ever stays as it was.
    """
    for name, step in sheet["steps"].items():
        for check in step.get("checks", ()):
            begins, settles = Random(f"{name} {check}").choices(
                [*sheet["steps"], *[""] * 3 * len(sheet["steps"])], k=2
            )
            if check["scope"] == "line" and check["raises"] != "caution" and begins:
                check |= {"begins": [begins], "settles": [settles] if settles else []}


def _ready(
    sheet: dict[str, Any], tables: dict[str, Any], older: dict[str, dict[str, Any]]
) -> Sheet:
    key = fingerprint(sheet)
    found = revisions_of({**older, key: sheet}, tables)(key)
    assert found is not None
    return found


def _older_revision(rng: Random, sheet: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """Give an earlier revision, by its hash, in which one part read otherwise."""
    if rng.random() < 0.8:
        return {}
    name, older = rng.choice(sheet["flow"]), {**sheet, "revision": 0}
    of = "steps" if name in sheet["steps"] else "points"
    part = {**sheet[of][name], "title": "As it was"}
    older[of] = {**sheet[of], name: part}
    return {fingerprint(older): older}


def _go_on(story: Telling) -> None:
    """Let the next thing happen: mostly the work, sometimes something else."""
    story.world += story.rng.randint(0, story.pace * MINUTE_MS)
    phone = story.rng.choice(story.phones)
    if story.rng.random() < 0.09:
        restart(story.rng, phone, story.world)
    if story.rng.random() < story.order:
        _work(story, phone)
    else:
        mishap(story, phone)
    if story.rng.random() < story.sync:
        story.share()


def _go_well(story: Telling) -> None:
    """Let one phone do the work as it should be, and have the rest decided."""
    story.phones, story.pace, story.loss = [phone_of(story.rng, 0)], 1, 0
    story.standing.pop("items", None)
    for _ in story.raw["flow"]:
        story.world += MINUTE_MS
        _work(story, story.phones[0])
    for target in nonconformances(story, story.phones[0]):
        concede(story, story.phones[0], target)


def _work(story: Telling, phone: Phone) -> None:
    if story.cursor >= len(story.raw["flow"]):
        mishap(story, phone)
        return
    name = story.raw["flow"][story.cursor]
    story.cursor += 1
    if name in story.raw["points"]:
        pass_point(story, phone, name)
    else:
        do_step(story, phone, name)
