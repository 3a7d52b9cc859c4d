"""The desk across the whole site: today, the queue, nonconformances, missing."""

from flask import Blueprint, abort

from fieldapp.lookups import folded, site_picture
from fieldapp.lookups.register import register_of
from fieldapp.web.access import Answer, signed_in
from fieldapp.web.desk import desk, front, page
from fieldapp.web.evidence_page import evidence_page
from fieldapp.web.faults_page import faults_page
from fieldapp.web.missing_page import missing_page, set_apart
from fieldapp.web.queue_page import queue_page
from fieldapp.web.reading import once_read
from fieldapp.web.today_page import today_page

work = Blueprint("work", __name__)


@work.get("/today")
@signed_in
@once_read
def today() -> Answer:
    """Show what runs, what may start, who waits for whom, what bites this week."""
    here = desk()
    site = site_picture(here.reader.store) or {}
    shown = today_page(here, site, register_of(here.reader))
    return page("today.html", here, **shown)


@work.get("/queue")
@signed_in
@once_read
def queue() -> Answer:
    """Show the called points, since when, and what each rests on."""
    here = desk()
    return page("queue.html", here, **queue_page(here))


@work.get("/joints/<subject>/points/<point>")
@signed_in
@once_read
def evidence(subject: str, point: str) -> Answer:
    """Show one point with everything it rests on."""
    here = front()
    found = folded(here.reader, subject, here.now)
    if found is None or point not in found.sheet.points:
        abort(404)
    return page("evidence.html", here, **evidence_page(here, found, point))


@work.get("/nonconformances")
@signed_in
@once_read
def nonconformances() -> Answer:
    """Show every nonconformance with its evidence, proposals and dispositions."""
    here = desk()
    return page("nonconformances.html", here, groups=faults_page(here))


@work.get("/missing")
@signed_in
@once_read
def missing() -> Answer:
    """Show what each begun subject still lacks, and what was set apart."""
    here = desk()
    return page("missing.html", here, apart=set_apart(here), **missing_page(here))
