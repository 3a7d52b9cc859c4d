"""Accounts and sessions: nothing readable is kept, nobody can be locked out."""

import pytest

from fieldapp.store.accounts import (
    LONGEST_WAIT_MS,
    SESSION_IDLE_MS,
    SESSION_LIFE_MS,
    Account,
    all_accounts,
    begin_session,
    check_password,
    end_session,
    end_sessions,
    forget_failures,
    note_failure,
    session_account,
    set_account,
    touch_session,
    wait_before_try,
)
from fieldapp.store.database import Store, writing

ACCOUNT = Account(name="odalys", person="p1", office=True)
PASSWORD = "granite and lime"
NOW = 1_780_000_000_000


@pytest.fixture
def named(store: Store) -> Store:
    with writing(store):
        set_account(store, ACCOUNT, PASSWORD, NOW)
    return store


def begin(store: Store, now: int = NOW) -> str:
    with writing(store):
        return begin_session(store, ACCOUNT.name, now)


def test_the_right_password_gives_the_account(named: Store) -> None:
    assert check_password(named, "odalys", PASSWORD) == ACCOUNT
    assert all_accounts(named) == [ACCOUNT]


@pytest.mark.parametrize(
    ("name", "password"),
    [("odalys", "wrong"), ("odalys", ""), ("nobody", PASSWORD), ("", ""),
     ("odalys", PASSWORD + " "), ("ODALYS", PASSWORD)],
)  # fmt: skip
def test_anything_else_gives_nothing(named: Store, name: str, password: str) -> None:
    assert check_password(named, name, password) is None


def test_neither_password_nor_token_can_be_read_from_the_database(named: Store) -> None:
    token = begin(named)
    dump = "\n".join(named.database.connection().iterdump())
    assert "$argon2id$" in dump
    assert PASSWORD not in dump
    assert token not in dump


def test_a_session_names_its_account_until_it_is_ended(named: Store) -> None:
    token = begin(named)
    assert session_account(named, token, NOW + 1) == (ACCOUNT, False)
    with writing(named):
        end_session(named, token)
    assert session_account(named, token, NOW + 2) is None


def test_a_session_runs_out_when_it_is_not_used(named: Store) -> None:
    token = begin(named)
    assert session_account(named, token, NOW + SESSION_IDLE_MS) is not None
    assert session_account(named, token, NOW + SESSION_IDLE_MS + 1) is None


def test_a_session_in_use_lives_on_but_not_for_ever(named: Store) -> None:
    token = begin(named)
    now = NOW
    while now < NOW + SESSION_LIFE_MS - SESSION_IDLE_MS:
        now += SESSION_IDLE_MS
        assert session_account(named, token, now) == (ACCOUNT, True)
        with writing(named):
            touch_session(named, token, now)
    assert session_account(named, token, NOW + SESSION_LIFE_MS + 1) is None


def test_a_new_password_ends_the_sessions(named: Store) -> None:
    token = begin(named)
    with writing(named):
        set_account(named, ACCOUNT, "another password", NOW)
    assert session_account(named, token, NOW) is None
    assert check_password(named, "odalys", PASSWORD) is None


def test_all_sessions_of_an_account_can_be_ended(named: Store) -> None:
    tokens = [begin(named), begin(named)]
    with writing(named):
        assert end_sessions(named, "odalys") == 2
    assert [session_account(named, token, NOW) for token in tokens] == [None, None]


def test_the_sixth_try_waits_and_the_wait_is_never_long(store: Store) -> None:
    for _ in range(4):
        with writing(store):
            note_failure(store, "here", NOW)
    assert wait_before_try(store, "here", NOW) == 0
    for _ in range(200):
        with writing(store):
            note_failure(store, "here", NOW)
    assert wait_before_try(store, "here", NOW) == LONGEST_WAIT_MS
    assert wait_before_try(store, "here", NOW + LONGEST_WAIT_MS) == 0
    assert wait_before_try(store, "elsewhere", NOW) == 0


def test_a_right_try_makes_the_failures_forgotten(store: Store) -> None:
    for _ in range(9):
        with writing(store):
            note_failure(store, "here", NOW)
    with writing(store):
        forget_failures(store, "here")
    assert wait_before_try(store, "here", NOW) == 0
