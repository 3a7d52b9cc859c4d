"""What is struck stays in the ledger and in every pull, and nothing is made of it."""

from fieldapp.store.database import Store, writing
from fieldapp.store.ledger import (
    append,
    rows_after,
    rows_of_site,
    rows_of_subject,
    site_head,
)
from fieldapp.store.struck import bodies_before, bodies_of_device, strike, struck_ids
from tests.store.notes import note


def test_a_struck_entry_is_pulled_and_not_believed(store: Store) -> None:
    one, two = note(1), note(2)
    crew = note(3, subject=None, kind="registered", about={
        "item": "jack-1", "kind": "jack", "label": "Jack",
    })  # fmt: skip
    with writing(store):
        append(store, [one, two, crew], now=7)
        assert strike(store, frozenset({two[0].id, crew[0].id}))
    assert [row.id for row in rows_of_subject(store, "J1")] == [one[0].id]
    assert rows_of_site(store, ["registered"]) == []
    assert [row.place for row in rows_after(store, 0, 9)] == [1, 2, 3]
    with writing(store):
        assert not strike(store, struck_ids(store))
        assert strike(store, frozenset())
    assert len(rows_of_subject(store, "J1")) == 2


def test_what_is_kept_from_page_to_page_is_another_once_something_is_struck(
    store: Store,
) -> None:
    """A page made meanwhile keeps what it read: under the name from before."""
    one = note(1)
    with writing(store):
        append(store, [one], now=7)
    before = site_head(store)
    with writing(store):
        strike(store, frozenset({one[0].id}))
    assert site_head(store) != before
    with writing(store):
        strike(store, frozenset())
    assert site_head(store) == before


def test_the_bodies_of_a_device_come_in_its_own_order(store: Store) -> None:
    late, early, other = note(2), note(1), note(1, device="other")
    with writing(store):
        append(store, [late, other, early], now=7)
    assert list(bodies_of_device(store, "gang")) == [early[0].id, late[0].id]
    assert list(bodies_of_device(store, "gang", 1)) == [early[0].id]
    assert dict(bodies_before(store, 3)) == {
        late[0].id: late[1].body, other[0].id: other[1].body,
    }  # fmt: skip


def test_what_is_struck_by_a_write_that_fails_is_not(store: Store) -> None:
    one = note(1)
    with writing(store):
        append(store, [one], now=7)
    try:
        with writing(store):
            strike(store, frozenset({one[0].id}))
            raise RuntimeError("the disk, say")
    except RuntimeError:
        pass
    assert struck_ids(store) == frozenset()
    assert len(rows_of_subject(store, "J1")) == 1
