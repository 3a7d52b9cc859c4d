"""Who is signed in at the desk, and signing any of it out.

An office account sees and ends every session, any other its own. What is listed names
a session and lets nobody in.
"""

from flask import Blueprint, abort, g, redirect, render_template, session, url_for

from fieldapp.lookups import site_picture
from fieldapp.store.accounts import all_sessions, end_listed, session_id
from fieldapp.store.database import writing
from fieldapp.web.access import Answer, running, signed_in
from fieldapp.web.forms import PressForm

sessions = Blueprint("sessions", __name__)


@sessions.get("/sessions")
@signed_in
def session_list() -> Answer:
    """List the running sessions, last used first."""
    store = running().door.store
    found = all_sessions(store, running().clock())
    return render_template(
        "sessions.html",
        sessions=[
            each for each in found if g.account.office or each.account == g.account.name
        ],
        own=session_id(session["sid"]),
        zone=(site_picture(store) or {}).get("zone", 0),
        form=PressForm(),
    )


@sessions.post("/sessions/<name>/end")
@signed_in
def end(name: str) -> Answer:
    """End one session."""
    if not PressForm().validate_on_submit():
        abort(400)
    store = running().door.store
    of = None if g.account.office else g.account.name
    with writing(store):
        ended = end_listed(store, name, of=of)
    if not ended:
        abort(404)
    return redirect(url_for("sessions.session_list"))
