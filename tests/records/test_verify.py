"""A record is checked with nothing but its file; whatever was altered is found."""

import json
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from typing import Any

import pikepdf
import pytest

from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.records import record, verify
from fieldapp.records.evidence import Evidence
from fieldapp.records.files import UnreadableFiles, read_files
from fieldapp.records.pdf import PaperUnavailable
from fieldapp.records.record import record_pdf
from fieldapp.records.verify import unpack, verify_record
from fieldapp.signatures import new_key, sign
from tests.records.book import told
from tests.records.paper import PAPER, book, evidence, printed

STORIES = ["good", "empty", "begun", "troubled", "over_time"]

pytestmark = PAPER


@pytest.mark.parametrize("story", STORIES)
def test_an_untouched_record_is_authentic_against_the_sites_key(story: str) -> None:
    found = verify_record(printed(story), book(story).office.id)
    assert found.result == "authentic", found.text
    assert found.pages == "same"
    assert found.entries == len(evidence(story).entries)
    assert book(story).office.id in found.text


def test_without_a_key_held_from_elsewhere_a_record_is_only_consistent() -> None:
    found = verify_record(printed("begun"))
    assert found.result == "consistent"
    assert found.text.startswith("consistent, with site key ")
    assert "as the file states it" in found.text


def test_the_fingerprint_may_be_typed_as_it_is_printed() -> None:
    typed = " ".join(
        book("begun").office.id.upper()[i : i + 8] for i in range(0, 64, 8)
    )
    assert verify_record(printed("begun"), typed).result == "authentic"


def test_another_sites_key_is_a_no() -> None:
    found = verify_record(printed("begun"), new_key().id)
    assert found.result == "no"
    assert "its site key is" in found.text


def test_the_evidence_read_back_is_the_evidence_handed_in() -> None:
    assert read_files(unpack(printed("troubled"))) == evidence("troubled")


@pytest.mark.parametrize("bytes_", [b"", b"%PDF-1.7", b"no paper at all"])
def test_what_is_no_pdf_is_a_no(bytes_: bytes) -> None:
    assert verify_record(bytes_).result == "no"


def test_a_pdf_without_evidence_is_a_no() -> None:
    empty = pikepdf.new()
    empty.add_blank_page()
    found = verify_record(saved(empty))
    assert found.result == "no"
    assert "record.json: not in the record" in found.text


def test_a_changed_attachment_is_found_by_its_hash() -> None:
    def change(attached: dict[str, bytes]) -> None:
        attached["sheet.json"] = attached["sheet.json"].replace(
            b"Joint W1", b"Joint W2"
        )

    found = verify_record(altered(printed("begun"), change))
    assert found.result == "no"
    assert "sheet.json: not the file that was listed" in found.text


def test_a_changed_reading_is_found_though_all_hashes_were_mended() -> None:
    def change(attached: dict[str, bytes]) -> None:
        attached["entries.jsonl"] = attached["entries.jsonl"].replace(
            rb"\"air\":165", rb"\"air\":185"
        )

    found = verify_record(altered(printed("begun"), mended(change)))
    assert found.result == "no"
    assert "the signature does not hold" in found.text or "chain" in found.text


def forge_page(pdf: bytes) -> bytes:
    """Put other words on the first page and leave the evidence as it is."""
    opened = pikepdf.open(BytesIO(pdf))
    page = opened.pages[0]
    page.contents_add(b"BT /F0 12 Tf 100 100 Td (All is well) Tj ET")
    return saved(opened)


def test_a_changed_page_is_found_by_setting_it_again() -> None:
    found = verify_record(forge_page(printed("begun")), book("begun").office.id)
    assert found.result == "no"
    assert found.pages == "other"


def test_where_paper_cannot_be_set_the_verdict_says_pages_were_not_compared(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def nothing(_evidence: Evidence) -> bytes:
        raise PaperUnavailable("no libraries")

    monkeypatch.setattr(verify, "record_pdf", nothing)
    found = verify_record(printed("begun"))
    assert found.result == "consistent"
    assert "the pages were not compared with its evidence" in found.text


def test_a_record_set_by_another_version_is_not_compared_page_by_page(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    pdf = printed("begun")
    monkeypatch.setattr(record, "__version__", "99.0")
    found = verify_record(forge_page(pdf))
    assert found.pages == "not compared"
    assert "not compared" in found.text


def _unknown_signer(mine: Evidence) -> Evidence:
    """Sign the last entry again with a key nobody enrolled."""
    stranger = new_key()
    row = mine.entries[-1]
    body = canonical({**json.loads(row.body), "key": stranger.id})
    forged = replace(row, body=body.decode(), sig=sign(stranger, body))
    return replace(mine, entries=(*mine.entries[:-1], forged))


def _left_out(mine: Evidence) -> Evidence:
    """Leave an entry out and number the others on, chain as it was."""
    kept = mine.entries[:3] + tuple(
        replace(row, index=row.index - 1) for row in mine.entries[4:]
    )
    return replace(mine, entries=kept)


def _swapped_signature(mine: Evidence) -> Evidence:
    first, second, *rest = mine.entries
    swapped = (replace(first, sig=second.sig), replace(second, sig=first.sig), *rest)
    return replace(mine, entries=swapped)


def _own_roster(mine: Evidence) -> Evidence:
    """Enrol oneself with a key that is not the site's."""
    stranger = new_key()
    row = mine.office[1]
    forged = replace(row, sig=sign(stranger, row.body.encode()))
    return replace(mine, office=(mine.office[0], forged, *mine.office[2:]))


def _milder_sheet(mine: Evidence) -> Evidence:
    sheet: dict[str, Any] = json.loads(json.dumps(mine.sheet))
    sheet["points"]["mixing"]["requires"] = []
    return replace(mine, sheet=sheet)


def _other_table(mine: Evidence) -> Evidence:
    """Let the dew point table end in another figure."""
    key = mine.sheet["tables"]["dew-point"]
    table: dict[str, Any] = json.loads(json.dumps(mine.tables[key]))
    table["v"][-1][-1] += 1
    return replace(mine, tables={**mine.tables, key: table})


@pytest.mark.parametrize(
    ("forge", "words"),
    [
        (_unknown_signer, "chain does not hold"),
        (_left_out, "chain does not hold"),
        (_swapped_signature, "the signature does not hold"),
        (_own_roster, "the site's key did not sign"),
        (_milder_sheet, "is not the last one issued"),
        (_other_table, "is not the one its name says"),
    ],
)
def test_forged_evidence_is_a_no_though_its_pages_were_set_from_it(
    forge: Callable[[Evidence], Evidence], words: str
) -> None:
    found = verify_record(record_pdf(forge(told("kits").evidence())))
    assert found.result == "no"
    assert words in found.text, found.text


def test_a_key_enrolled_for_somebody_else_does_not_sign() -> None:
    mine = told("kits").evidence()
    rows = list(mine.entries)
    as_other = canonical({**json.loads(rows[-1].body), "person": "edric"})
    rows[-1] = replace(rows[-1], body=as_other.decode())
    office = tuple(replace(row, index=row.index) for row in mine.office)
    # Alone at the end of the ledger no neighbour's hash gives it away.
    rows[-1] = replace(rows[-1], index=rows[-1].index + 5)
    found = verify_record(record_pdf(replace(mine, entries=tuple(rows), office=office)))
    assert found.result == "no"
    assert "its key is not enrolled for edric" in found.text


def test_a_receipt_is_checked_and_a_forged_one_is_a_no() -> None:
    story = told("mixing")
    good = story.evidence(receipts=(story.receipt(),))
    assert verify_record(record_pdf(good)).result == "consistent"
    forged = replace(
        good.receipts[0], sig=sign(new_key(), good.receipts[0].body.encode())
    )
    found = verify_record(record_pdf(replace(good, receipts=(forged,))))
    assert "a receipt is not signed with the site's key" in found.text


def test_what_other_subjects_said_is_named_as_taken_as_stated() -> None:
    standing = {"subjects": {"j-w2": {"milestones": {}}}, "items": {}}
    found = verify_record(record_pdf(told("mixing").evidence(standing=standing)))
    assert found.result == "consistent"
    assert any("other subjects" in each for each in found.limits)


def test_a_revoked_keys_entries_are_named() -> None:
    story = told("mixing")
    key = story.phones["gang-1"].key_of("tamsin").id
    story.office_says(
        "key_revoked", {"person": "tamsin", "key": key, "reason": "Phone lost"}
    )
    found = verify_record(record_pdf(story.evidence()))
    assert found.result == "consistent"
    assert any("before their key was revoked" in each for each in found.limits)


def test_files_missing_or_not_listed_are_named() -> None:
    attached = unpack(printed("begun"))
    with pytest.raises(UnreadableFiles, match=r"tables.json: listed, but not"):
        read_files({n: c for n, c in attached.items() if n != "tables.json"})
    with pytest.raises(UnreadableFiles, match=r"more.txt: in the record, but not"):
        read_files({**attached, "more.txt": b"x"})


def test_nonsense_signed_with_ones_own_key_is_a_no_and_no_crash() -> None:
    def change(attached: dict[str, bytes]) -> None:
        attached["sheet.json"] = b"[]"

    assert verify_record(altered(printed("begun"), mended(change))).result == "no"


def altered(pdf: bytes, change: Callable[[dict[str, bytes]], None]) -> bytes:
    """Give a PDF with its attachments changed."""
    attached = unpack(pdf)
    change(attached)
    opened = pikepdf.open(BytesIO(pdf))
    for spec in opened.Root.AF:
        stream = spec.EF.F
        stream.write(attached[str(spec.UF)])
    return saved(opened)


def mended(change: Callable[[dict[str, bytes]], None]) -> Any:
    """Change files and list their new hashes, as a forger would."""

    def both(attached: dict[str, bytes]) -> None:
        change(attached)
        listed = json.loads(attached["record.json"])
        listed["files"] = {n: sha256_hex(attached[n]) for n in listed["files"]}
        attached["record.json"] = canonical(listed)

    return both


def saved(pdf: pikepdf.Pdf) -> bytes:
    out = BytesIO()
    pdf.save(out)
    return out.getvalue()
