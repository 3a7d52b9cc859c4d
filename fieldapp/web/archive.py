"""The desk's archive: what is archived, what is out of date, and archiving itself.

A record is archived by an office account, since it cannot be undone; its bytes can be
fetched by anybody who is signed in, and are the same for ever.
"""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from typing import Any

from flask import (
    Blueprint,
    Response,
    abort,
    flash,
    g,
    get_flashed_messages,
    redirect,
    request,
    send_file,
    session,
    url_for,
)

from fieldapp.intake.archive import Archiver
from fieldapp.lookups import Folded, Reader, site_picture
from fieldapp.lookups.archive import CURRENT, Archived, all_archived, archived
from fieldapp.records.archive import archive as archive_record
from fieldapp.records.archiving import Result, archive_each, complete_and_wanting
from fieldapp.records.dossier import (
    UnknownPart,
    begun_at,
    pier_of,
    write_dossier,
)
from fieldapp.records.dossier_front import parts_of
from fieldapp.records.marks import verdict_mark
from fieldapp.records.pages import UnknownSize
from fieldapp.records.revisions import since_told
from fieldapp.store.accounts import session_id
from fieldapp.store.archive import revision_bytes, revisions_of
from fieldapp.web.access import Answer, office_only, running, signed_in
from fieldapp.web.desk import Desk, desk, page
from fieldapp.web.forms import PressForm
from fieldapp.web.missing_page import lacks_of
from fieldapp.web.reading import once_read

MOST_AT_DESK = 40
"""Of more records than this a dossier is made by the command alone."""
RECORD_S = (1, 3)
"""Seconds that setting one record takes: on a quick machine, and on a busy one.
Measured by tests/bench/test_record.py: its "set warm" and "gathered".
"""
MOST_MS = 15_000
"""So long one request archives; what is left is told, and asked for again."""
ONE_AT_A_TIME = Lock()
"""Of dossiers and of many records: several at once would leave phones no processor."""
ARCHIVED, OPEN = "archived", "incomplete"
archive = Blueprint("archive", __name__)
Row = dict[str, Any]


@archive.get("/archive")
@signed_in
@once_read
def revision_list() -> Answer:
    """Show what was begun: not archived, out of date, or archived as it stands."""
    here = desk()
    results = just_archived()
    shown = {"left": [], "asked": bool(results), "form": PressForm()}
    return page("archive.html", here, results=results, **shown, **_list(here))


@archive.post("/archive")
@office_only
@once_read
def keep_several() -> Answer:
    """Archive the subjects chosen, or all complete ones, and tell each result."""
    if not PressForm().validate_on_submit():
        abort(400)
    if not ONE_AT_A_TIME.acquire(blocking=False):
        abort(429)
    try:
        chosen = _chosen(desk())
        results = _archive_for_a_while(chosen)
    finally:
        ONE_AT_A_TIME.release()
    here = desk()
    left = chosen[len(results) :]
    shown = {"results": results, "left": left, "asked": True, "form": PressForm()}
    return page("archive.html", here, **shown, **_list(here))


@archive.post("/archive/<subject>")
@office_only
def keep(subject: str) -> Answer:
    """Archive the record of a subject as of now; the page it was asked on tells it."""
    if not PressForm().validate_on_submit():
        abort(400)
    wired = running()
    done = archive_record(
        wired.door, wired.reader, subject, wired.clock(), by=_archiver()
    )
    if done is None:
        abort(404)
    flash(f"{subject} {done.revision.revision} {int(done.made)}", ARCHIVED)
    if "listed" in request.form:
        return redirect(url_for("archive.revision_list"))
    return redirect(url_for("joints.one_joint", subject=subject, _anchor="revisions"))


def just_archived() -> list[Result]:
    """Give what this session archived by the press before this page, told once."""
    results = []
    for told in get_flashed_messages(category_filter=(ARCHIVED,)):
        subject, number, made = str(told).split()
        revision = revisions_of(running().door.store, subject)[int(number) - 1]
        results.append(Result(subject=subject, revision=revision, made=made == "1"))
    return results


@archive.get("/archive/<subject>/revision-<int(max=999999):revision>.pdf")
@signed_in
def one_revision(subject: str, revision: int) -> Response:
    """Give the very bytes of an archived record."""
    pdf = revision_bytes(running().door.store, subject, revision)
    if pdf is None:
        abort(404)
    answer = Response(pdf, mimetype="application/pdf")
    name = f"{subject}-revision-{revision}.pdf"
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


@archive.get("/archive/dossier.pdf")
@signed_in
def one_dossier() -> Response:
    """Give the records of a pier as one file; `pier` names it, `paper` the size."""
    reader, now = running().reader, running().clock()
    pier, size = request.args.get("pier", ""), request.args.get("paper", "")
    file = BytesIO()
    if not ONE_AT_A_TIME.acquire(blocking=False):
        abort(429)
    try:
        if len(begun_at(reader, now, pier)) > MOST_AT_DESK:
            abort(404)
        with TemporaryDirectory(prefix="fieldapp-") as folder:
            write_dossier(reader, file, Path(folder), now, pier=pier, size=size)
    except (UnknownPart, UnknownSize):
        abort(404)
    finally:
        ONE_AT_A_TIME.release()
    file.seek(0)
    name = f"dossier-{pier or 'site'}.pdf"
    return send_file(file, "application/pdf", as_attachment=True, download_name=name)


def _archiver() -> Archiver:
    return Archiver(
        account=g.account.name,
        person=g.account.person,
        session=session_id(session["sid"]),
    )


def _chosen(here: Desk) -> list[str]:
    """Give the subjects to archive: those ticked that were begun, or all complete."""
    begun = [found for found in here.folded if found.entries]
    if "complete" in request.form:
        return complete_and_wanting(begun, all_archived(here.reader, begun))
    ticked = set(request.form.getlist("subject"))
    return [each.sheet.subject for each in begun if each.sheet.subject in ticked]


def _archive_for_a_while(subjects: list[str]) -> list[Result]:
    """Archive one after another until the time of one request is over."""
    wired = running()
    until = wired.clock() + MOST_MS
    results: list[Result] = []
    for result in archive_each(
        wired.door, wired.reader, subjects, wired.clock, by=_archiver()
    ):
        results.append(result)
        if wired.clock() >= until:
            break
    return results


def archive_part(reader: Reader, found: Folded) -> Row:
    """Give a subject's revisions, the last one first, and how it stands."""
    revisions = revisions_of(reader.store, found.sheet.subject)
    results = [e for e in just_archived() if e.subject == found.sheet.subject]
    told = _told(archived(reader, found))
    return {"revisions": revisions[::-1], "results": results, **told}


def _list(here: Desk) -> Row:
    begun = [found for found in here.folded if found.entries]
    known = all_archived(here.reader, begun)
    rows = [_row(here, found, known[found.sheet.subject]) for found in begun]
    return {
        "complete": len(complete_and_wanting(begun, known)),
        "titles": {row["id"]: row["title"] for row in rows},
        "wanting": [row for row in rows if row["status"] != CURRENT],
        "current": [row for row in rows if row["status"] == CURRENT],
        "not_begun": len(here.folded) - len(begun),
        "dossiers": list(_dossiers(here, known)),
        "most": MOST_AT_DESK,
    }


def _dossiers(here: Desk, known: dict[str, Archived]) -> Iterator[Row]:
    site = site_picture(here.reader.store) or {}
    begun = [found for found in here.folded if found.entries]
    of = pier_of(site)
    for pier, title in {"": "The whole site", **parts_of(site)}.items():
        there = [
            e.sheet.subject
            for e in begun
            if not pier or of.get(e.sheet.subject) == pier
        ]
        if there:
            fresh = sum(known[subject].last is None for subject in there)
            told = {"pier": pier, "title": title, "count": len(there)}
            yield {**told, "fresh": fresh, "takes": _takes(fresh)}


def _takes(fresh: int) -> str:
    """Give about how long a dossier takes that sets so many records anew."""
    least, most = fresh * RECORD_S[0], fresh * RECORD_S[1]
    return f"about {least} to {most} s" if fresh else "a few seconds"


def _row(here: Desk, found: Folded, known: Archived) -> Row:
    sheet = found.sheet.raw
    return {
        "id": found.sheet.subject,
        "title": sheet["title"],
        "kind": here.names.kind(sheet["kind"]),
        "verdict": verdict_mark(found.state),
        "lacks": lacks_of(here, found) if found.state["verdict"] == OPEN else [],
        "last": known.last,
        **_told(known),
    }


def _told(known: Archived) -> Row:
    return {"status": known.status, "text": since_told(known)}
