"""What a page of the desk is made from: the site as it stands at one moment."""

from dataclasses import dataclass, replace
from typing import Any

from flask import render_template

from fieldapp.core.fold import present
from fieldapp.lookups import Folded, Reader, overview, sheet_of, site_picture
from fieldapp.records.foreign import Foreign, foreign, is_foreign
from fieldapp.web.access import running
from fieldapp.web.names import SiteNames, site_names
from fieldapp.web.wording import Wording, titles_of, wording


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """The site at a moment: `now` in ms UTC; `folded` every subject, in order."""

    reader: Reader
    now: int
    names: SiteNames
    folded: tuple[Folded, ...]

    def words(self, found: Folded) -> Wording:
        """Give what a subject's sheet calls things."""
        return words_for(self.reader, self.names, found)


def words_for(reader: Reader, names: SiteNames, found: Folded) -> Wording:
    """Give what a subject's sheet, and those of subjects it waits for, call things."""
    return wording(
        found.sheet.raw,
        found.state,
        people=names.people,
        zone=names.zone,
        subjects=names.subjects,
        elsewhere=titles_elsewhere(reader, found.sheet.raw),
        by_hand={
            entry.id: entry.about["text"]
            for entry in found.entries
            if entry.kind == "nonconformance"
        },
        foreign=_foreign(found),
    )


def _foreign(found: Folded) -> Foreign:
    # Only where there is one: it wants the rules themselves.
    if not is_foreign(found.state):
        return {}
    at = max(entry.at for entry in found.entries)
    scene = present(found.sheet, found.entries, found.standing, {"at": at})
    return foreign(scene, found.state)


def titles_elsewhere(reader: Reader, sheet: dict[str, Any]) -> dict[str, str]:
    """Give what the sheets of subjects that one waits for call their parts."""
    found: dict[str, str] = {}
    for other in sorted({each["subject"] for each in sheet.get("prerequisites", ())}):
        waited = sheet_of(reader, other)
        found |= titles_of(waited.raw) if waited else {}
    return found


def desk() -> Desk:
    """Fold the whole site for one page."""
    reader, now = running().reader, running().clock()
    folded = tuple(overview(reader, now))
    titles = {each.sheet.subject: each.sheet.raw["title"] for each in folded}
    names = site_names(reader)
    return Desk(
        reader=reader,
        now=now,
        names=replace(names, subjects={**names.subjects, **titles}),
        folded=folded,
    )


def front() -> Desk:
    """Give what a page needs that asks for no subject's state: nothing is folded."""
    reader = running().reader
    names = site_names(reader)
    return Desk(reader=reader, now=running().clock(), names=names, folded=())


def page(template: str, here: Desk, **more: Any) -> str:
    """Render a page of the desk with what every one of them needs."""
    site = site_picture(here.reader.store) or {}
    return render_template(
        template,
        now=here.now,
        zone=here.names.zone,
        names=here.names,
        site=site,
        **more,
    )
