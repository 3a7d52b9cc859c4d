"""What a person sees when something is wrong, and the headers on every answer.

A page says what happened and what to do next, and never shows our insides. The
phone's API answers in JSON; everything else in a plain page.
"""

from flask import Flask, Response, current_app, jsonify, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, InternalServerError, SecurityError

from fieldapp.records.pdf import PaperUnavailable
from fieldapp.store.database import DISK_FAULTS, StoreUnavailable, disk_failed
from fieldapp.store.room import NoRoom

POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    ]
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    # Not no-referrer: a form sent over TLS is refused without one.
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=()",
}
RETRY_AFTER_S = 10
_ADVICE = {
    400: "The request could not be read. Go back, reload the page and try again.",
    403: "This account may not do that. Ask the site office for an account that may.",
    404: "There is nothing at this address. The list of the work is a good start.",
    405: "This address cannot be used in that way.",
    413: "What was sent is too large. Nothing was kept.",
    415: "What was sent is of a type that is not read here.",
    429: "Too many tries in a short time. Wait a little, then try again.",
    500: "Something is wrong on our side; it was written down. Nothing recorded"
    " was lost. Try again, and tell the office if it stays.",
    503: "The disk or the database did not answer. Nothing of this request was kept."
    " Try again in a moment.",
}
_TITLES = {
    400: "Not understood",
    403: "Not for this account",
    404: "Nothing is here",
    405: "Not in that way",
    413: "Too large",
    415: "Not of a type read here",
    429: "Wait a little",
    500: "Something went wrong here",
    503: "No answer from the disk",
}
"""What happened, in a person's words; a protocol's are for programs."""
_CODES = {404: "not_found", 405: "not_allowed", 413: "too_large", 500: "our_fault",
          503: "unavailable"}  # fmt: skip


def add_faults(app: Flask) -> None:
    """Register the error pages and the headers."""
    app.register_error_handler(HTTPException, _http_fault)
    app.register_error_handler(CSRFError, _forged)
    app.register_error_handler(StoreUnavailable, _unavailable)
    for fault in DISK_FAULTS:
        app.register_error_handler(fault, _unavailable)
    app.register_error_handler(PaperUnavailable, _no_paper)
    app.after_request(_with_headers)


def _http_fault(fault: HTTPException) -> tuple[Response | str, int]:
    status = fault.code or 500
    if isinstance(fault, SecurityError):
        return Response("This host name is not served here.\n", 400), 400
    if isinstance(fault, InternalServerError):
        current_app.logger.error("unforeseen: %r", fault.original_exception or fault)
    return _answer(status, fault.name, shown=_TITLES.get(status))


def _forged(fault: CSRFError) -> tuple[Response | str, int]:
    current_app.logger.warning("form refused: %s", fault.description)
    return _answer(400, "The page was too old or came from elsewhere")


def _unavailable(fault: Exception) -> tuple[Response | str, int, dict[str, str]]:
    if isinstance(fault, DISK_FAULTS) and not disk_failed(fault):
        current_app.logger.error("unforeseen: %r", fault)
        return *_answer(500, "Our fault"), {}
    current_app.logger.error("the store failed: %s", fault)
    advice = str(fault) if isinstance(fault, NoRoom) else None
    return *_answer(503, "Not available", advice), {"Retry-After": str(RETRY_AFTER_S)}


def _no_paper(fault: PaperUnavailable) -> tuple[Response | str, int]:
    current_app.logger.error("no paper: %s", fault)
    page = render_template(
        "fault.html", status=503, title="No paper here", advice=str(fault)
    )
    return page, 503


def _answer(
    status: int, title: str, advice: str | None = None, shown: str | None = None
) -> tuple[Response | str, int]:
    """Answer a page, titled as shown or by title; programs are told by code."""
    advice = advice or _ADVICE.get(status, "The request could not be answered.")
    if request.path.startswith("/api/"):
        code = _CODES.get(status, title.lower().replace(" ", "_"))
        fault = {"code": code, "field": "request", "value": request.path[:80]}
        return jsonify(error={**fault, "allowed": advice}), status
    page = render_template(
        "fault.html", status=status, title=shown or title, advice=advice
    )
    return page, status


def _with_headers(answer: Response) -> Response:
    for name, value in HEADERS.items():
        answer.headers.setdefault(name, value)
    if request.endpoint != "static" and "Cache-Control" not in answer.headers:
        answer.headers["Cache-Control"] = "no-store"
    if current_app.config["SESSION_COOKIE_SECURE"]:
        answer.headers.setdefault("Strict-Transport-Security", "max-age=31536000")
    return answer
