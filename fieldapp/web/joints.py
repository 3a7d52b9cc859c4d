"""The desk's reading pages: the list of subjects, one of them, its record on paper."""

from flask import (
    Blueprint,
    Response,
    abort,
    redirect,
    render_template,
    request,
    url_for,
)

from fieldapp.lookups import folded, overview, site_picture, subjects_issued
from fieldapp.lookups.photos import photos_of
from fieldapp.lookups.plans import instead_of
from fieldapp.records.attempts import ended
from fieldapp.web.access import Answer, running, signed_in
from fieldapp.web.archive import archive_part
from fieldapp.web.desk import front, words_for
from fieldapp.web.elevation import elevation, legend
from fieldapp.web.faults_page import faults_of
from fieldapp.web.items_used import items_used
from fieldapp.web.joint_groups import group
from fieldapp.web.joint_page import joint_page, summary
from fieldapp.web.names import site_names
from fieldapp.web.reading import once_read
from fieldapp.web.stages import awaited_milestones
from fieldapp.web.story import opened_of, pictures_of, turns

LONGEST_SEARCH = 64
joints = Blueprint("joints", __name__)


@joints.get("/")
@signed_in
@once_read
def joint_list() -> Answer:
    """Draw the site and list its subjects; `q` narrows the list by id or title.

    A whole id leads to the subject itself.
    """
    wanted = request.args.get("q", "").strip()[:LONGEST_SEARCH]
    reader, now = running().reader, running().clock()
    if wanted in subjects_issued(reader):
        return redirect(url_for("joints.one_joint", subject=wanted))
    every = overview(reader, now)
    awaited = awaited_milestones(every)
    names = site_names(reader)
    rows = [
        {
            **summary(each, awaited.get(each.sheet.raw["kind"]), now),
            "decides": names.signers(each.sheet.raw["dispose"], " or "),
        }
        for each in every
    ]
    picture = site_picture(reader.store) or {}
    found = [row for row in rows if wanted.casefold() in row["search"]]
    kinds = dict.fromkeys(row["kind"] for row in found)
    return render_template(
        "joints.html",
        groups=[
            group(names.kind(kind), [row for row in found if row["kind"] == kind])
            for kind in kinds
        ],
        shown=len(found),
        total=len(rows),
        wanted=wanted,
        site=picture,
        names=names,
        drawing=elevation(picture, {row["id"]: row for row in rows}),
        legend=legend(picture, every, awaited),
        now=now,
    )


@joints.get("/joints/<subject>")
@signed_in
@once_read
def one_joint(subject: str) -> Answer:
    """Show one subject: steps, points, clocks, nonconformances, photos, entries."""
    reader, now = running().reader, running().clock()
    found = folded(reader, subject, now)
    if found is None:
        abort(404)
    names = site_names(reader)
    words = words_for(reader, names, found)
    opened = opened_of(reader, found, now)
    shown = joint_page(found, names, words, photos_of(reader, found.entries), now)
    return render_template(
        "joint.html",
        **shown,
        items=items_used(reader, found),
        pictures=pictures_of(opened),
        earlier=list(ended(opened)),
        turns=turns(opened, found, names, words),
        faults=list(faults_of(front(), found)),
        archive=archive_part(reader, found),
        instead=instead_of(reader, subject),
        names=names,
        zone=names.zone,
        site=site_picture(reader.store) or {},
        now=now,
    )


@joints.get("/joints/<subject>/blank")
@signed_in
def blank(subject: str) -> Answer:
    """Lead an old address to the paper: a sheet to be written on is the PDF alone."""
    return redirect(url_for("papers.blank", subject=subject))


@joints.get("/joints/<subject>/record.pdf")
@signed_in
def record(subject: str) -> Response:
    """Give the record of one subject as a PDF, as of now."""
    pdf = running().paper(running().reader, subject, running().clock())
    if pdf is None:
        abort(404)
    answer = Response(pdf, mimetype="application/pdf")
    answer.headers["Content-Disposition"] = f'attachment; filename="{subject}.pdf"'
    return answer
