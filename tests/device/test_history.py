"""The phone's judgement of the office's history, against hashes worked out here."""

import hashlib
from typing import Any

import pytest

from fieldapp.core.canonical import canonical
from fieldapp.signatures import new_key, sign
from tests.javascript import JavaScript

MODULE = "tests/js/history_calls.js"
IDS = [f"{number:064x}" for number in range(1, 6)]


def heads(ids: list[str]) -> list[dict[str, Any]]:
    """Work the heads out as the protocol page says."""
    head, found = "0" * 64, []
    for place, each in enumerate(ids, 1):
        head = hashlib.sha256((head + each).encode()).hexdigest()
        found.append({"last": place, "head": head})
    return found


@pytest.fixture
def ask(javascript: JavaScript) -> Any:
    def asked(function: str, *arguments: Any) -> Any:
        return javascript.call(MODULE, function, *arguments)

    return asked


def test_the_heads_are_those_of_the_protocol(ask: Any) -> None:
    assert ask("followed", IDS) == heads(IDS)


def test_a_history_that_ends_where_ours_does_must_have_our_head(ask: Any) -> None:
    at = heads(IDS)[-1]
    assert ask("contradicts", at, at) is False
    assert ask("contradicts", at | {"head": "f" * 64}, at) is True


def test_a_history_that_went_back_contradicts_and_a_longer_one_does_not(
    ask: Any,
) -> None:
    whole = heads(IDS)
    assert ask("contradicts", whole[3], whole[4]) is True
    assert ask("contradicts", whole[4], whole[3]) is False


def test_a_restored_history_is_the_same_only_if_it_passes_what_was_seen(
    ask: Any,
) -> None:
    whole, other = heads(IDS), heads([*IDS[:2], "a" * 64, *IDS[3:]])
    seen = whole[2]
    assert ask("compare", seen, whole, whole[4]) == "same"
    assert ask("compare", seen, other, other[4]) == "lost"
    assert ask("compare", seen, whole[:2], whole[4]) is None
    assert ask("compare", seen, whole[:2], whole[1]) == "lost"
    assert ask("compare", None, whole, whole[4]) is None


def receipt(key: Any, entries: list[dict[str, Any]]) -> dict[str, str]:
    body = canonical({"entries": entries, "format": 1})
    return {"bytes": body.decode(), "sig": sign(key, body)}


def test_a_receipt_proves_what_it_names_and_nothing_else(ask: Any) -> None:
    office, stranger = new_key(), new_key()
    stored = [{"id": IDS[0], "index": 7}, {"id": IDS[1], "index": 8}]
    apart = [{"id": IDS[2], "result": "quarantined"}]
    good = receipt(office, stored)
    assert ask("proves", good, office.public, stored + apart) is True
    assert ask("proves", good, office.public, []) is True
    moved = [{"id": IDS[0], "index": 8}]
    assert ask("proves", good, office.public, moved) is False
    assert ask("proves", good, office.public, [{"id": IDS[3], "index": 7}]) is False
    assert ask("proves", receipt(stranger, stored), office.public, stored) is False
    spoiled = good | {"bytes": good["bytes"].replace(":7", ":9")}
    assert ask("proves", spoiled, office.public, []) is False
    for none in ({"bytes": good["bytes"], "sig": ""}, None):
        assert ask("proves", none, office.public, []) is False
