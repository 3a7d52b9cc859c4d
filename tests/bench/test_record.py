"""How long a joint's record takes to set, warm, with pictures and photographs.

Run by name: sh tests/run.sh tests/bench/test_record.py -s
Printed only, but for size and pages. Wall time beside processor time, since the machine
may be busy with other work; beside both, in turns, a lower bound: the same words as
plain paragraphs with the same typeface, pictures and photographs, set by the PDF
library as it is, without files, tags or tables. One joint is the frozen one with six
photographs; the other is the sample site's first, gathered from its played history
and folded anew each time.
"""

import hashlib
import re
import time
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from statistics import median

from PIL import Image

from fieldapp.cli import main
from fieldapp.clock import utc_now_ms
from fieldapp.config import open_door, running
from fieldapp.records.evidence import Evidence
from fieldapp.records.gather import PRINT_PX, PRINT_QUALITY, gather
from fieldapp.records.pdf import _fetcher, paper_library
from fieldapp.records.record import _images, record_html, record_pdf
from fieldapp.records.verify import verify_record
from fieldapp.records.view import record_view
from fieldapp.store.database import connected
from fieldapp.store.images import plain_copy
from tests.records.book import told
from tests.records.paper import PAPER, pages

pytestmark = PAPER
TIMES = 7
WARM_MS = 800
LARGEST_BYTES = 1_000_000
MOST_PAGES = 3
PLAIN = 'html { font: 7pt/1.2 "DejaVu Sans Condensed" } img { width: 29mm }'
SIDES = ("deck", "left", "right", "soffit")


def photograph(seed: int) -> bytes:
    """A printed copy of a noisy picture, which packs worse than most photographs."""
    drawn = BytesIO()
    tall = PRINT_PX * 3 // 4
    noise = Image.effect_noise((PRINT_PX, tall), 40 + seed)
    noise.convert("RGB").resize((1_600, 1_200)).save(drawn, "JPEG", quality=90)
    return plain_copy(drawn.getvalue(), PRINT_PX, PRINT_QUALITY)


def frozen_joint() -> Evidence:
    book = told("bars")
    names = [hashlib.sha256(f"p{n}".encode()).hexdigest() for n in range(6)]
    for n, side in enumerate(SIDES):
        shown = names[n : n + 1] if n < 3 else names[3:]
        book.at(40).done("bead", by="tamsin", line=side, values={"bead": 1},
                         photos=shown)  # fmt: skip
    book.at(46).release("weight", by="edric")
    photos = {name: photograph(n) for n, name in enumerate(names)}
    return book.evidence(photos=photos)


def sample_joint(folder: Path) -> Evidence:
    main(["demo", "--data", str(folder), "--only-load"])
    door = open_door(folder)
    with connected(door.store):
        reader = running(door, utc_now_ms).reader
        start = time.perf_counter()
        found = gather(reader, "j-w1", utc_now_ms())
        print(
            f"\n  gathered, first time: {1000 * (time.perf_counter() - start):.0f} ms"
        )
        start = time.perf_counter()
        gather(reader, "j-w1", utc_now_ms())
        print(f"  gathered, warm: {1000 * (time.perf_counter() - start):.0f} ms")
    assert found is not None
    photos = {name: photograph(n) for n, name in enumerate(found.photos)}
    return replace(found, photos=photos)


def test_the_record_of_the_frozen_joint_with_six_photographs() -> None:
    _tell("frozen joint", frozen_joint())


def test_the_record_of_the_sample_sites_first_joint(tmp_path: Path) -> None:
    _tell("sample joint", sample_joint(tmp_path / "demo"))


def _tell(name: str, joint: Evidence) -> None:
    pdf = record_pdf(joint)
    view = record_view(joint)
    plain = _plain(joint)
    taken = [(*_measure(lambda: record_pdf(joint)), *_measure(plain))
             for _ in range(TIMES)]  # fmt: skip
    walls, processors, bare, bare_processors = zip(*taken, strict=True)
    start = time.perf_counter()
    record_html(record_view(joint))
    words = time.perf_counter() - start
    start = time.perf_counter()
    verify_record(pdf)
    check = time.perf_counter() - start
    print(
        f"\n{name}: {len(joint.entries)} entries, {len(pages(pdf))} pages,"
        f" {len(view.drawings)} pictures, {len(joint.photos)} photographs,"
        f" {len(pdf) / 1000:.0f} kB (aim {LARGEST_BYTES / 1000:.0f})"
    )
    print(
        f"  set warm, ms: median {median(walls):.0f}, least {min(walls):.0f}, of the"
        f" processor {median(processors):.0f} (aim {WARM_MS})"
    )
    ratios = [p / b for p, b in zip(processors, bare_processors, strict=True)]
    print(
        f"  the same words and pictures as plain paragraphs: median {median(bare):.0f},"
        f" of the processor {median(bare_processors):.0f};"
        f" the record takes {median(ratios):.2f} times that"
    )
    print(f"  of it evidence to pages as text: {1000 * words:.0f}")
    print(f"  checked with nothing but the file, set again: {1000 * check:.0f}")
    assert len(pdf) <= LARGEST_BYTES
    letter = replace(joint, title=replace(joint.title, page="Letter"))
    assert len(pages(pdf)) <= MOST_PAGES
    assert len(pages(record_pdf(letter))) <= MOST_PAGES


def _plain(joint: Evidence) -> Callable[[], object]:
    """Give the setting of a record's words and pictures without any of its form."""
    view = record_view(joint)
    html = record_html(view)
    blocks = re.split(r"</(?:p|td|th|h1|h2|h3|figcaption|div)>", html)
    texts = [" ".join(re.sub(r"<[^>]+>", " ", each).split()) for each in blocks]
    images = _images(joint, view)
    body = "".join(f"<p>{each}</p>" for each in texts if each)
    body += "".join(f'<img src="{name}" alt="">' for name in images)
    library = paper_library()
    sheets = [library.CSS(string=PLAIN)]

    def plain() -> object:
        page = library.HTML(string=body, url_fetcher=_fetcher()(images))
        return page.write_pdf(stylesheets=sheets)

    return plain


def _measure(work: Callable[[], object]) -> tuple[float, float]:
    wall, processor = time.perf_counter(), time.process_time()
    work()
    return (
        1000 * (time.perf_counter() - wall),
        1000 * (time.process_time() - processor),
    )
