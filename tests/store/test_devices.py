"""Enrolment codes and device tokens."""

import pytest

from fieldapp.store.database import Store, writing
from fieldapp.store.devices import (
    CODE_LETTERS,
    CODE_LIFE_MS,
    device_of_token,
    find_code,
    find_device,
    give_token,
    issue_code,
    revoke_device,
    use_code,
)

NOW = 1_780_000_000_000


def make_code(store: Store) -> str:
    with writing(store):
        return issue_code(store, person="ida", issued_by="odalys", now=NOW)


def test_a_code_is_for_one_person_and_runs_out(store: Store) -> None:
    found = find_code(store, make_code(store))
    assert found is not None
    assert found.person == "ida"
    assert found.expires == NOW + CODE_LIFE_MS
    assert found.used is None


def test_a_code_is_found_however_it_is_typed(store: Store) -> None:
    code = make_code(store)
    for typed in (code.lower(), f" {code} ", code.replace("-", ""), f"{code}."):
        assert find_code(store, typed) is not None


@pytest.mark.parametrize("typed", ["", "AAAA-AAAA", "\ud800", "%", "' OR 1=1"])
def test_another_text_is_no_code(store: Store, typed: str) -> None:
    make_code(store)
    assert find_code(store, typed) is None


def test_a_used_code_remembers_what_used_it(store: Store) -> None:
    code = make_code(store)
    with writing(store):
        use_code(store, code, device="gang", public="point", now=NOW + 1)
    found = find_code(store, code)
    assert found is not None
    assert (found.used, found.device, found.public) == (NOW + 1, "gang", "point")


def test_no_letter_of_a_code_can_be_read_as_another() -> None:
    assert set(CODE_LETTERS).isdisjoint("01OILU")
    assert len(set(CODE_LETTERS)) == len(CODE_LETTERS)


def test_codes_and_tokens_cannot_be_read_from_the_database(store: Store) -> None:
    code = make_code(store)
    with writing(store):
        token = give_token(store, "gang", NOW)
    dump = "\n".join(store.database.connection().iterdump())
    assert code not in dump
    assert code.replace("-", "") not in dump
    assert token not in dump


def test_a_token_names_its_device_and_a_new_one_ends_the_old(store: Store) -> None:
    with writing(store):
        old = give_token(store, "gang", NOW)
        new = give_token(store, "gang", NOW)
    assert device_of_token(store, old) is None
    found = device_of_token(store, new)
    assert found is not None
    assert (found.device, found.revoked) == ("gang", False)


def test_a_revoked_device_is_known_as_such(store: Store) -> None:
    with writing(store):
        token = give_token(store, "gang", NOW)
        assert revoke_device(store, "gang", NOW)
        assert not revoke_device(store, "unknown", NOW)
    found = device_of_token(store, token)
    assert found is not None
    assert found.revoked
    assert find_device(store, "unknown") is None
