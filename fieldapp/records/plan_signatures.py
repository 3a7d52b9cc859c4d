"""Who prepared, checked and approved a plan, as lines to print or to be written on.

A line without a signature stays empty: paper never says that a plan is signed when
the plan that holds this very sheet is not.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from fieldapp.core.plan_signing import PARTS
from fieldapp.core.sheet import Sheet
from fieldapp.lookups import Reader, roster_of
from fieldapp.lookups.plans import PlanSigned, plan_that_is_signed, plan_that_waits
from fieldapp.records.figures import moment, short
from fieldapp.records.names import Names


@dataclass(frozen=True, slots=True, kw_only=True)
class SignatureLine:
    """A part and who may sign it; the rest is empty until it is signed."""

    part: str
    wanted: str
    name: str
    organisation: str
    when: str
    trace: str


def signature_lines(
    reader: Reader, sheet: Sheet, names: Names
) -> Iterator[SignatureLine]:
    """Give a line for each part of the plan that holds a sheet."""
    plan = _plan_of(reader, sheet)
    people = roster_of(reader)
    if plan is None:
        for part in PARTS:
            yield _line(part, "")
        return
    for each in plan.signatures:
        wanted = " or ".join(names.signer(who) for who in each.wanted)
        entry = each.entry
        if entry is None:
            yield _line(each.part, wanted)
        else:
            known = people.get(entry.person, {})
            yield SignatureLine(
                part=each.part,
                wanted=wanted,
                name=str(known.get("name", entry.person)),
                organisation=names.organisation(str(known.get("organisation", ""))),
                when=moment(entry.at, names.zone),
                trace=f"entry {short(entry.id)}, key {short(entry.key)}",
            )


def _line(part: str, wanted: str) -> SignatureLine:
    return SignatureLine(
        part=part, wanted=wanted, name="", organisation="", when="", trace=""
    )


def _plan_of(reader: Reader, sheet: Sheet) -> PlanSigned | None:
    for plan in (plan_that_is_signed(reader), plan_that_waits(reader)):
        if plan is not None and plan.sheets.get(sheet.subject) == sheet.hash:
            return plan
    return None
