"""Puts the web application together; it has no rules of its own."""

from datetime import timedelta
from pathlib import Path
from threading import get_ident

from flask import Flask
from flask_wtf import CSRFProtect

from fieldapp.clock import Clock, utc_now_ms
from fieldapp.config import Running, Settings, cookie_secret, open_door, running
from fieldapp.store.database import connect, disconnect
from fieldapp.sync.api import api
from fieldapp.sync.photos import photos as photos_api
from fieldapp.sync.protocol import protocol
from fieldapp.web.access import access, account_here
from fieldapp.web.archive import archive
from fieldapp.web.calculations.pages import calculations
from fieldapp.web.display import add_display
from fieldapp.web.faults import add_faults
from fieldapp.web.forms import PressForm
from fieldapp.web.imports import imports
from fieldapp.web.joints import joints
from fieldapp.web.papers import papers
from fieldapp.web.people import people
from fieldapp.web.photos import photos
from fieldapp.web.plans import plans
from fieldapp.web.register import register
from fieldapp.web.sessions import sessions
from fieldapp.web.shell import shell
from fieldapp.web.work import work

BLUEPRINTS = (
    api,
    photos_api,
    protocol,
    access,
    joints,
    work,
    register,
    plans,
    papers,
    archive,
    calculations,
    people,
    imports,
    sessions,
    photos,
    shell,
)
LARGEST_FORM_BYTES = 1024 * 1024
SIGNED_IN_DAYS = 30


def create_app(settings: Settings, clock: Clock = utc_now_ms) -> Flask:
    """Make the application for one data folder.

    Errors: what `open_door` raises: `StoreFault`, `StoreUnavailable`, `KeyFault`.
    """
    static, templates = asset_folders()
    app = Flask(__name__, static_folder=static, template_folder=templates)
    app.config.update(
        SECRET_KEY=cookie_secret(settings.data),
        MAX_CONTENT_LENGTH=LARGEST_FORM_BYTES,
        TRUSTED_HOSTS=list(settings.hosts),
        WTF_CSRF_TIME_LIMIT=None,
        SESSION_COOKIE_NAME="fieldapp",
        SESSION_COOKIE_SECURE=settings.secure,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        PERMANENT_SESSION_LIFETIME=timedelta(days=SIGNED_IN_DAYS),
    )
    wired = running(open_door(settings.data), clock)
    app.extensions["fieldapp"] = wired
    _hold_connection(app, wired)
    guard = CSRFProtect(app)
    guard.exempt(api)
    guard.exempt(photos_api)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    app.context_processor(
        lambda: {
            "account_here": account_here,
            "troubles": wired.troubles,
            # Not bound to the request: an error page must not read a body again.
            "press_form": PressForm(formdata=None),
        }
    )
    add_display(app)
    add_faults(app)
    return app


def paper_app() -> Flask:
    """Make what sets pages of the desk on paper: the templates and no data."""
    app = Flask(__name__, static_folder=None, template_folder=asset_folders()[1])
    add_display(app)
    return app


def asset_folders() -> tuple[str, str]:
    """Give the folders of static files and templates, beside or in the package."""
    package = Path(__file__).resolve().parent
    root = package if (package / "templates").is_dir() else package.parent
    return str(root / "static"), str(root / "templates")


def _hold_connection(app: Flask, wired: Running) -> None:
    store, asking = wired.door.store, wired.warming.asking

    @app.before_request
    def open_it() -> None:
        asking.add(get_ident())
        connect(store)

    @app.teardown_request
    def close_it(_fault: BaseException | None) -> None:
        asking.discard(get_ident())
        disconnect(store)
