"""The phone's shell: one page for everybody, every file listed with its hash."""

import hashlib
import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

import pytest

from fieldapp.web.shell import FIRST, HELD, JOINED, LIST
from tests.desk import Desk, desk
from tests.sources import script_imports, texts_of, without_comments

STATIC = Path(__file__).resolve().parents[2] / "static"
IMPORTS = re.compile(r"^import [^;]*;\n", re.MULTILINE)


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    return desk(tmp_path)


def files_of(page: Desk) -> list[str]:
    """Give the addresses a first start needs, as the worker lists them."""
    return listed(page, "FILES")  # type: ignore[no-any-return]


def listed(page: Desk, name: str) -> Any:
    text = page.client.get("/phone/sw.js").text
    found = re.search(rf"^const {name} = (.*);$", text, re.MULTILINE)
    assert found is not None
    return json.loads(found[1])


def later_of(page: Desk) -> Any:
    """Give what comes after the first screen, as its list says."""
    return json.loads(page.client.get(LIST).data)


def test_the_worker_has_a_fixed_name_and_is_never_kept(page: Desk) -> None:
    answer = page.client.get("/phone/sw.js")
    assert answer.mimetype == "text/javascript"
    assert answer.headers["Cache-Control"] == "no-cache"
    assert not re.search(r"/\*[A-Z]+\*/", answer.text)


def test_the_version_is_the_hash_of_every_byte_that_is_served(page: Desk) -> None:
    later = later_of(page)
    now = {}
    for address in [*files_of(page), *later]:
        answer = page.client.get(address)
        assert answer.status_code == 200, address
        found = hashlib.sha256(answer.data).hexdigest()
        if address in later:
            assert found.startswith(later[address]), address
        else:
            now[address] = found
    assert "/phone/" in now
    known = hashlib.sha256(page.client.get(LIST).data).hexdigest()
    assert listed(page, "LATER") == known
    told = json.dumps(
        {"later": known, "now": now}, sort_keys=True, separators=(",", ":")
    )
    version = hashlib.sha256(told.encode()).hexdigest()
    assert listed(page, "VERSION") == version[:16]


def test_what_no_first_screen_needs_comes_later(page: Desk) -> None:
    later = later_of(page)
    assert "/phone/screens/icons/icon-512.png" in later
    assert not {LIST, *later} & set(files_of(page))
    assert {FIRST, HELD, *JOINED} <= set(files_of(page))
    # What is joined for the first start need not come once more.
    assert "/phone/screens/words.en.js" in later


def test_every_script_of_the_phone_is_listed(page: Desk) -> None:
    files = {*files_of(page), *later_of(page)}
    for folder, served in (
        ("core", "core"),
        ("device", "device"),
        ("phone", "screens"),
    ):
        for path in (STATIC / folder).rglob("*.js"):
            if path.name != "sw.js":
                inside = path.relative_to(STATIC / folder).as_posix()
                assert f"/phone/{served}/{inside}" in files
    assert "/phone/core/kinds.json" in files
    assert "/phone/core/words.json" in files
    assert "/phone/css/desk.css" not in files


def test_a_changed_file_changes_the_worker_and_its_version(
    page: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = tmp_path / "static"
    for folder in ("core", "device", "phone", "css"):
        (copy / folder).mkdir(parents=True)
    (copy / "phone" / "sw.js").write_text(
        "const VERSION = /*VERSION*/;\nconst FILES = /*FILES*/;\n"
        "const LATER = /*LATER*/;\n"
    )
    (copy / "phone" / "main.js").write_text("one")
    monkeypatch.setattr(page.app, "static_folder", str(copy))
    before = page.client.get("/phone/sw.js").text
    assert page.client.get("/phone/sw.js").text == before
    (copy / "phone" / "main.js").write_text("two")
    after = page.client.get("/phone/sw.js").text
    assert before.split(";")[0] != after.split(";")[0]


def test_what_is_compressed_is_the_same_when_unpacked(page: Desk) -> None:
    plain = page.client.get("/phone/core/words.json")
    packed = page.client.get(
        "/phone/core/words.json", headers={"Accept-Encoding": "gzip"}
    )
    assert packed.headers["Content-Encoding"] == "gzip"
    assert len(packed.data) < len(plain.data)
    import gzip

    assert gzip.decompress(packed.data) == plain.data


def test_the_page_of_the_phone_is_the_same_for_everybody(page: Desk) -> None:
    before = page.client.get("/phone/").data
    page.sign_in()
    assert page.client.get("/phone/").data == before
    assert "csrf" not in page.client.get("/phone/").text


@pytest.mark.parametrize("address", ["/phone/manifest", "/phone/manifest.webmanifest"])
def test_the_manifest_stays_within_the_phones_scope(page: Desk, address: str) -> None:
    answer = page.client.get(address)
    assert answer.mimetype == "application/manifest+json"
    told = json.loads(answer.data)
    assert told["scope"] == "/phone/"
    assert told["start_url"].startswith("/phone/")


def test_scripts_are_served_without_their_comments_and_otherwise_unchanged(
    page: Desk,
) -> None:
    joined = [
        line
        for address in (FIRST, *JOINED)
        for line in page.client.get(address).text.split("\n")
    ]
    for folder, served in (
        ("core", "core"),
        ("device", "device"),
        ("phone", "screens"),
    ):
        for path in (STATIC / folder).rglob("*.js"):
            if path.name == "sw.js":
                continue
            source = path.read_text("utf-8")
            inside = path.relative_to(STATIC / folder).as_posix()
            got = page.client.get(f"/phone/{served}/{inside}").text
            assert not re.search(r"^\s*//", got, re.MULTILINE), path
            # Imports are bound otherwise; every other line of the code is there, in
            # its order, in the script itself or in the one it is joined to.
            served_lines = joined if "export const {" in got else got.split("\n")
            lines = iter([line.removeprefix("export ") for line in served_lines])
            for line in code_lines(source):
                assert line in lines, (path, line)


def code_lines(source: str) -> list[str]:
    """Lines of code without what the joining of scripts rewrites."""
    plain = IMPORTS.sub("", without_comments(source))
    plain = re.sub(r"^export (?:\{[^}]*\};\n)?", "", plain, flags=re.MULTILINE)
    lines = (line.strip() for line in plain.split("\n"))
    return [line for line in lines if line and "import(" not in line]


def test_no_text_of_a_script_runs_over_the_end_of_a_line() -> None:
    # Scripts are served without the blanks their lines begin with.
    assert [
        text
        for folder in ("core", "device", "phone")
        for path in (STATIC / folder).rglob("*.js")
        for text in texts_of(path.read_text("utf-8"))
        if "\n" in text
    ] == []
    assert "\n" in texts_of("const text = `one\n  two`;")[0]


def test_what_a_start_needs_waits_for_nothing_that_comes_later(page: Desk) -> None:
    later = later_of(page)
    needed = [name for name in files_of(page) if name.endswith(".js")]
    for name in needed:
        source = page.client.get(name).text
        plain = re.sub(r"\bimport\([^)]*\)", "", source)
        for wanted in script_imports(plain):
            assert urljoin(name, wanted) not in later, (name, wanted)


def test_that_check_finds_a_comment_in_a_text(
    page: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    source = "const text = `\n// not a comment\n`;\n"
    (tmp_path / "phone").mkdir()
    (tmp_path / "phone" / "planted.js").write_text(source)
    monkeypatch.setattr(page.app, "static_folder", str(tmp_path))
    got = page.client.get("/phone/screens/planted.js").text
    assert without_comments(got).split() != without_comments(source).split()
