"""Signing in and out at the desk, and who is asking.

The session lives in the database and can be ended there; the cookie only names it.
Failed tries slow down their own source (this name from this address), never the
account: a stranger cannot lock anybody out, and a browser that has signed in before
is a source of its own.
"""

import secrets
from collections.abc import Callable
from functools import wraps
from typing import Any

from flask import (
    Blueprint,
    abort,
    current_app,
    g,
    redirect,
    render_template,
    request,
    session,
    url_for,
)
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from fieldapp.config import Running
from fieldapp.store.accounts import (
    Account,
    begin_session,
    check_password,
    end_session,
    forget_failures,
    note_failure,
    session_account,
    touch_session,
    wait_before_try,
)
from fieldapp.store.database import writing
from fieldapp.web.forms import PressForm, SignInForm

TRIES_OF_ADDRESS = 60
KNOWN_COOKIE = "fieldapp_known"
KNOWN_LIFE_S = 365 * 24 * 3_600
access = Blueprint("access", __name__)
Answer = str | Response | tuple[str, int]


def running() -> Running:
    """Give what this app was wired with."""
    found: Running = current_app.extensions["fieldapp"]
    return found


def account_here() -> Account | None:
    """Give who is signed in, or None; the session is looked up once a request."""
    if "account" not in g:
        g.account = _look_up()
    account: Account | None = g.account
    return account


def signed_in(view: Callable[..., Any]) -> Callable[..., Any]:
    """Ask for a sign-in before a page.

    The bare address names no page: whoever signs in there begins with the day.
    """

    @wraps(view)
    def guarded(*args: Any, **kwargs: Any) -> Any:
        if account_here() is None:
            asked = "" if request.full_path in ("/", "/?") else request.full_path
            return redirect(url_for("access.sign_in", next=asked or None))
        return view(*args, **kwargs)

    return guarded


def office_only(view: Callable[..., Any]) -> Callable[..., Any]:
    """Ask for an office account before a page."""

    @signed_in
    @wraps(view)
    def guarded(*args: Any, **kwargs: Any) -> Any:
        if not g.account.office:
            abort(403)
        return view(*args, **kwargs)

    return guarded


@access.route("/sign-in", methods=["GET", "POST"])
def sign_in() -> Answer:
    """Show the form; with name and password, start a session."""
    form = SignInForm(next=request.args.get("next", ""))
    if not form.validate_on_submit():
        return render_template("sign_in.html", form=form)
    sources = _sources(form.name.data)
    now = running().clock()
    wait = max(_wait(source, free, now) for source, free in sources)
    if wait:
        return render_template("sign_in.html", form=form, wait_s=wait // 1_000 + 1), 429
    store = running().door.store
    account = check_password(store, form.name.data, form.password.data)
    with writing(store):
        if account is None:
            for source, _ in sources:
                note_failure(store, source, now)
        else:
            forget_failures(store, sources[0][0])
            token = begin_session(store, account.name, now)
    if account is None:
        return render_template("sign_in.html", form=form, wrong=True), 403
    return _let_in(account, token, form.next.data)


@access.post("/sign-out")
def sign_out() -> Answer:
    """End this session, here and in the database."""
    if PressForm().validate_on_submit() and "sid" in session:
        with writing(running().door.store):
            end_session(running().door.store, session["sid"])
        session.clear()
    return redirect(url_for("access.sign_in"))


def _look_up() -> Account | None:
    token = session.get("sid")
    if not isinstance(token, str):
        return None
    store, now = running().door.store, running().clock()
    found = session_account(store, token, now)
    if found is None:
        return None
    account, wants_touch = found
    if wants_touch:
        with writing(store):
            touch_session(store, token, now)
    return account


def _let_in(account: Account, token: str, wanted: str | None) -> Response:
    session.clear()
    session["sid"] = token
    session.permanent = True
    answer = redirect(_own_page(wanted))
    answer.set_cookie(
        KNOWN_COOKIE,
        _known().dumps([account.name, secrets.token_hex(8)]),
        max_age=KNOWN_LIFE_S,
        httponly=True,
        samesite="Lax",
        secure=current_app.config["SESSION_COOKIE_SECURE"],
    )
    return answer


def _own_page(wanted: str | None) -> str:
    if wanted and wanted.startswith("/") and not wanted.startswith(("//", "/\\")):
        return wanted.removesuffix("?")
    return url_for("work.today")


def _sources(name: str) -> list[tuple[str, int]]:
    address = f"sign-in {request.remote_addr}"
    try:
        known_name, nonce = _known().loads(request.cookies.get(KNOWN_COOKIE, ""))
    except (BadSignature, ValueError):
        known_name, nonce = None, None
    if known_name == name:
        return [(f"known {nonce}", 5)]
    return [(f"{address} {name}", 5), (address, TRIES_OF_ADDRESS)]


def _wait(source: str, free: int, now: int) -> int:
    return wait_before_try(running().door.store, source, now, free=free)


def _known() -> URLSafeSerializer:
    return URLSafeSerializer(current_app.secret_key or "", salt=KNOWN_COOKIE)
