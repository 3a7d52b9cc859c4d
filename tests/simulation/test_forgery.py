"""Whoever has read the protocol's page may forge: office, check and phones find it.

Each forgery is tried at the front door, then put into the database by hand with the
guards off and the chain made anew, and then looked for by the command and by a phone
running the served modules. What is forged, replayed, reordered, flipped in one bit,
signed by a stranger's or a revoked key, or put in by hand has a test here for each of
office, check and phone; that the office looks at its own books is in `test_watch.py`.
"""

import hashlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from fieldapp.cli import main
from fieldapp.signatures import decode_base64url, encode_base64url
from fieldapp.store.ledger import Signed
from tests.javascript import JavaScript
from tests.phone.office import free_port
from tests.simulation.forger import flipped, overwrite, replay, rewrite, slip_in
from tests.simulation.forgeries import FORGERIES, SUBJECT, Scene, set_scene
from tests.simulation.house import House, build

Out = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def scene(
    tmp_path_factory: pytest.TempPathFactory, javascript: JavaScript
) -> Iterator[Scene]:
    house = build(tmp_path_factory.mktemp("forgery"), free_port())
    house.office.start()
    try:
        yield set_scene(house, javascript)
    finally:
        house.office.kill()


def _pushed(scene: Scene, *batch: Signed) -> list[dict[str, Any]]:
    body = {"entries": [{"bytes": s.body, "sig": s.sig} for s in batch]}
    told = scene.gang.road.ask("/api/push", body, scene.gang.pen.token)
    results: list[dict[str, Any]] = told["results"]
    return results


@pytest.mark.parametrize("forge", FORGERIES.values(), ids=list(FORGERIES))
def test_the_door_sets_a_forgery_apart(
    scene: Scene, forge: Callable[[Scene], Signed]
) -> None:
    before = scene.house.books()
    (told,) = _pushed(scene, forge(scene))
    assert told["result"] == "quarantined"
    assert told["reason"]
    after = scene.house.books()
    assert after.rows == before.rows
    assert after.apart - before.apart == {told["id"]}


def test_every_single_bit_of_an_entry_counts(scene: Scene) -> None:
    good = scene.good()
    raw, sig = good.body.encode(), decode_base64url(good.sig)
    spoiled = [_text(flipped(raw, bit)) for bit in range(len(raw) * 8)]
    batch = [Signed(body=text, sig=good.sig) for text in spoiled if text]
    batch += [
        Signed(body=good.body, sig=encode_base64url(flipped(sig, bit)))
        for bit in range(len(sig) * 8)
    ]
    before = scene.house.books().rows
    told = []
    for start in range(0, len(batch), 200):
        told += _pushed(scene, *batch[start : start + 200])
    assert {each["result"] for each in told} <= {"unreadable", "quarantined"}
    assert len(told) > 4_000
    assert scene.house.books().rows == before


def _text(raw: bytes) -> str | None:
    try:
        return raw.decode()
    except UnicodeDecodeError:
        return None


def test_replays_change_nothing_and_any_order_is_taken(scene: Scene) -> None:
    batch = [scene.good() for _ in range(6)]
    first = _pushed(scene, *reversed(batch))
    assert [each["result"] for each in first] == ["stored"] * 6
    before = scene.house.books().rows
    again = _pushed(scene, *batch, *batch)
    assert [each["result"] for each in again] == ["duplicate"] * 12
    assert scene.house.books().rows == before
    assert _check(scene.house) == 0


def test_a_phone_finds_what_is_spoiled_and_takes_replays_in_any_order(
    scene: Scene,
) -> None:
    good = [scene.good() for _ in range(3)]
    raw, sig = good[0].body.encode(), decode_base64url(good[0].sig)
    texts = [_text(flipped(raw, bit)) for bit in range(0, len(raw) * 8, 5)]
    spoiled = [Signed(body=text, sig=good[0].sig) for text in texts if text]
    spoiled += [
        Signed(body=good[0].body, sig=encode_base64url(flipped(sig, bit)))
        for bit in range(len(sig) * 8)
    ]
    told = scene.reader.bring(*spoiled)
    # One bit of the key's id, the person or the device may be somebody yet to come.
    assert told["refused"] + told["apart"] == len(spoiled)
    assert told["fresh"] == 0
    ids = {_id(each) for each in good}
    assert scene.reader.bring(good[2], good[0])["fresh"] == 2
    told = scene.reader.bring(*good, *reversed(good))
    assert (told["fresh"], told["known"]) == (1, 2)
    believed = [entry.id for entry in scene.reader.entries_of(SUBJECT)]
    assert ids <= set(believed)
    assert len(believed) == len(set(believed))


def test_what_was_put_in_by_hand_is_found_by_a_phone_and_by_check(
    scene: Scene, capsys: Out
) -> None:
    scene.reader.sync()
    copy = scene.house.database.read_bytes()
    try:
        _by_hand(scene, capsys)
    finally:
        scene.house.office.kill()
        scene.house.database.write_bytes(copy)
        scene.house.office.start()


def _by_hand(scene: Scene, capsys: Out) -> None:
    made = {name: forge(scene) for name, forge in FORGERIES.items()}
    slipped = {
        name: slip_in(scene.house.database, signed) for name, signed in made.items()
    }
    places = {row[1]: row[0] for row in scene.house.books().rows}
    assert _check(scene.house) == 1
    said = capsys.readouterr().out
    missed = [name for name, i in slipped.items() if f"index {places[i]}:" not in said]
    assert missed == []
    scene.reader.sync()
    doubted = scene.reader.doubted()
    assert [name for name, i in slipped.items() if i not in doubted] == []
    believed = {entry.id for entry in scene.reader.entries_of(SUBJECT)}
    assert believed.isdisjoint(slipped.values())


def test_an_entry_replayed_by_hand_is_found_by_a_phone_and_by_check(
    scene: Scene, capsys: Out
) -> None:
    house, reader = scene.house, scene.reader
    (told,) = _pushed(scene, scene.good())
    reader.sync()
    copy = house.database.read_bytes()
    try:
        replay(house.database, told["id"])
        assert _check(house) == 1
        assert f"stands at index {told['index']} already" in capsys.readouterr().out
        reader.alarms.clear()
        reader.sync()
        assert reader.alarms
        believed = [entry.id for entry in reader.entries_of(SUBJECT)]
        assert believed.count(told["id"]) == 1
    finally:
        house.office.kill()
        house.database.write_bytes(copy)
        house.office.start()
        reader.sync()


def _id(signed: Signed) -> str:
    return hashlib.sha256(signed.body.encode()).hexdigest()


def _check(house: House) -> int:
    return main(["check", "--data", str(house.office.data)])


def _rewritten(ids: list[str]) -> list[str]:
    return [*ids[:-3], ids[-2], ids[-3], ids[-1]]


def _shortened(ids: list[str]) -> list[str]:
    return ids[:-2]


def _thinned(ids: list[str]) -> list[str]:
    return [*ids[:-2], ids[-1]]


@pytest.mark.parametrize("change", [_rewritten, _shortened, _thinned])
def test_a_history_made_anew_by_hand_is_found_and_healed(
    scene: Scene, change: Callable[[list[str]], list[str]], capsys: Out
) -> None:
    house, reader = scene.house, scene.reader
    reader.sync()
    before = house.books()
    copy = house.database.read_bytes()
    try:
        rewrite(house.database, change([row[1] for row in before.rows]))
        assert _check(house) == 1
        assert "receipt" in capsys.readouterr().out
        reader.alarms.clear()
        reader.sync()
        assert reader.alarms
        reader.sync()
        assert reader.waiting() == set()
        assert before.ids <= house.books().kept
    finally:
        house.office.kill()
        house.database.write_bytes(copy)
        house.office.start()
        reader.sync()


CELLS = [
    ("ledger", "body"), ("ledger", "sig"), ("ledger", "head"), ("ledger", "id"),
    ("ledger", "kind"), ("ledger", "subject"), ("ledger", "person"),
    ("ledger", "device"), ("ledger", "seq"), ("bodies", "body"), ("bodies", "hash"),
    ("receipts", "body"), ("receipts", "sig"), ("receipts", "device"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "column"), CELLS, ids=[".".join(c) for c in CELLS])
def test_a_flipped_bit_in_the_database_is_found_by_check(
    scene: Scene, table: str, column: str, tmp_path: Path, capsys: Out
) -> None:
    house = scene.house.copy(tmp_path)
    assert _check(house) == 0
    where = f"rowid = (SELECT MAX(rowid) FROM {table} WHERE {column} IS NOT NULL)"
    found = house.cell(table, column, where)
    spoiled: Any = found ^ 1 if isinstance(found, int) else _one_bit(found)
    overwrite(house.database, table, column, where, spoiled)
    assert _check(house) == 1
    assert "NOT" in capsys.readouterr().out


def _one_bit(text: str) -> str:
    middle = len(text) // 2
    return text[:middle] + chr(ord(text[middle]) ^ 1) + text[middle + 1 :]
