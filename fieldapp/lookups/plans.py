"""Plans as people sign them: which is in force, which waits, who signed, who is next.

Nothing is decided here; the signatures are judged by the rule the phones know too.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.plan_signing import PARTS, SIGNED, plan_signatures
from fieldapp.core.sheet import Sheet, part_hashes, prepare
from fieldapp.lookups.natural import natural
from fieldapp.lookups.reading import Reader, roster_of, sheet_of
from fieldapp.store.bodies import find_body
from fieldapp.store.database import Store
from fieldapp.store.ledger import last_places, rows_of_site
from fieldapp.store.plans import (
    find_plan,
    plan_in_force,
    plan_waiting,
    sheets_in_force,
)
from fieldapp.store.roster import sheets_issued


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """What a plan is signed as, by whom it may be, and the entry that did it.

    wanted: `[{role, organisation?}]`; entry: None while it waits.
    """

    part: str
    wanted: list[dict[str, Any]]
    entry: Entry | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stays:
    """A subject begun that keeps its sheet, and that sheet's revision."""

    subject: str
    revision: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Instead:
    """The sheet a plan has for a subject that is on another one.

    differs: titles of its steps and points that are new or read otherwise; they are to
    be recorded again once it is issued.
    """

    revision: int
    differs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSigned:
    """A plan with its signatures; `new`: subjects whose sheet it brings or revises.

    kinds: `[{id, title, sheets, steps, points}]`; sheets: hash by subject; stays: those
    it has another sheet for, which are begun and keep the one they have.
    """

    hash: str
    title: str
    revision: int
    kinds: list[dict[str, Any]]
    sheets: Mapping[str, str]
    new: tuple[str, ...]
    stays: tuple["Stays", ...]
    signatures: tuple[Signature, ...]
    rule: dict[str, Any] | None
    """Who signs the next plan, where this one changes it; empty: nobody has to."""

    @property
    def waits_for(self) -> Signature | None:
        """Give the signature that must come next; None once all stand."""
        return next((each for each in self.signatures if each.entry is None), None)


def plan_that_waits(reader: Reader) -> PlanSigned | None:
    """Give the plan that waits for signatures, or None."""
    return _plan(reader, plan_waiting(reader.store))


def plan_that_is_signed(reader: Reader) -> PlanSigned | None:
    """Give the plan whose sheets are in force; None where no signature was asked."""
    return _plan(reader, plan_in_force(reader.store))


def staying(reader: Reader) -> tuple[Stays, ...]:
    """Give the subjects whose sheet in hand is not the one of the plan in force."""
    return _stays(reader, sheets_in_force(reader.store))


def instead_of(reader: Reader, subject: str) -> Instead | None:
    """Give the plan's sheet for a subject whose sheet in hand is another, or None."""
    coming = sheets_in_force(reader.store).get(subject)
    in_hand = sheets_issued(reader.store, reader.office_key).get(subject)
    if not coming or not in_hand or coming == in_hand[-1]:
        return None
    old = _document(reader.store, "sheet", in_hand[-1])
    new = _document(reader.store, "sheet", coming)
    return Instead(revision=new["revision"], differs=tuple(_differing(old, new)))


def sheet_that_waits(reader: Reader, plan: PlanSigned, subject: str) -> Sheet | None:
    """Give a subject's sheet as a plan has it, to be read before it is signed."""
    body_hash = plan.sheets.get(subject)
    return _sheet(reader.store, body_hash) if body_hash else None


def _plan(reader: Reader, plan_hash: str) -> PlanSigned | None:
    plan = find_plan(reader.store, plan_hash) if plan_hash else None
    if plan is None:
        return None
    told = [_entry(row.body) for row in rows_of_site(reader.store, (SIGNED,))]
    signed = plan_signatures(plan, told, roster_of(reader))
    revised = _revised(reader, plan["sheets"])
    begun = last_places(reader.store).keys()
    issued = sheets_issued(reader.store, reader.office_key).keys()
    kept = {each: plan["sheets"][each] for each in revised if each in begun & issued}
    return PlanSigned(
        hash=plan_hash,
        title=plan["title"],
        revision=plan["revision"],
        kinds=plan["kinds"],
        sheets=plan["sheets"],
        new=tuple(each for each in revised if each not in kept),
        stays=_stays(reader, kept),
        signatures=tuple(
            Signature(part=part, wanted=plan["sign"][part], entry=signed.get(part))
            for part in PARTS
        ),
        rule=plan.get("rule"),
    )


def _revised(reader: Reader, sheets: Mapping[str, str]) -> list[str]:
    """Give the subjects whose newest sheet is not that of these (hash by subject)."""
    issued = sheets_issued(reader.store, reader.office_key)
    return [s for s in sheets if issued.get(s, ("",))[-1] != sheets[s]]


def _stays(reader: Reader, sheets: Mapping[str, str]) -> tuple[Stays, ...]:
    found = []
    for subject in sorted(_revised(reader, sheets), key=natural):
        sheet = sheet_of(reader, subject)
        if sheet is not None:
            revision = sheet.raw["revision"]
            found.append(Stays(subject=subject, revision=revision))
    return tuple(found)


def _differing(old: dict[str, Any], new: dict[str, Any]) -> Iterator[str]:
    before = part_hashes(old)
    titled = {**new["steps"], **new["points"]}
    for name, part in part_hashes(new).items():
        if before.get(name) != part:
            yield titled[name]["title"]


def _sheet(store: Store, body_hash: str) -> Sheet:
    raw = _document(store, "sheet", body_hash)
    tables = {key: _document(store, "table", key) for key in raw["tables"].values()}
    return prepare(raw, tables)


def _document(store: Store, kind: str, body_hash: str) -> dict[str, Any]:
    body = find_body(store, kind, body_hash)
    assert body is not None, f"{kind} {body_hash} is named by a plan and is not kept"
    document: dict[str, Any] = json.loads(body)
    return document


@lru_cache(maxsize=1_000)
def _entry(body: str) -> Entry:
    return read_entry(body.encode("utf-8"))
