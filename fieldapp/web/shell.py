"""The phone's shell: its one page, its scripts, and the worker that keeps them.

A worker controls only what lies at or below its own path, so everything of the phone
is served under /phone/. The list of files and the version, a hash over the bytes of
all of them, are computed from disk and written into the worker as it is served: a
changed file is a changed worker, and the phone takes the new shell whole or not at
all. What no first screen needs comes after it, and so does the list of it, which the
worker knows by its hash. Our scripts and sheets go out without comments and blanks,
nothing else is changed. The page is the same for everybody and must hold nothing of a
person or a request.
"""

import gzip
import json
import re
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from flask import Blueprint, Response, abort, current_app, render_template, request

from fieldapp.core.canonical import canonical, fingerprint, sha256_hex
from fieldapp.web.joined import bind, holder, join, join_first, reached, stand_in
from fieldapp.web.parts import Part, parts_in

FILES_MARK = "/*FILES*/"
LATER_MARK = "/*LATER*/"
VERSION_MARK = "/*VERSION*/"
WORKER = "sw.js"
START = "/phone/screens/main.js"
FIRST = "/phone/screens/first.js"
"""START and what it needs before it runs, joined; like the next three in no file."""
HELD = "/phone/screens/held.js"
"""Hands the modules of FIRST to whoever imports one."""
JOINED = {
    "/phone/screens/behind.js": ("/phone/screens/engine.js",),
    "/phone/screens/acts.js": tuple(
        f"/phone/screens/{name}.js" for name in ("form", "site", "stop")
    ),
}
"""What comes behind the first screen, joined: for what each is, in their order."""
MANIFEST = "manifest.webmanifest"
LIST = "/phone/later.json"
"""Says what comes after the first screen, each part with the hash it must have."""
FOLDERS = {
    "core": "core",
    "device": "device",
    "screens": "phone",
    "css": "css",
    "vendor": "vendor",
}
"""Path below /phone/ -> folder below static/."""
RULE_FILES = ("kinds.json", "words.json")
DESK_ONLY = frozenset({"calculations.css", "desk.css", "mark.svg"})
KINDS = {
    ".css": "text/css",
    ".js": "text/javascript",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
}
"""Only files of these kinds belong to the shell."""
VERSION_LENGTH = 16
LATER = re.compile(
    r"/phone/(?:vendor/|(?:device|screens)/roads/|screens/(?:icons|register)/"
    r"|core/plan_signing\.js|css/later\.css|device/(?:enrolment|faulty)\.js"
    r"|screens/words\.(?!en\.|js$)"
    r"|screens/(?:amend|apart|backwards|beforehand|carry|concerning|conditions|course"
    r"|crew|discarding|disputed|doubts|elevation|enrol|facts|figures|following"
    r"|gravity|hanging|instead|judged|languages|later|leftsheet|limits|line"
    r"|lost|(?:deciding|later|rules)\.\w+"
    r"|margins|meaning|missing|more|named|nonconformance|offered|outbox|outofuse"
    r"|overruled|overtime|people|pin|pinpad|plan|point|raising|releases|restarts"
    r"|rests|reviews|running|scale|seldom|settings|sighting|signing|since|spoken"
    r"|stages|stress|suited|swaps|switching|taken|thought|tooold|uncover|undecided"
    r"|unseen|verdicts|wanted|within|won|written|wrong)\.js)"
)
"""What a start can do without: languages, icons, roads, desk work, others' scripts,
minutes before a clock runs, what a figure would mean and what a form still wants, times
out of order, where bars hang, conditions, the crew, readings that contradict each
other, the elevation and how far each segment is, enrolling (which wants the office
anyhow), words of later screens, limits in words, the mending of a line and the key that
leads to it, that no caution lies over a question, what bars carry on a card, settings
and ways on, the names of languages and the taking in of a newer version, that a race
was won, and by how much, what may be a slip, what leads instead of it, what to do once
it is lost, what waits for the office, the screen of a gate, which nobody signs without
what it rests on, the asking for a PIN, spoken releases, the register, what runs on
above a form, what was taken out of use, settings, photographs nobody here saw, what the
office did not take, what a line takes over from the one before, which is asked for
until then."""
WRITTEN = ("text/", "application/json", "application/manifest")
"""Kinds that grow small when compressed."""
_COMMENT = re.compile(
    rb"^[ \t]*(?://[^\n]*|/\*\*(?:[^*]|\*(?!/))*\*/[ \t]*)\n", re.MULTILINE
)
"""Comments that stand on lines of their own; any other stays."""
_COMMENTS = {".js": _COMMENT, ".css": re.compile(rb"/\*.*?\*/", re.DOTALL)}
_BLANK = re.compile(rb"^[ \t]+|^\n", re.MULTILINE)
"""No text of ours runs over a line's end, so that a line may begin anywhere."""
shell = Blueprint("shell", __name__, url_prefix="/phone")


@shell.get("/")
def phone() -> Response:
    """Serve the one page of the phone."""
    return _kept(_page(), "text/html")


@shell.get(f"/{WORKER}")
def worker() -> Response:
    """Serve the worker with the list of files it keeps, and their version."""
    source = _static() / "phone" / WORKER
    if not source.is_file():
        abort(404)
    files, later = shell_files(), sha256_hex(_list())
    text = _served(source).decode("utf-8")
    for mark, told in (
        (FILES_MARK, sorted(files)),
        (LATER_MARK, later),
        (VERSION_MARK, fingerprint({"later": later, "now": files})[:VERSION_LENGTH]),
    ):
        text = text.replace(mark, json.dumps(told, separators=(",", ":")))
    return _kept(text.encode("utf-8"), "text/javascript")


@shell.get("/manifest")
@shell.get(f"/{MANIFEST}")
def manifest() -> Response:
    """Serve the manifest that lets the phone be installed."""
    return _file(_static() / "phone" / MANIFEST, "application/manifest+json")


@shell.get(LIST.removeprefix("/phone"))
def later_list() -> Response:
    """Serve the list of what comes after the first screen."""
    return _kept(_list(), "application/json")


@shell.get("/<folder>/<path:name>")
def part(folder: str, name: str) -> Response:
    """Serve one file of the shell; only files in the list exist."""
    address = f"/phone/{folder}/{name}"
    body = _read(_parts()).bodies.get(address)
    if body is None:
        abort(404)
    return _kept(body, KINDS[Path(name).suffix])


def shell_files() -> dict[str, str]:
    """Give every file a first start needs, by address: the SHA-256 of its bytes."""
    files = {address: sha256_hex(body) for address, body in _now_and_later()[0].items()}
    files["/phone/"] = sha256_hex(_page())
    if (_static() / "phone" / MANIFEST).is_file():
        path = _static() / "phone" / MANIFEST
        files[f"/phone/{MANIFEST}"] = sha256_hex(_served(path))
    return files


def later_files() -> dict[str, str]:
    """Give what is fetched after the first screen, each with the hash it must have."""
    return {
        address: sha256_hex(body)[:VERSION_LENGTH]
        for address, body in sorted(_now_and_later()[1].items())
    }


def _list() -> bytes:
    return canonical(later_files())


def _now_and_later() -> tuple[dict[str, bytes], dict[str, bytes]]:
    bodies, inside = _read(_parts())
    now: dict[str, bytes] = {}
    later: dict[str, bytes] = {}
    for address, body in bodies.items():
        waits = address in inside or LATER.match(address)
        (later if waits else now)[address] = body
    return now, later


def _parts() -> tuple[Part, ...]:
    hidden = DESK_ONLY | {WORKER}
    found = [
        part
        for folder, inside in FOLDERS.items()
        for part in parts_in(_static() / inside, f"/phone/{folder}", KINDS)
        if part.address.rpartition("/")[2] not in hidden
    ]
    rules = parts_in(Path(current_app.root_path) / "core", "/phone/core", {".json"})
    named = {f"/phone/core/{name}" for name in RULE_FILES}
    return tuple(sorted([*found, *(one for one in rules if one.address in named)]))


def _page() -> bytes:
    return render_template("phone/index.html").encode("utf-8")


def _static() -> Path:
    assert current_app.static_folder is not None
    return Path(current_app.static_folder)


class Linked(NamedTuple):
    """Every part as phones get it; `inside` are the scripts that joined ones hold."""

    bodies: dict[str, bytes]
    inside: frozenset[str]


@lru_cache(maxsize=2)
def _read(parts: tuple[Part, ...]) -> Linked:
    """Read and join all parts, once as long as none of them changes.

    A phone asks for each of them: reading all every time took longer than the rest.
    """
    bodies = {each.address: _served(Path(each.path)) for each in parts}
    scripts = {
        address: body.decode("utf-8")
        for address, body in bodies.items()
        if Path(address).suffix in {".js", ".json"}
        and not address.startswith("/phone/vendor/")
    }
    linked = _linked(scripts)
    others = {one: body for one, body in bodies.items() if one not in linked.bodies}
    return Linked(others | linked.bodies, linked.inside)


def _linked(texts: dict[str, str]) -> Linked:
    if START not in texts:
        return Linked({}, frozenset())
    homes: dict[str, str] = {}
    held = reached([START], texts.__getitem__)
    groups = {FIRST: held}
    homes.update(dict.fromkeys(held, HELD))
    for address, starts in JOINED.items():
        here = [one for one in starts if one in texts]
        groups[address] = reached(here, texts.__getitem__, homes)
        homes.update(dict.fromkeys(groups[address], address))
    found = {HELD: holder([one for one in held if one != START], FIRST)}
    for address, order in groups.items():
        inside = {one: texts[one] for one in order}
        found[address] = (
            join_first(inside, START, homes)
            if address == FIRST
            else join(inside, homes)
        )
    for address, text in texts.items():
        found[address] = (stand_in if address in homes else bind)(address, text, homes)
    bodies = {address: text.encode("utf-8") for address, text in found.items()}
    return Linked(bodies, frozenset(homes))


def _file(path: Path, kind: str) -> Response:
    if not path.is_file():
        abort(404)
    return _kept(_served(path), kind)


def _served(path: Path) -> bytes:
    body = path.read_bytes()
    ours = path.suffix in _COMMENTS and path.parent.name != "vendor"
    return _bare(body, path.suffix) if ours else body


@lru_cache(maxsize=256)
def _bare(body: bytes, suffix: str) -> bytes:
    return _BLANK.sub(b"", _COMMENTS[suffix].sub(b"", body))


@lru_cache(maxsize=512)
def _zipped(body: bytes) -> bytes:
    return gzip.compress(body, mtime=0)


def _kept(body: bytes, kind: str) -> Response:
    answer = Response(body, mimetype=kind)
    if kind.startswith(WRITTEN) and request.accept_encodings.quality("gzip") > 0:
        answer.set_data(_zipped(body))
        answer.headers["Content-Encoding"] = "gzip"
    answer.headers["Vary"] = "Accept-Encoding"
    answer.headers["Cache-Control"] = "no-cache"
    return answer
