"""The contract of what lies beside the ledger: kept as it came, never replaced."""

from typing import Any

import peewee
import pytest

from fieldapp.store.bodies import find_body, keep_body
from fieldapp.store.database import Store, writing
from fieldapp.store.images import ImageFacts
from fieldapp.store.ledger import Signed, keep_receipt, receipts_since
from fieldapp.store.photos import find_photo, keep_photo

REPLACE = "INSERT OR REPLACE INTO"
PICTURE = ImageFacts(type="image/png", width=4, height=3)


@pytest.fixture
def kept(store: Store) -> Store:
    with writing(store):
        keep_receipt(store, "gang", Signed(body="{}", sig="s"), 5)
        keep_body(store, "sheet", b"{}")
        keep_photo(store, "ab" * 32, b"x", facts=PICTURE, device="gang", received=5)
    return store


def everything(store: Store) -> list[Any]:
    return [
        list(store.tables[name].select().tuples())
        for name in ("receipts", "bodies", "photos")
    ]


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM receipts",
        "UPDATE receipts SET sig = 'x'",
        f"{REPLACE} receipts SELECT number, 'x', 1, '{{}}', 's' FROM receipts",
        "DELETE FROM bodies",
        "UPDATE bodies SET body = '[]'",
        f"{REPLACE} bodies SELECT hash, 'table', body FROM bodies",
        "DELETE FROM photos",
        "UPDATE photos SET body = x'00'",
        f"{REPLACE} photos SELECT hash, type, 1, 1, x'00', 'd', 1 FROM photos",
    ],
)
def test_no_statement_changes_what_is_evidence(kept: Store, statement: str) -> None:
    before = everything(kept)
    with pytest.raises(peewee.DatabaseError, match="never"):
        kept.database.execute_sql(statement)
    assert everything(kept) == before


def test_receipts_are_numbered_as_they_were_made(kept: Store) -> None:
    with writing(kept):
        keep_receipt(kept, "own", Signed(body="[]", sig="t"), 6)
    assert [each.sig for each in receipts_since(kept, 0)] == ["s", "t"]
    assert [each.sig for each in receipts_since(kept, 6)] == ["t"]


def test_a_body_is_found_by_its_hash_and_kind_alone(kept: Store) -> None:
    with writing(kept):
        name = keep_body(kept, "table", b'{"x":[]}')
        assert keep_body(kept, "table", b'{"x":[]}') == name
    assert find_body(kept, "table", name) == b'{"x":[]}'
    assert find_body(kept, "sheet", name) is None


def test_a_photo_is_kept_once_as_it_came(kept: Store) -> None:
    with writing(kept):
        again = keep_photo(
            kept, "ab" * 32, b"y", facts=PICTURE, device="own", received=6
        )
    found = find_photo(kept, "ab" * 32)
    assert not again
    assert found is not None
    assert found[1] == b"x"
