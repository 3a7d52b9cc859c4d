"""How long a joint's record takes to set, warm, with pictures and photographs.

Run by name: sh tests/run.sh tests/bench/test_record.py -s
Printed only, but for the size. Wall time beside processor time, since the machine may
be busy with other work. One joint is the frozen one with six photographs; the other is
the sample site's first, gathered from its played history and folded anew each time.
"""

import hashlib
import time
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
from fieldapp.records.record import record_html, record_pdf
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
    walls, processors = zip(*(_measure(joint) for _ in range(TIMES)), strict=True)
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
    print(f"  of it evidence to pages as text: {1000 * words:.0f}")
    print(f"  checked with nothing but the file, set again: {1000 * check:.0f}")
    assert len(pdf) <= LARGEST_BYTES


def _measure(joint: Evidence) -> tuple[float, float]:
    wall, processor = time.perf_counter(), time.process_time()
    record_pdf(joint)
    return (
        1000 * (time.perf_counter() - wall),
        1000 * (time.process_time() - processor),
    )
