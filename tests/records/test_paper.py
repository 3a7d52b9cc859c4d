"""A machine that cannot set paper, and paper that asks for things from outside."""

import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from fieldapp.records import pages
from fieldapp.records import pdf as paper
from fieldapp.records.pdf import NEEDED, Pages, PaperUnavailable, set_pdf
from fieldapp.records.record import record_pdf
from tests.records.paper import PAPER, evidence

pytestmark = PAPER
PAGE = Pages(html="<p>one line</p>", style="", size="A4", created_ms=0, files=())


@pytest.fixture
def fresh_library() -> Iterator[None]:
    """Forget the library before and after, as a new process would."""
    paper.paper_library.cache_clear()
    yield
    paper.paper_library.cache_clear()


class _Broken:
    """Stands in the way of an import, as a missing system library does."""

    def find_spec(self, name: str, *_rest: object) -> Any:
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'")


@pytest.mark.usefixtures("fresh_library")
def test_missing_system_libraries_are_named_with_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delitem(sys.modules, "weasyprint", raising=False)
    monkeypatch.setattr(sys, "meta_path", [_Broken(), *sys.meta_path])
    with pytest.raises(PaperUnavailable) as caught:
        record_pdf(evidence("empty"))
    assert "libpango-1.0-0" in str(caught.value)
    assert NEEDED in str(caught.value)


@pytest.mark.usefixtures("fresh_library")
def test_a_missing_package_is_the_same_clear_error(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    with pytest.raises(PaperUnavailable, match="records cannot be printed here"):
        record_pdf(evidence("empty"))


def test_a_site_starts_without_touching_the_pdf_library() -> None:
    script = (
        "import sys\nimport fieldapp.app, fieldapp.cli, fieldapp.records.gather\n"
        "sys.exit('weasyprint' in sys.modules or 'pypdf' in sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", script], check=False)
    assert done.returncode == 0


def test_a_machine_without_the_typeface_is_told_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(paper, "FONT", "A-Typeface-Nobody-Has")
    with pytest.raises(PaperUnavailable, match="the typeface is missing"):
        set_pdf(PAGE)


@pytest.mark.parametrize(
    "html",
    [
        '<img src="https://example.org/spy.png">',
        '<img src="file:///etc/hostname">',
        '<link rel="attachment" href="file:///etc/hostname">',
        '<link rel="stylesheet" href="https://example.org/spy.css">',
    ],
)
def test_a_page_that_asks_for_anything_from_outside_is_not_set(html: str) -> None:
    from weasyprint.urls import FatalURLFetchingError

    with pytest.raises(FatalURLFetchingError, match="a record fetches nothing"):
        set_pdf(replace(PAGE, html=html))


def test_code_that_words_a_page_otherwise_is_another_version(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    here = Path(pages.__file__).parent.parent
    copy = tmp_path / "fieldapp"
    for part in pages.FILLING:
        shutil.copytree(here / part, copy / part)
    shutil.copytree(pages.folder(), copy / "templates" / "records")
    monkeypatch.setattr(pages, "__file__", str(copy / "records" / "pages.py"))
    look = pages.look.__wrapped__
    before = look()
    assert look() == before
    for changed in (
        "records/view.py",
        "core/words.json",
        "templates/records/first.html",
    ):
        file = copy / changed
        file.write_bytes(file.read_bytes() + b"\n")
        now = look()
        assert now != before, changed
        before = now
