"""The people of the site: their phones and keys, codes for more, and keys ended.

A code is shown once, in writing and as a code to scan. Ending a key asks for a reason,
since it stands in the ledger for good.
"""

from flask import Blueprint, abort, g, redirect, render_template, request, url_for

from fieldapp.intake.endings import EndingRefused, lose_phone, retire_key
from fieldapp.lookups import people_of_plan, person_of_plan, roster_of, site_picture
from fieldapp.signatures import key_id
from fieldapp.store.database import writing
from fieldapp.store.devices import CODE_LIFE_MS, code_makers, issue_code
from fieldapp.web.access import Answer, office_only, running, signed_in
from fieldapp.web.codes import code_path
from fieldapp.web.forms import PressForm, ReasonForm

people = Blueprint("people", __name__)


@people.get("/people")
@signed_in
def person_list() -> Answer:
    """List everybody the plan names, with their keys."""
    return _list()


@people.post("/people/<person>/code")
@office_only
def new_code(person: str) -> Answer:
    """Make an enrolment code and show it, once."""
    store = running().door.store
    found = person_of_plan(store, person)
    if found is None or not PressForm().validate_on_submit():
        abort(404 if found is None else 400)
    now = running().clock()
    with writing(store):
        code = issue_code(store, person=person, issued_by=g.account.name, now=now)
    return render_template(
        "code.html",
        person=found,
        code=code,
        to_scan=code_path(f"{request.host_url}phone/#/enrol/{code}"),
        until=now + CODE_LIFE_MS,
        zone=(site_picture(store) or {}).get("zone", 0),
    )


@people.post("/people/<person>/keys/<key>/retire")
@office_only
def retire(person: str, key: str) -> Answer:
    """Retire a key whose PIN was forgotten."""
    form = ReasonForm()
    if not form.validate_on_submit():
        return _list(_first(form)), 400
    try:
        retire_key(
            running().door,
            person=person,
            key=key,
            reason=form.reason.data,
            now=running().clock(),
        )
    except EndingRefused as refused:
        return _list(str(refused)), 409
    return redirect(url_for("people.person_list"))


@people.post("/people/phones/<device>/lost")
@office_only
def lost(device: str) -> Answer:
    """Revoke every key on a phone that was lost."""
    form = ReasonForm()
    if not form.validate_on_submit():
        return _list(_first(form)), 400
    try:
        lose_phone(
            running().door,
            device=device,
            reason=form.reason.data,
            now=running().clock(),
        )
    except EndingRefused as refused:
        return _list(str(refused)), 409
    return redirect(url_for("people.person_list"))


def _list(fault: str | None = None) -> str:
    reader = running().reader
    picture = site_picture(reader.store) or {}
    return render_template(
        "people.html",
        people=people_of_plan(reader.store),
        enrolled=roster_of(reader),
        site=picture,
        organisations={o["id"]: o["name"] for o in picture.get("organisations", ())},
        form=PressForm(formdata=None),
        reason_form=ReasonForm(formdata=None),
        makers={key_id(p): by for p, by in code_makers(reader.store).items()},
        fault=fault,
    )


def _first(form: ReasonForm) -> str:
    told: str = next((text for texts in form.errors.values() for text in texts), "")
    return told
