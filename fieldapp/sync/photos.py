"""Photos to and from phones: whole, one at a time, named by the hash of their bytes.

A photo may come before or after the entry that names it. 200 says that it is on disk
as it came; anything else that the phone keeps it and may offer it again.
"""

import re

from flask import Blueprint, Response, jsonify, request

from fieldapp.core.entries import HASH
from fieldapp.intake.photos import PhotoRefused, take_photo
from fieldapp.lookups.photos import photo_as_it_came
from fieldapp.store.images import LARGEST_BYTES, TYPES
from fieldapp.sync.asking import device_in_force, known_device, running_here
from fieldapp.sync.versions import speaks_versions
from fieldapp.sync.wire import WireError

HASH_HEADER = "X-Photo-Hash"
photos = Blueprint("photos_api", __name__, url_prefix="/api")
speaks_versions(photos)
_STATUS = {"quota": 429}
_IMAGE = re.compile(r"image/[a-z0-9.+-]{1,40}|application/octet-stream")


@photos.post("/photo")
def push_photo() -> Response:
    """Keep one photo; its body is the picture, its header the SHA-256 of the body."""
    pusher = known_device()
    name = _photo_hash(request.headers.get(HASH_HEADER, ""), HASH_HEADER)
    if not _IMAGE.fullmatch(request.mimetype):
        allowed = ", ".join(TYPES.values())
        found = request.mimetype or "nothing"
        raise WireError("wrong_type", "Content-Type", found, allowed, 415)
    raw, running = _photo_body(), running_here()
    try:
        result = take_photo(
            running.door, raw, name=name, pusher=pusher, now=running.clock()
        )
    except PhotoRefused as refused:
        raise WireError(
            refused.code,
            refused.field,
            refused.found,
            refused.allowed,
            _STATUS.get(refused.code, 400),
        ) from refused
    return jsonify(hash=name, result=result)


@photos.get("/photo/<name>")
def pull_photo(name: str) -> Response:
    """Give a photo as it came."""
    device_in_force()
    wanted = _photo_hash(name, "hash")
    found = photo_as_it_came(running_here().reader, wanted)
    if found is None:
        allowed = "a photo that has arrived here"
        raise WireError("not_found", "hash", wanted, allowed, 404)
    facts, raw = found
    answer = Response(raw, mimetype=facts.type)
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer


def _photo_hash(text: str, field: str) -> str:
    if not HASH.fullmatch(text):
        raise WireError("not_allowed", field, text or "nothing", "64 hex digits")
    return text


def _photo_body() -> bytes:
    if (request.content_length or 0) > LARGEST_BYTES:
        allowed = f"at most {LARGEST_BYTES} bytes"
        found = request.content_length or 0
        raise WireError("too_large", "body", found, allowed, 413)
    request.max_content_length = LARGEST_BYTES
    raw = request.get_data(cache=False)
    if not raw:
        raise WireError("not_a_photo", "body", "nothing", ", ".join(TYPES.values()))
    return raw
