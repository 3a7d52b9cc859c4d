"""The routes of the phone's API, under /api.

A device proves itself by its token, never by a page's session: a sign-in that ran out
must not hold back a record. A batch answers 200 with one answer per entry; 4xx means
that the envelope was unreadable or the device has no right; 503 that nothing was
kept and the phone must offer it again.
"""

from typing import Any

from flask import Blueprint, Response, jsonify, request

from fieldapp.config import Running
from fieldapp.intake.batch import QuotaReached, Result, accept
from fieldapp.intake.comeback import ReturnRefused, challenge_for, come_back
from fieldapp.intake.office import EnrolmentRefused, enrol
from fieldapp.lookups import person_of_plan, site_picture
from fieldapp.lookups.facts import all_facts, pace_of
from fieldapp.lookups.register import told_to_phones
from fieldapp.store.accounts import (
    forget_failures,
    note_failure,
    wait_before_try,
)
from fieldapp.store.bodies import find_body
from fieldapp.store.database import epoch, reading, writing
from fieldapp.store.devices import find_code
from fieldapp.store.ledger import ledger_head, rows_after
from fieldapp.store.plans import plan_waiting
from fieldapp.store.roster import sheets_issued
from fieldapp.sync.asking import (
    device_here,
    device_in_force,
    known_device,
    running_here,
    token_here,
)
from fieldapp.sync.versions import API, speaks_versions
from fieldapp.sync.wire import (
    LARGEST_PAGE,
    LAST_INDEX,
    WireError,
    read_batch,
    read_code,
    read_enrolment,
    read_return,
    read_whole,
)

LARGEST_PUSH_BYTES = 16 * 1024 * 1024
api = Blueprint("api", __name__, url_prefix="/api")
speaks_versions(api)


@api.post("/enrol")
def enrol_device() -> Response:
    """Enrol a person's key on a phone by an office code; answers with a token."""
    running = running_here()
    wish = read_enrolment(_json_body())
    now = running.clock()
    source = f"enrol {request.remote_addr}"
    _keep_pace(running, source, now)
    code = find_code(running.door.store, wish.code)
    person = person_of_plan(running.door.store, code.person) if code else None
    known = device_here()
    own = known is not None and known.device == wish.device and not known.revoked
    try:
        if person is None:
            raise EnrolmentRefused(
                "code_unknown", "code", "a code that has not run out"
            )
        token = enrol(running.door, wish, person, known=own, now=now)
    except EnrolmentRefused as refused:
        with writing(running.door.store):
            note_failure(running.door.store, source, now)
        raise WireError(
            refused.code, refused.field, "as sent", refused.allowed, 403
        ) from refused
    with writing(running.door.store):
        forget_failures(running.door.store, source)
    picture = site_picture(running.door.store) or {}
    return jsonify(
        token=token or token_here(),
        person=person["id"],
        name=person["name"],
        site=picture.get("id"),
        office_key=running.door.office.public,
    )


@api.post("/code")
def look_at_code() -> Response:
    """Say whose an enrolment code is, before a PIN is chosen; it spends nothing.

    A wrong code counts as a failed try, as at enrolling, and a right one forgives
    none, so that nobody can guess faster by asking here. `records`: whether the
    person's role is one whose work the sheets record.
    """
    running = running_here()
    typed = read_code(_json_body())
    now, store = running.clock(), running.door.store
    source = f"enrol {request.remote_addr}"
    _keep_pace(running, source, now)
    code = find_code(store, typed)
    person = person_of_plan(store, code.person) if code else None
    if code is None or person is None or code.expires < now or code.used is not None:
        with writing(store):
            note_failure(store, source, now)
        used = code is not None and code.used is not None
        name, allowed = (
            ("code_used", "a code that was not used yet")
            if used
            else ("code_unknown", "a code that has not run out")
        )
        raise WireError(name, "code", "as sent", allowed, 403)
    kinds = (site_picture(store) or {}).get("kinds", ())
    recording = {role for kind in kinds for role in kind.get("record", ())}
    return jsonify(
        person=person["id"],
        name=person["name"],
        records=not recording.isdisjoint(person["roles"]),
    )


@api.post("/return")
def return_device() -> Response:
    """Know a phone again whose key and entries prove it; answers with a token.

    Asked without a proof it answers the challenge which the proof is to sign.
    """
    running = running_here()
    wish = read_return(_json_body())
    now, door = running.clock(), running.door
    source = f"return {request.remote_addr}"
    _keep_pace(running, source, now)
    if not wish.proof:
        return jsonify(challenge=challenge_for(door, wish, now))
    try:
        person, token = come_back(door, wish, now)
    except ReturnRefused as refused:
        with writing(door.store):
            note_failure(door.store, source, now)
        raise WireError(
            refused.code, refused.field, "as sent", refused.allowed, 403
        ) from refused
    with writing(door.store):
        forget_failures(door.store, source)
    picture = site_picture(door.store) or {}
    return jsonify(
        token=token,
        person=person,
        site=picture.get("id"),
        office_key=door.office.public,
    )


@api.post("/push")
def push() -> Response:
    """Take a batch in; one answer per entry, and the site's receipt."""
    pusher = known_device()
    batch = read_batch(_json_body())
    running = running_here()
    try:
        accepted = accept(running.door, batch, pusher=pusher, now=running.clock())
    except QuotaReached as full:
        allowed = "no more from a revoked device"
        raise WireError("quota", "entries", str(full), allowed, 429) from full
    receipt = {"bytes": accepted.receipt.body, "sig": accepted.receipt.sig}
    results = [_plain(result) for result in accepted.results]
    return jsonify(results=results, receipt=receipt)


@api.get("/pull")
def pull() -> Response:
    """Give the entries after an index, in the ledger's order, and which plan waits."""
    device_in_force()
    after = read_whole(request.args.get("after", "0"), "after", 0, LAST_INDEX)
    limit = read_whole(request.args.get("limit", "200"), "limit", 1, LARGEST_PAGE)
    running = running_here()
    store = running.door.store
    with reading(store):
        rows = rows_after(store, after, limit)
        head = ledger_head(store)
        name = epoch(store)
    return jsonify(
        epoch=name,
        head=head.head,
        last=head.place,
        plan=plan_waiting(store),
        entries=[
            {"index": row.place, "bytes": row.body, "sig": row.sig} for row in rows
        ],
        now=running.clock(),
    )


@api.get("/bundle")
def bundle() -> Response:
    """Give the site's picture, the sheets in force, and what a phone cannot know.

    register: the roles that may register items, and the numbers each kind of item
    carries; pace: ms a line by kind of subject and step, from finished subjects;
    plan: the hash of the plan that waits for signatures, or "".
    """
    device_in_force()
    running = running_here()
    picture = site_picture(running.door.store)
    if picture is None:
        raise WireError("no_site", "site", "nothing", "a site that was loaded", 404)
    issued = sheets_issued(running.door.store, running.door.office.id)
    # Just started, phones are answered at once; they ask for the pace again.
    facts = all_facts(running.reader) if running.warming.done.is_set() else {}
    return jsonify(
        site=picture,
        sheets={subject: {"hash": hashes[-1]} for subject, hashes in issued.items()},
        register=told_to_phones(running.reader),
        pace=pace_of(facts),
        plan=plan_waiting(running.door.store),
        now=running.clock(),
    )


@api.get("/sheet/<body_hash>")
def sheet(body_hash: str) -> Response:
    """Give a sheet's canonical bytes by its hash."""
    return _body("sheet", body_hash)


@api.get("/table/<body_hash>")
def table(body_hash: str) -> Response:
    """Give a table's canonical bytes by its hash."""
    return _body("table", body_hash)


@api.get("/plan/<body_hash>")
def plan(body_hash: str) -> Response:
    """Give the canonical bytes of a plan, which somebody is to sign, by its hash."""
    return _body("plan", body_hash)


@api.get("/ping")
def ping() -> Response:
    """Say that the server is there; needs no token, tells nothing of the site."""
    running = running_here()
    store = running.door.store
    return jsonify(
        now=running.clock(), epoch=epoch(store), last=ledger_head(store).place, api=API
    )


@api.app_errorhandler(WireError)
def _wire_error(fault: WireError) -> tuple[Response, int]:
    return jsonify(fault.answer()), fault.status


def _json_body() -> bytes:
    if request.mimetype != "application/json":
        found = request.mimetype or "nothing"
        raise WireError("wrong_type", "Content-Type", found, "application/json", 415)
    request.max_content_length = LARGEST_PUSH_BYTES
    return request.get_data(cache=False)


def _keep_pace(running: Running, source: str, now: int) -> None:
    wait = wait_before_try(running.door.store, source, now)
    if wait:
        allowed = f"the next try in {wait // 1_000 + 1} s"
        raise WireError("too_fast", "code", "tried too often", allowed, 429)


def _plain(result: Result) -> dict[str, Any]:
    told = ((name, getattr(result, name)) for name in Result.__slots__)
    return {name: value for name, value in told if value is not None}


def _body(kind: str, body_hash: str) -> Response:
    device_in_force()
    body = find_body(running_here().door.store, kind, body_hash)
    if body is None:
        raise WireError("not_found", "hash", body_hash, f"a {kind} kept here", 404)
    answer = Response(body, mimetype="application/json")
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer
