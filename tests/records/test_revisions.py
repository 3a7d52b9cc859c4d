"""The archive: bytes that stay, revisions that name the ones before, and its proofs."""

import json
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from fieldapp.cli import main
from fieldapp.config import DATABASE
from fieldapp.core.canonical import fingerprint, sha256_hex
from fieldapp.intake.archive import Archiver, Kept, Overtaken, take_into_archive
from fieldapp.lookups import folded
from fieldapp.lookups.archive import CURRENT, NONE, OUTDATED, Archived, archived
from fieldapp.records.archive import Outcome, archive
from fieldapp.records.archiving import complete_and_wanting
from fieldapp.records.files import LIST
from fieldapp.records.revisions import since_told
from fieldapp.records.verify import CONSISTENT, unpack, verify_record
from fieldapp.store.accounts import Account, set_account
from fieldapp.store.archive import revision_bytes, revisions_of
from fieldapp.store.database import connected, writing
from tests.audit.tampering import by_hand
from tests.people import FOREMAN, NOON, SUBJECT, Stage, sheet, stage, wiped
from tests.records.paper import PAPER, pages

pytestmark = PAPER
Out = pytest.CaptureFixture[str]
MINUTE_MS = 60_000
QA = Archiver(account="odalys", person=FOREMAN, session="0123456789abcdef")


@pytest.fixture
def site(tmp_path: Path) -> Stage:
    """Give the small site with its first step recorded."""
    made = stage(tmp_path / "data")
    phone = made.phone()
    with connected(made.wired.door.store):
        wiped(phone)
        made.world.sync(phone, NOON)
    made.now += MINUTE_MS
    return made


def corrected(site: Stage) -> None:
    """Correct the reading, a minute later."""
    phone = site.world.phones["gang"]
    first = next(e for e in phone.entries.values() if e.kind == "done")
    site.now += MINUTE_MS
    with connected(site.wired.door.store):
        phone.write(
            "correction", person=FOREMAN, now=site.now, subject=SUBJECT, step="wipe",
            sheet=fingerprint(sheet()), values={"temp": 225},
            about={"target": first.id, "reason": "one too low"},
        )  # fmt: skip
        site.world.sync(phone, site.now)


def archive_now(site: Stage) -> Outcome:
    wired = site.wired
    with connected(wired.door.store):
        done = archive(wired.door, wired.reader, SUBJECT, site.now, by=QA)
    assert done is not None
    return done


def kept(site: Stage, revision: int) -> bytes:
    with connected(site.wired.door.store):
        found = revision_bytes(site.wired.door.store, SUBJECT, revision)
    assert found is not None
    return found


def told(site: Stage) -> tuple[str, str]:
    """Give how the subject stands in the archive, as a word and as told."""
    reader = site.wired.reader
    with connected(reader.store):
        found = folded(reader, SUBJECT, site.now)
        assert found is not None
        known = archived(reader, found)
    return known.status, since_told(known)


def test_what_says_nothing_new_is_not_archived_again(site: Stage) -> None:
    assert told(site) == (NONE, "not archived")
    first = archive_now(site)
    site.now += 90 * MINUTE_MS
    again = archive_now(site)
    assert (first.made, again.made) == (True, False)
    assert again.revision == first.revision
    assert told(site) == (CURRENT, "revision 1 says all there is")


def test_an_incomplete_subject_is_archived_and_says_so(site: Stage) -> None:
    done = archive_now(site)
    assert done.revision.said["verdict"] == "incomplete"
    first = pages(kept(site, 1))[0]
    assert "incomplete" in first
    assert "Revision 1, archived" in first
    assert "In place of" not in first


def test_a_later_entry_makes_a_revision_that_names_the_one_before(site: Stage) -> None:
    archive_now(site)
    before = kept(site, 1)
    corrected(site)
    assert told(site) == (OUTDATED, "out of date: 1 entry since revision 1")
    assert archive_now(site).revision.revision == 2
    first = pages(kept(site, 2))[0]
    assert "Revision 2, archived, in place of revision 1" in first
    assert sha256_hex(before) in first.replace(" ", "")
    assert "Entries since revision 1: 1" in first
    assert "one too low" in first
    assert "tarn-J1, revision 2" in first
    assert kept(site, 1) == before, "archived bytes are never set again"
    documents = {json.loads(unpack(kept(site, n))[LIST])["title"]["document"]
                 for n in (1, 2)}  # fmt: skip
    assert documents == {"tarn-J1"}


def test_who_archived_and_when_stands_in_the_statement_and_the_file(
    site: Stage,
) -> None:
    said = archive_now(site).revision.said
    assert (said["account"], said["session"]) == (QA.account, QA.session)
    assert (said["at"], said["hash"]) == (site.now, sha256_hex(kept(site, 1)))
    in_file = json.loads(unpack(kept(site, 1))[LIST])["archive"]
    assert (in_file["account"], in_file["at"]) == (QA.account, site.now)
    assert "account odalys, session 0123456789abcdef" in " ".join(pages(kept(site, 1)))


def test_verify_says_which_revision_a_file_is(site: Stage) -> None:
    archive_now(site)
    corrected(site)
    archive_now(site)
    verdict = verify_record(kept(site, 2))
    assert verdict.result == CONSISTENT
    assert verdict.pages == "same"
    assert "tarn-J1, revision 2, archived" in verdict.revision
    assert f"in place of revision 1 (SHA-256 {sha256_hex(kept(site, 1))})" in (
        verdict.revision
    )


def test_two_who_archive_at_once_make_no_gap_and_lose_nothing(site: Stage) -> None:
    archive_now(site)
    late = Kept(
        subject=SUBJECT, revision=1, document="tarn-J1", verdict="incomplete",
        as_of=site.now, entries=1, last=1, head="", sheet="", photos=0, basis="",
        pdf=b"late",
    )  # fmt: skip
    store = site.wired.door.store
    with connected(store):
        with pytest.raises(Overtaken):
            take_into_archive(site.wired.door, late, QA, site.now)
        assert [each.revision for each in revisions_of(store, SUBJECT)] == [1]


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE revisions SET pdf = x'00'",
        "DELETE FROM revisions",
        "INSERT OR REPLACE INTO revisions SELECT * FROM revisions",
        "INSERT INTO revisions SELECT 2, subject, 3, '', '', '', '', '' FROM revisions",
    ],
)
def test_the_archive_is_only_ever_added_to(site: Stage, statement: str) -> None:
    archive_now(site)
    hand = sqlite3.connect(site.data / DATABASE)
    with pytest.raises(sqlite3.IntegrityError, match="revisions"):
        hand.execute(statement)
    hand.close()


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE revisions SET pdf = x'00' WHERE number = 1", "not those that were"),
        ("DELETE FROM revisions WHERE number = 1", "number 1 is missing"),
        ("UPDATE revisions SET subject = 'J2' WHERE number = 2", "column subject"),
        ("UPDATE revisions SET basis = '' WHERE number = 2", "column basis"),
    ],
)
def test_check_finds_a_hand_in_the_archive(
    site: Stage, capsys: Out, statement: str, said: str
) -> None:
    archive_now(site)
    corrected(site)
    archive_now(site)
    assert main(["check", "--data", str(site.data)]) == 0
    assert "2 archived" in capsys.readouterr().out
    with by_hand(site.data / DATABASE) as hand:
        hand.execute(statement)
    assert main(["check", "--data", str(site.data)]) == 1
    assert said in capsys.readouterr().out


def test_a_backup_carries_the_archive(site: Stage, tmp_path: Path) -> None:
    archive_now(site)
    before = kept(site, 1)
    file, new = tmp_path / "copy.db", tmp_path / "new"
    assert main(["backup", str(file), "--data", str(site.data)]) == 0
    assert main(["restore", str(file), "--data", str(new)]) == 0
    out = tmp_path / "out.pdf"
    asked = ["record", SUBJECT, "--revision", "1", "--pdf", str(out)]
    assert main([*asked, "--data", str(new)]) == 0
    assert out.read_bytes() == before


def test_a_restore_names_the_records_archived_since_the_backup(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    """Their numbers will be given again: whoever holds the files must know."""
    archive_now(site)
    file, where = tmp_path / "copy.db", ("--data", str(site.data))
    assert main(["backup", str(file), *where]) == 0
    corrected(site)
    archive_now(site)
    assert main(["restore", str(file), *where, "--over"]) == 0
    said = capsys.readouterr().out
    assert "not in force any more: J1 revision 2" in said
    assert "not in force any more: J1 revision 1" not in said


def test_who_has_no_account_of_the_office_is_told_how_to_make_one(
    site: Stage, capsys: Out
) -> None:
    where = ("--data", str(site.data))
    assert main(["person", "add-account", FOREMAN, *where]) == 0
    asked = ["record", SUBJECT, "--archive", "--account", FOREMAN, *where]
    assert main(asked) == 2
    assert "add-account PERSON --office makes one" in capsys.readouterr().err
    assert main(["person", "add-account", FOREMAN, "--office", *where]) == 0
    assert main(asked) == 0


def test_the_command_archives_lists_writes_and_refuses(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    store = site.wired.door.store
    with connected(store), writing(store):
        account = Account(name="odalys", person=FOREMAN, office=True)
        set_account(store, account, "granite and lime", NOON)
    file, where = tmp_path / "out.pdf", ("--data", str(site.data))
    assert main(["record", SUBJECT, "--archive", *where]) == 2
    assert "--account missing: allowed: odalys" in capsys.readouterr().err
    by = ("--account", "odalys")
    assert main(["record", SUBJECT, "--archive", *by, "--pdf", str(file), *where]) == 0
    assert file.read_bytes() == kept(site, 1)
    assert main(["record", SUBJECT, "--list", *where]) == 0
    assert "revision 1 says all there is" in capsys.readouterr().out
    assert main(["verify", str(file), *where]) == 0
    assert "byte for byte revision 1 of J1; the last one" in capsys.readouterr().out
    asked = ["record", SUBJECT, "--revision", "2", "--pdf", str(file), *where]
    assert main(asked) == 2
    assert "--revision 2: allowed: 1" in capsys.readouterr().err
    assert main(["record", SUBJECT, *where]) == 2
    assert "--pdf FILE" in capsys.readouterr().err
    assert main(["record", SUBJECT, "--pdf", str(file), *by, *where]) == 2
    assert "--account NAME: only with --archive" in capsys.readouterr().err
    wrong = (
        (["--archive", *by], "which subject?"),
        (["--all-complete", "--pdf", str(file)], "--all-complete: only with"),
        ([SUBJECT, "--archive", "--all-complete", *by], "names no subject"),
        ([SUBJECT, SUBJECT, "--list"], "one subject at a time"),
        ([SUBJECT, "J9", "--archive", *by], "subject J9: allowed: J1"),
    )
    for asked, told in wrong:
        assert main(["record", *asked, *where]) == 2, asked
        assert told in capsys.readouterr().err
    assert main(["record", SUBJECT, SUBJECT, "--archive", *by, *where]) == 0
    assert capsys.readouterr().out.count("archived before, and nothing came") == 2
    assert main(["record", "--archive", "--all-complete", *by, *where]) == 0
    assert "nothing to archive" in capsys.readouterr().out


def test_complete_is_what_is_done_and_stands_and_not_yet_archived(site: Stage) -> None:
    with connected(site.wired.door.store):
        found = folded(site.wired.reader, SUBJECT, site.now)
        assert found is not None
        known = {SUBJECT: archived(site.wired.reader, found)}
    for verdict, wanted in (
        ("complete", [SUBJECT]), ("concession", [SUBJECT]),
        ("incomplete", []), ("rejected", []),
    ):  # fmt: skip
        now = replace(found, state={**found.state, "verdict": verdict})
        assert complete_and_wanting([now], known) == wanted
    kept_now = Archived(last=archive_now(site).revision, since=None)
    done = replace(found, state={**found.state, "verdict": "complete"})
    assert complete_and_wanting([done], {SUBJECT: kept_now}) == []
