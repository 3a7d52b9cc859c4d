"""Files of entries brought to the desk: uploaded, judged, and what became of them."""

from flask import Blueprint, render_template, request, session

from fieldapp.intake.parcel import LARGEST_BYTES, Brought, ParcelFault, take_parcel
from fieldapp.web.access import Answer, running, signed_in
from fieldapp.web.forms import FileForm

ROOM_FOR_FORM_BYTES = 64 * 1024
imports = Blueprint("imports", __name__)
BECAME = {
    "stored": ("green", "new, signatures hold"),
    "duplicate": ("grey", "were here before"),
    "fork": ("yellow", "new, under a number which another entry of that phone has"),
    "unknown_key": ("yellow", "kept apart: signed with a key that is not known yet"),
    "other_device": ("yellow", "kept apart: signed with a key of another phone"),
    "revoked_key": ("yellow", "kept apart: signed with a key that was revoked"),
    "revoked_device": ("yellow", "kept apart: brought by a phone reported lost"),
    "bad_signature": ("red", "kept apart: the signature does not hold"),
    "other_site": ("red", "kept apart: of another site"),
    "unreadable": ("red", "not readable, not kept"),
}
"""Result or reason -> the colour of its mark and what it means, in words."""


@imports.url_value_preprocessor
def _allow_a_file(_endpoint: str | None, _values: dict[str, str] | None) -> None:
    # Before the form's token is looked for, which reads the whole request.
    if "sid" in session:
        request.max_content_length = LARGEST_BYTES + ROOM_FOR_FORM_BYTES


@imports.get("/import")
@signed_in
def choose_file() -> Answer:
    """Show the form."""
    return _page(FileForm())


@imports.post("/import")
@signed_in
def bring_file() -> Answer:
    """Take a file in and show what became of its entries."""
    form = FileForm()
    if not form.validate_on_submit():
        return _page(form), 400
    raw = form.file.data.stream.read(LARGEST_BYTES + 1)
    try:
        brought = take_parcel(running().door, raw, running().clock())
    except ParcelFault as fault:
        return _page(form, fault=str(fault)), 400
    return _page(form, brought=brought)


def _page(
    form: FileForm, *, brought: Brought | None = None, fault: str | None = None
) -> str:
    told = (
        [
            (count, *BECAME.get(name, ("yellow", name)))
            for name, count in brought.counts.items()
        ]
        if brought
        else []
    )
    return render_template(
        "import.html", form=form, told=told, brought=brought, fault=fault
    )
