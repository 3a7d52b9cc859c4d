"""The dossier: archived bytes as they were kept, its contents, and its proof."""

from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from pypdf import PdfWriter
from pypdf.annotations import Rectangle

from fieldapp.cli import main
from fieldapp.records.verify_dossier import is_dossier, verify_dossier
from fieldapp.store.archive import revisions_of
from fieldapp.store.database import connected
from tests.people import NOON, SUBJECT, Stage, put_in_force, sheet, stage, wiped
from tests.records.paper import PAPER, opened, pages
from tests.records.test_revisions import archive_now, corrected, kept

pytestmark = PAPER
Out = pytest.CaptureFixture[str]
OTHER = "J2"
PIERS = [{"id": "p1", "title": "Pier 1", "at": 0, "half": 2_000, "level": 0,
          "arms": []}]  # fmt: skip


@pytest.fixture
def site(tmp_path: Path) -> Stage:
    """Give a site of two subjects, one of them begun, at one pier of two."""
    made = stage(tmp_path / "data")
    subjects = [
        {"id": each, "title": f"Joint {n}", "kind": "tie", "pier": "p1"}
        for n, each in enumerate((SUBJECT, OTHER), 1)
    ]
    other = sheet(subject=OTHER, title="Joint 2")
    phone = made.phone()
    with connected(made.wired.door.store):
        put_in_force(
            made.wired.door, sheet(), other, subjects=subjects,
            piers=[*PIERS, {**PIERS[0], "id": "p2", "title": "Pier 2", "at": 9_000}],
        )  # fmt: skip
        wiped(phone)
        made.world.sync(phone, NOON)
    return made


def dossier(site: Stage, file: Path, *what: str) -> int:
    return main(["dossier", *what, "--pdf", str(file), "--data", str(site.data)])


def test_an_archived_record_goes_in_as_it_was_kept(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    archive_now(site)
    corrected(site)
    file = tmp_path / "p1.pdf"
    assert dossier(site, file, "p1") == 0
    assert "out of date: 1 entry since revision 1" in capsys.readouterr().out
    pdf = opened(file.read_bytes())
    name = f"{SUBJECT}-revision-1.pdf"
    assert pdf.attachments[name].get_file().read_bytes() == kept(site, 1)
    read = pages(file.read_bytes())
    assert "Dossier: Pier 1" in read[0]
    with connected(site.wired.door.store):
        (kept_as,) = revisions_of(site.wired.door.store, SUBJECT)
    at = kept_as.said["last"]
    assert f"The ledger stood at index {at} for every record" in read[0]
    assert f"ledger at {at}" in read[1], "as it was archived, not as it stands now"
    assert f"Pages in this file {len(read)}" in read[0]
    assert "out of date: 1 entry since revision 1" in read[1]
    assert "Not begun: 1 Joint 2" in read[1]
    assert read[2:] == pages(kept(site, 1))


def test_what_is_not_archived_is_printed_and_said_to_be_a_print(
    site: Stage, tmp_path: Path
) -> None:
    file = tmp_path / "all.pdf"
    assert dossier(site, file, "--all", "--paper", "letter") == 0
    read = pages(file.read_bytes())
    assert "Dossier: the whole site" in read[0]
    assert "a print: not archived" in read[1]
    assert "print, not archived" in read[2]
    pdf = opened(file.read_bytes())
    assert [int(side) for side in pdf.pages[0].MediaBox[2:]] == [612, 792]


def test_a_dossier_proves_every_record_and_its_pages(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    archive_now(site)
    file = tmp_path / "p1.pdf"
    dossier(site, file, "p1")
    assert is_dossier(file.read_bytes())
    assert not is_dossier(kept(site, 1))
    assert not is_dossier(b"no PDF")
    assert main(["verify", str(file), "--data", str(site.data)]) == 0
    said = capsys.readouterr().out
    assert f"{SUBJECT}-revision-1.pdf: consistent" in said
    assert f"{SUBJECT}-revision-1.pdf: archive: byte for byte revision 1" in said
    assert "NOT compared: cover and contents, pages 1 to 2\n" in said
    assert "records that hold, each with its pages here: 1 of 1" in said


def test_a_dossier_with_another_page_or_file_is_found(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file = tmp_path / "p1.pdf"
    dossier(site, file, "p1")
    with pikepdf.open(file, allow_overwriting_input=True) as pdf:
        drawn = pdf.pages[2].Contents
        drawn.write(drawn.read_bytes().replace(b" re", b" re ", 1) + b" ")
        pdf.save()
    assert main(["verify", str(file)]) == 1
    assert "from page 3 on, are not its own" in capsys.readouterr().out
    changed = BytesIO()
    with pikepdf.open(file) as pdf:
        del pdf.pages[-1]
        pdf.attachments["more.txt"] = b"more"
        pdf.save(changed)
    faults = verify_dossier(changed.getvalue()).faults
    assert faults == (
        "the files attached are not those listed",
        "there are pages that belong to no record",
    )


def test_what_is_laid_over_a_page_is_found(site: Stage, tmp_path: Path) -> None:
    """The file is added to, so that all else in it stays as it was."""
    file = tmp_path / "p1.pdf"
    dossier(site, file, "p1")
    verdicts = []
    for wanted in ((), (Rectangle(rect=(0, 0, 500, 500)),)):
        whole = PdfWriter(BytesIO(file.read_bytes()), incremental=True)
        for laid in wanted:
            whole.add_annotation(2, laid)
        added = BytesIO()
        whole.write(added)
        verdicts.append(verify_dossier(added.getvalue()).holds)
    assert verdicts == [True, False]


@pytest.mark.parametrize(
    ("what", "said"),
    [("p9", "pier p9: allowed: p1, p2"), ("p2", "nothing was begun there")],
)
def test_a_dossier_of_nothing_is_refused_and_leaves_nothing(
    site: Stage, tmp_path: Path, capsys: Out, what: str, said: str
) -> None:
    (tmp_path / "out").mkdir()
    assert dossier(site, tmp_path / "out" / "x.pdf", what) == 2
    assert said in capsys.readouterr().err
    assert not list((tmp_path / "out").iterdir())
