"""Pages that need the whole site wait while it is read for the first time, and say so.

A page half read would say that nobody waits and nothing is open; so it is not shown.
"""

from collections.abc import Callable
from functools import wraps
from threading import get_ident
from typing import Any

from flask import Response, render_template

from fieldapp.web.access import running

PATIENCE_S = 1.0
"""Small sites are read in less, and nobody sees that there was anything to wait for."""
AGAIN_S = 1


def once_read(view: Callable[..., Any]) -> Callable[..., Any]:
    """Show a page once the site is read; until then, how far the reading is."""

    @wraps(view)
    def guarded(*args: Any, **kwargs: Any) -> Any:
        warming = running().warming
        if warming.done.is_set():
            return view(*args, **kwargs)
        # Who waits here asks for nothing, and nobody need give way to it.
        warming.asking.discard(get_ident())
        return view(*args, **kwargs) if warming.done.wait(PATIENCE_S) else _not_yet()

    return guarded


def _not_yet() -> Response:
    page = render_template("reading.html", warming=running().warming)
    again = {"Retry-After": str(AGAIN_S), "Refresh": str(AGAIN_S)}
    return Response(page, status=503, headers=again)
