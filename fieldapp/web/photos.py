"""Photos at the desk: drawn anew, upright, with nothing in them but the picture."""

from flask import Blueprint, Response, abort

from fieldapp.core.entries import HASH
from fieldapp.lookups.photos import photo_to_show
from fieldapp.web.access import running, signed_in

WHOLE_PX = 1_600
SMALL_PX = 320
photos = Blueprint("photos", __name__, url_prefix="/photos")


@photos.get("/<name>")
@signed_in
def whole(name: str) -> Response:
    """Show a photo."""
    return _shown(name, WHOLE_PX)


@photos.get("/<name>/small")
@signed_in
def small(name: str) -> Response:
    """Show a photo small, for lists."""
    return _shown(name, SMALL_PX)


def _shown(name: str, longest_px: int) -> Response:
    if not HASH.fullmatch(name):
        abort(404)
    drawn = photo_to_show(running().reader, name, longest_px)
    if drawn is None:
        abort(404)
    answer = Response(drawn, mimetype="image/jpeg")
    answer.headers["Cache-Control"] = "private, max-age=604800, immutable"
    return answer
