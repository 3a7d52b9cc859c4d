"""Paper from the desk: blank sheets, plans and labels as PDF, on the size asked for."""

from collections.abc import Callable

from flask import Blueprint, Response, abort, request

from fieldapp.lookups import sheet_of, subjects_issued
from fieldapp.records.blank import print_blank
from fieldapp.records.gather import print_record
from fieldapp.records.labels import UnknownItem, print_labels
from fieldapp.records.pages import UnknownSize
from fieldapp.records.plan import print_plan
from fieldapp.web.access import running, signed_in

papers = Blueprint("papers", __name__)


@papers.get("/papers/<subject>/record.pdf")
@signed_in
def record(subject: str) -> Response:
    """Give the record of a subject; `paper` names the size of sheet."""
    return _answer(
        lambda size: print_record(running().reader, subject, running().clock(), size),
        f"{subject}.pdf",
    )


@papers.get("/papers/<subject>/blank.pdf")
@signed_in
def blank(subject: str) -> Response:
    """Give the blank sheet of a subject, to be written on."""
    return _answer(
        lambda size: print_blank(running().reader, subject, running().clock(), size),
        f"{subject}-blank.pdf",
    )


@papers.get("/papers/plans/<kind>.pdf")
@signed_in
def plan(kind: str) -> Response:
    """Give a kind's inspection and test plan; `subject` names whose limits."""
    mine = subjects_of(kind)
    wanted = request.args.get("subject", "") or next(iter(mine), "")
    if wanted not in mine:
        abort(404)
    return _answer(
        lambda size: print_plan(running().reader, wanted, running().clock(), size),
        f"plan-{kind}.pdf",
    )


@papers.get("/papers/labels.pdf")
@signed_in
def labels() -> Response:
    """Give the register's labels; `item` (repeated) names those wanted."""
    wanted = request.args.getlist("item")
    return _answer(
        lambda size: print_labels(running().reader, running().clock(), wanted, size),
        "labels.pdf",
    )


def subjects_of(kind: str) -> list[str]:
    """Give the subjects of a kind that have a sheet, by id."""
    reader = running().reader
    sheets = {each: sheet_of(reader, each) for each in subjects_issued(reader)}
    return [
        name for name, sheet in sheets.items() if sheet and sheet.raw["kind"] == kind
    ]


def _answer(print_it: Callable[[str], bytes | None], name: str) -> Response:
    try:
        pdf = print_it(request.args.get("paper", ""))
    except (UnknownSize, UnknownItem):
        abort(404)
    if pdf is None:
        abort(404)
    answer = Response(pdf, mimetype="application/pdf")
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
