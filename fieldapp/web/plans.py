"""The plan's pages: the kinds of subject, and one as inspection and test plan.

A plan is read from the sheet of a subject, since limits differ from one to the next.
One that waits for its signatures reads the same way, before anybody signs it.
"""

from typing import Any

from flask import Blueprint, abort, request

from fieldapp.core.sheet import Sheet
from fieldapp.lookups import sheet_of, site_picture, subjects_issued
from fieldapp.lookups.plans import (
    PlanSigned,
    plan_that_is_signed,
    plan_that_waits,
    sheet_that_waits,
    staying,
)
from fieldapp.web.access import Answer, signed_in
from fieldapp.web.desk import Desk, front, page, titles_elsewhere
from fieldapp.web.plan_page import plan_page
from fieldapp.web.reading import once_read

plans = Blueprint("plans", __name__, url_prefix="/plan")


@plans.get("/")
@signed_in
@once_read
def plan_list() -> Answer:
    """List the kinds of subject with the subjects of each, and who signed the plan."""
    here = front()
    return page(
        "plans.html",
        here,
        kinds=_kinds(here),
        signed=_signatures(here, plan_that_is_signed(here.reader)),
        waiting=_signatures(here, plan_that_waits(here.reader)),
        staying=staying(here.reader),
    )


@plans.get("/<kind>")
@signed_in
def one_plan(kind: str) -> Answer:
    """Show a kind as inspection and test plan; `subject` names whose sheet is read.

    With `coming` it is read from the plan that waits for its signatures.
    """
    here = front()
    plan = plan_that_waits(here.reader) if request.args.get("coming") else None
    known = (_kinds_coming(here, plan) if plan else _kinds(here)).get(kind)
    if known is None:
        abort(404)
    wanted = request.args.get("subject", "") or known[0]["id"]
    if wanted not in [each["id"] for each in known]:
        abort(404)
    sheet = _sheet(here, plan, wanted)
    shown = plan_page(sheet, here.names, titles_elsewhere(here.reader, sheet.raw))
    return page("plan.html", here, subjects=known, kind_id=kind, coming=plan, **shown)


def _sheet(here: Desk, plan: PlanSigned | None, subject: str) -> Sheet:
    reader = here.reader
    sheet = sheet_that_waits(reader, plan, subject) if plan else None
    sheet = sheet or sheet_of(reader, subject)
    assert sheet is not None, "a subject of the list has a sheet"
    return sheet


def _signatures(here: Desk, plan: PlanSigned | None) -> dict[str, Any] | None:
    if plan is None:
        return None
    rows = [
        {
            "part": each.part,
            "wanted": here.names.signers(each.wanted, " or "),
            "by": here.names.person(each.entry.person) if each.entry else "",
            "at": each.entry.at if each.entry else None,
        }
        for each in plan.signatures
    ]
    rule = [
        {"part": part, "wanted": here.names.signers(wanted, " or ")}
        for part, wanted in (plan.rule or {}).get("sign", {}).items()
    ]
    return {"plan": plan, "rows": rows, "rule": rule}


def _kinds_coming(here: Desk, plan: PlanSigned) -> dict[str, list[dict[str, str]]]:
    found: dict[str, list[dict[str, str]]] = {}
    for each in (site_picture(here.reader.store) or {}).get("subjects", ()):
        if each["id"] in plan.sheets:
            row = {"id": each["id"], "title": each["title"]}
            found.setdefault(each["kind"], []).append(row)
    return found


def _kinds(here: Desk) -> dict[str, list[dict[str, str]]]:
    found: dict[str, list[dict[str, str]]] = {}
    order = list(here.names.subjects)
    place = {subject: number for number, subject in enumerate(order)}
    issued = subjects_issued(here.reader)
    for subject in sorted(issued, key=lambda each: place.get(each, len(place))):
        sheet = sheet_of(here.reader, subject)
        if sheet is not None:
            row = {"id": subject, "title": sheet.raw["title"]}
            found.setdefault(sheet.raw["kind"], []).append(row)
    return found
