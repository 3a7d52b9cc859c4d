"""Labels: what a code says, how it is drawn, and what stands beside it in words.

The drawn code is read back from a picture of the page and held against the library
that made it; the text of a code is worked out here and read by the phone's own reader.
"""

import hashlib
import re
import subprocess
from io import BytesIO
from types import SimpleNamespace

import pytest
import segno
from PIL import Image

from fieldapp.lookups.marks import ITEM, SUBJECT, mark_text
from fieldapp.lookups.register import Registered
from fieldapp.records.codes import matrix
from fieldapp.records.labels import labels, labels_pdf
from fieldapp.records.names import Names
from fieldapp.records.pages import UnknownSize, page_size
from tests.javascript import JavaScript
from tests.records.paper import PAPER, opened, pages

READER = "static/device/roads/marks.js"
NOW = 1_800_000_000_000
END_OF_MAY = 1_811_800_799_000
"""2027-05-31 23:59:59 at UTC+02:00: 1 811 800 799 s after 1970 (date -u)."""
SITE = Names(site={
    "id": "tarn", "title": "Tarn crossing", "zone": 120,
    "item_kinds": [{"id": "gauge", "title": "Pressure gauge"}],
})  # fmt: skip


def item(name: str, **changes: object) -> Registered:
    parts = {
        "id": name, "label": f"Gauge {name}", "kind": "gauge", "numbers": {},
        "expires": END_OF_MAY, "entry": "0" * 64, "history": (), "refused": (),
        "subjects": (), "limit": None,
    }  # fmt: skip
    return Registered(**{**parts, **changes})  # type: ignore[arg-type]


def test_a_code_names_site_and_item_with_a_check_of_both() -> None:
    check = hashlib.sha256(b"tarn/g-1").hexdigest()[:8]
    assert mark_text(ITEM, "tarn", "g-1") == f"FR1:ITEM:tarn:g-1:{check}"


def test_the_phone_reads_what_is_printed_and_knows_a_foreign_or_damaged_one(
    javascript: JavaScript,
) -> None:
    printed = mark_text(ITEM, "tarn", "g-1")
    cases = [
        (printed, "tarn"),
        (printed, "other"),
        (printed.replace("g-1", "g-2"), "tarn"),
        (mark_text(SUBJECT, "tarn", "j-1"), "tarn"),
    ]
    assert javascript.each(READER, "readMark", cases) == [
        {"kind": "item", "id": "g-1"},
        {"fault": "foreign_site"},
        {"fault": "damaged"},
        {"kind": "subject", "id": "j-1"},
    ]


def test_a_label_says_title_kind_and_last_day_in_words() -> None:
    dated, endless = labels([item("g-1"), item("g-2", expires=None)], "tarn", SITE)
    assert (dated.title, dated.kind) == ("Gauge g-1", "Pressure gauge")
    assert dated.until == "Good until the end of 31\xa0May\xa02027"
    assert endless.until == "No last day"
    # A day of the programme: nothing is good until then.
    cast = {"id": "gauge", "title": "Pressure gauge", "planned": 1}
    named = Names(site={**SITE.site, "item_kinds": [cast]})
    (planned,) = labels([item("g-1")], "tarn", named)
    assert planned.until == "Planned for 31\xa0May\xa02027"
    about = {"replaces": "0" * 64, "expires": NOW, "text": "Bent"}
    taken = SimpleNamespace(at=NOW, about=about)
    (out,) = labels([item("g-3", out=taken)], "tarn", SITE)
    # 1 800 000 000 s after 1970 is 2027-01-15 08:00 UTC (date -u).
    assert out.until == "Taken out of use on 15\xa0January\xa02027: Bent"


@PAPER
def test_the_drawn_code_is_the_one_the_library_makes() -> None:
    made = labels([item("g-1")], "tarn", SITE)
    read = read_back(labels_pdf(made, SITE, NOW, "A4"), matrix(made[0].text))
    wanted = segno.make(made[0].text, error="q", boost_error=False, micro=False)
    assert read == [[bool(module) for module in row] for row in wanted.matrix]


@PAPER
def test_twenty_one_labels_fill_a_sheet_of_a4_and_eighteen_one_of_letter() -> None:
    made = labels([item(f"g-{n}") for n in range(22)], "tarn", SITE)
    on_a4 = pages(labels_pdf(made, SITE, NOW, "A4"))
    assert [page.count("Good until") for page in on_a4] == [21, 1]
    letter = labels_pdf(made, SITE, NOW, "Letter")
    assert [page.count("Good until") for page in pages(letter)] == [18, 4]
    pdf = opened(letter)
    assert [int(float(side)) for side in pdf.pages[0].MediaBox][2:] == [612, 792]


@PAPER
def test_what_is_too_long_for_a_label_ends_in_dots_above_the_sites_lines() -> None:
    long = "of which more is written down than anybody reads on so small a label"
    about = {"replaces": "0" * 64, "expires": NOW, "text": f"Snapped, a bar {long}"}
    taken = SimpleNamespace(at=NOW, about=about)
    paper = SimpleNamespace(at=NOW, about={"text": f"Paper {long}"})
    made = [
        item(name, label=f"Gauge {long}", kind=f"Kind {long}", history=(paper,), out=o)
        for name, o in (("g-1", taken), ("g-2", None))
    ]
    pdf = labels_pdf(labels(made, "tarn", SITE), SITE, NOW, "A4")
    (told,) = pages(pdf)
    assert told.count("…") == 7
    assert "31 May 2027" in told
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    found = re.findall(r'yMin="(.+?)".*?yMax="(.+?)">(.*?)<', done.stdout.decode())
    # The site's name stands in the heading first, then at the foot of each label.
    foot = min(float(top) for top, _, word in found[6:] if word == "Tarn")
    above = [float(low) for top, low, _ in found if float(top) < foot]
    assert max(above) < foot + 0.5


@pytest.mark.parametrize("name", ["letter", "Letter", "LETTER"])
def test_a_size_of_paper_is_known_by_name_in_any_case(name: str) -> None:
    assert page_size(name) == "Letter"


def test_a_size_that_is_not_known_names_those_that_are() -> None:
    with pytest.raises(UnknownSize, match="allowed: a4, letter"):
        page_size("a3")


def read_back(pdf: bytes, like: tuple[tuple[bool, ...], ...]) -> list[list[bool]]:
    """Read a code's modules from a picture of the first label of a page."""
    done = subprocess.run(
        ["pdftoppm", "-r", "400", "-gray", "-f", "1", "-l", "1", "-"],
        input=pdf, capture_output=True, check=True,
    )  # fmt: skip
    page = Image.open(BytesIO(done.stdout))
    # The first label lies 10 mm from the left, its code within the next 29 mm; the
    # dashed line around the label is lighter than a code's black.
    mm = 400 / 25.4
    place = page.crop((int(11 * mm), int(15 * mm), int(39 * mm), int(50 * mm)))
    dark = place.point(lambda level: 255 if level < 64 else 0)
    left, top, right, _foot = dark.getbbox() or (0, 0, 0, 0)
    size = (right - left) / len(like)
    return [
        [
            place.getpixel((left + int((x + 0.5) * size), top + int((y + 0.5) * size)))
            < 64
            for x in range(len(like))
        ]
        for y in range(len(like))
    ]
