"""Photographs on paper: small copies with their captions, carried and proved."""

import hashlib
from functools import cache
from io import BytesIO

import pikepdf
import pytest
from PIL import Image

from fieldapp.records.evidence import Title
from fieldapp.records.record import record_html, record_pdf
from fieldapp.records.verify import NO, SAME, unpack, verify_record
from fieldapp.records.view import record_view
from tests.records.book import Book, told
from tests.records.paper import PAPER, opened, pages, structure

pytestmark = PAPER
SIDES = ("deck", "left", "right", "soffit")


def picture(shade: int) -> bytes:
    """A small JPEG of one grey."""
    drawn = BytesIO()
    Image.new("L", (80, 60), shade).save(drawn, "JPEG")
    return drawn.getvalue()


PICTURES = {
    hashlib.sha256(f"taken {side}".encode()).hexdigest(): picture(60 + 30 * number)
    for number, side in enumerate(SIDES)
}
"""By the hash of what was taken; what is printed is another, smaller picture."""


@cache
def joint() -> Book:
    """A joint whose bead is photographed on every side; one is still to come."""
    book = told("bars")
    for side, name in zip(SIDES, PICTURES, strict=True):
        book.at(40).done("bead", by="tamsin", line=side, values={"bead": 1},
                         photos=[name])  # fmt: skip
    return book


ARRIVED = dict(list(PICTURES.items())[:3])
MISSING = list(PICTURES)[3]


@cache
def printed() -> bytes:
    return record_pdf(joint().evidence(photos=ARRIVED))


def test_each_photograph_is_printed_with_place_time_person_and_hash() -> None:
    said = " ".join(pages(printed()))
    whole = said.replace(" ", "")
    view = record_view(joint().evidence(photos=ARRIVED))
    assert [each.caption for each in view.photos] == [
        "Bead on every side, Deck", "Bead on every side, Left side",
        "Bead on every side, Right side", "Bead on every side, Soffit",
    ]  # fmt: skip
    for photo in view.photos:
        assert photo.hash in whole
        assert "2027-01-15 09:40, Tamsin Orbell" in photo.taken
        assert photo.taken in said


def test_one_that_has_not_arrived_keeps_its_place_and_says_so() -> None:
    view = record_view(joint().evidence(photos=ARRIVED))
    assert {each.hash for each in view.photos if not each.here} == {MISSING}
    assert record_html(view).count("Not arrived when this was printed.") == 1


def test_a_release_given_without_having_seen_it_is_told_beside_it() -> None:
    book = told("clean")
    name = next(iter(PICTURES))
    book.at(45).say("note", by="tamsin", about={"text": "Look"}, photos=[name])
    book.at(46).release("weight", by="edric", about={"unseen": [name]})
    (photo,) = record_view(book.evidence()).photos
    assert photo.unseen[0].startswith("not seen by Edric Vanholt on releasing")


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_a_good_joint_with_pictures_and_photographs_takes_at_most_three_pages(
    page: str,
) -> None:
    title = Title(document="REC 1", page=page)
    whole = joint().evidence(photos=ARRIVED, title=title)
    read = pages(printed() if page == "A4" else record_pdf(whole))
    main = next(n for n, text in enumerate(read, 1) if "Annex A." in text)
    assert main <= 3
    assert len(read) <= 4, "with the annex"


def test_pictures_are_drawn_with_words_and_never_interpolated() -> None:
    pdf = opened(printed())
    images = [
        each
        for each in pdf.objects
        if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image"
    ]
    assert len(images) == len(ARRIVED)
    assert not any(image.get("/Interpolate", False) for image in images)
    told_of = [str(e.Alt) for e in structure(pdf) if e.S == "/Figure"]
    assert sum(each.startswith("Photograph: Bead") for each in told_of) == 3


def test_the_printed_copies_are_attached_under_the_hash_of_the_original() -> None:
    files = unpack(printed())
    for name, copy in ARRIVED.items():
        assert files[f"photo-{name}.jpg"] == copy
    assert f"photo-{MISSING}.jpg" not in files
    pdf = opened(printed())
    relations = {str(f.UF): str(f.AFRelationship) for f in pdf.Root.AF}
    assert relations[f"photo-{next(iter(ARRIVED))}.jpg"] == "/Supplement"


def test_a_record_with_photographs_proves_itself_and_says_what_it_takes_as_stated() -> (
    None
):
    verdict = verify_record(printed())
    assert verdict.pages == SAME, verdict.reasons
    assert "that printed photographs show what the named ones do" in verdict.limits


def test_a_photograph_that_no_entry_names_is_found_out() -> None:
    stray = {**ARRIVED, "ab" * 32: picture(9)}
    verdict = verify_record(record_pdf(joint().evidence(photos=stray)))
    assert verdict.result == NO
    assert verdict.reasons == (
        "a photograph is carried that no entry names: ababababab",
    )


def test_another_picture_in_its_place_is_found_out() -> None:
    swapped = printed().replace(
        next(iter(ARRIVED.values())),
        picture(7).ljust(len(next(iter(ARRIVED.values())))),
    )
    assert swapped != printed()
    assert verify_record(swapped).result == NO
