"""The addresses of the calculations: the list, one calculation, its sheet as a PDF.

An address holds its input and can be kept; what is too long for one is answered where
it was sent. Bad input comes back as the form it was, with what is allowed beside it.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from flask import (
    Blueprint,
    Response,
    abort,
    redirect,
    render_template,
    request,
    url_for,
)

from fieldapp.calc import catalogue
from fieldapp.calc.calculation import Calculation
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.working import Heading
from fieldapp.lookups import site_picture
from fieldapp.web.access import Answer, running, signed_in
from fieldapp.web.calculations.fields import Asked, form_of
from fieldapp.web.calculations.groups import ADVICE, EXAMPLES, MADE_UP, grouped
from fieldapp.web.calculations.headline import headline
from fieldapp.web.calculations.links import as_json, query_of
from fieldapp.web.calculations.nodes import places
from fieldapp.web.calculations.pictures.canvas import Drawing
from fieldapp.web.calculations.pictures.gallery import pictures
from fieldapp.web.calculations.reading import (
    HEADINGS,
    JSON_FIELD,
    Given,
    blank_rows,
    read_fields,
    read_json,
    without,
)
from fieldapp.web.calculations.sheet import sheet_of, sheet_pdf
from fieldapp.web.calculations.solving import Fault, Solved, solve

MOST_ROWS_MORE = 20
calculations = Blueprint("calculations", __name__, url_prefix="/calculations")


@calculations.get("")
@signed_in
def calculation_list() -> Answer:
    """List the calculations, each with the picture of its example."""
    return render_template(
        "calculations/list.html", groups=grouped(), drawing_of=_example_drawing
    )


@calculations.get("/<name>")
@signed_in
def calculation(name: str) -> Answer:
    """Show the blank form, or the input of the address worked out."""
    chosen, fields = _chosen(name), request.args.to_dict()
    if not fields:
        return _page(chosen, Given(data={}), None)
    given = _given(chosen, fields, as_json=JSON_FIELD in fields)
    return _answered(chosen, given)


@calculations.post("/<name>")
@signed_in
def press(name: str) -> Answer:
    """Answer a button of the form: work out, rows more or less, the PDF."""
    chosen, fields = _chosen(name), request.form.to_dict()
    verb, _, place = fields.get("press", "work").partition(" ")
    if verb == "remove":
        fields = without(fields, place)
    given = _given(chosen, fields, as_json=verb == "json")
    if verb in ("add", "remove", "read"):
        more = {place: _blank_more(fields, place)} if verb == "add" else {}
        return _page(chosen, given, None, more=more)
    if verb == "pdf":
        return _pdf(chosen, given)
    solved = _solved(chosen, given)
    query = query_of(chosen, given) if solved.answer is not None else None
    if query is None:
        return _answered(chosen, given, solved)
    return redirect(f"{url_for('calculations.calculation', name=name)}?{query}", 303)


@calculations.get("/<name>/example")
@signed_in
def example(name: str) -> Answer:
    """Show the calculation with its example filled in and worked out."""
    chosen = _chosen(name)
    query = query_of(chosen, Given(data=dict(chosen.example)))
    return redirect(f"{url_for('calculations.calculation', name=name)}?{query or ''}")


@calculations.get("/<name>/sheet.pdf")
@signed_in
def sheet(name: str) -> Answer:
    """Give the calculation sheet of the input in the address as a PDF."""
    chosen, fields = _chosen(name), request.args.to_dict()
    return _pdf(chosen, _given(chosen, fields, as_json=JSON_FIELD in fields))


def _blank_more(fields: Mapping[str, str], place: str) -> int:
    """One row more than were left blank, within reason."""
    return min(blank_rows(fields, place) + 1, MOST_ROWS_MORE)


def _chosen(name: str) -> Calculation:
    try:
        return catalogue.get(name)
    except CalcRefusal:
        abort(404)


def _given(chosen: Calculation, fields: Mapping[str, str], *, as_json: bool) -> Given:
    return read_json(chosen, fields) if as_json else read_fields(chosen, fields)


def _solved(chosen: Calculation, given: Given) -> Solved:
    """Solve what could be read; what could not is a fault of its own."""
    unread = tuple(
        Fault(place=place, key=place, text=text) for place, text in given.faults.items()
    )
    if JSON_FIELD in given.faults:
        return Solved(faults=unread)
    solved = solve(chosen, given.data)
    if not unread:
        return solved
    others = (each for each in solved.faults if each.place not in given.faults)
    return Solved(faults=(*unread, *others))


def _answered(
    chosen: Calculation, given: Given, solved: Solved | None = None
) -> Answer:
    solved = solved or _solved(chosen, given)
    page = _page(chosen, given, solved)
    return page if solved.answer is not None else (page, 400)


def _pdf(chosen: Calculation, given: Given) -> Answer:
    solved = _solved(chosen, given)
    if solved.answer is None:
        return _page(chosen, given, solved), 400
    here = running()
    site = site_picture(here.door.store) or {}
    sheet, zone = sheet_of(chosen, given, solved), int(site.get("zone", 0))
    pdf = sheet_pdf(sheet, given, solved, here.clock(), zone)
    answer = Response(pdf, mimetype="application/pdf")
    kept = f'attachment; filename="{chosen.name}.pdf"'
    answer.headers["Content-Disposition"] = kept
    return answer


def _page(
    chosen: Calculation,
    given: Given,
    solved: Solved | None,
    more: Mapping[str, int] | None = None,
) -> str:
    faults = solved.faults if solved else ()
    shown = {each.place: each.text for each in faults} | dict(given.faults)
    form = form_of(
        chosen.inputs,
        given.data,
        Asked(faults=shown, unread=given.unread, more=more or {}),
    )
    worked: dict[str, Any] = {}
    if solved is not None and solved.answer is not None:
        worked = {
            "sheet": sheet_of(chosen, given, solved),
            "headline": headline(chosen, solved.answer),
            "query": query_of(chosen, given),
        }
    return render_template(
        "calculations/calculation.html",
        calculation=chosen,
        advice=ADVICE.get(chosen.name, ""),
        example_from=EXAMPLES.get(chosen.name, MADE_UP),
        form=form,
        given=given,
        headings=HEADINGS,
        titled=given.heading != Heading() or bool(given.sources),
        faults=_with_links(faults, set(places(form))),
        json=given.unread.get(JSON_FIELD) or _json_of(given),
        json_fault=shown.get(JSON_FIELD, ""),
        **worked,
    )


def _json_of(given: Given) -> str:
    return as_json(given.data) if given.data else ""


def _with_links(faults: tuple[Fault, ...], known: set[str]) -> list[tuple[Fault, str]]:
    """Give each fault with the nearest place of the form, or none."""
    return [(each, _nearest(each.place, known)) for each in faults]


def _nearest(place: str, known: set[str]) -> str:
    while place and place not in known:
        place = place.rpartition(".")[0]
    return place


@lru_cache(maxsize=64)
def _example_drawing(name: str) -> Drawing | None:
    chosen = catalogue.get(name)
    values = chosen.inputs.read(dict(chosen.example), "")
    answer = catalogue.run(name, dict(chosen.example))
    return next(iter(pictures(chosen, values, answer)), None)
