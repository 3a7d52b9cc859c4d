"""What carrying entries costs (printed, not judged): ratios of one run, one machine.

    pytest tests/bench/test_sync.py -s

The replicator is brought by `sh tests/bench/replicator/setup.sh` and left out where it
is not there.
"""

import hashlib
import json
import sqlite3
import subprocess
import threading
import time
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from statistics import median

import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256

from fieldapp.intake.office import end_key
from fieldapp.signatures import decode_base64url
from fieldapp.store.ledger import Signed
from tests.bench.sync_load import Line, Sender, Served, batches, seconds, served
from tests.people import FOREMAN, NOON
from tests.phone.office import free_port

MANY = 10_000
FULL = 100_000
FEW = 100
PHONES = 300
EACH = 20
ROUNDS = 15
REPLICATOR = Path(__file__).resolve().parent / "replicator"
_INSERT = "INSERT INTO ledger VALUES (?, ?, ?, ?)"


def test_ten_thousand_entries_against_a_bare_loop(tmp_path: Path) -> None:
    with served(tmp_path) as site:
        sender = site.sender("gang")
        entries = sender.sign(MANY)
        ours = MANY / pushed(site, sender, entries)
    bare = MANY / bare_loop(tmp_path, sender, entries)
    print(
        f"\npush of {MANY} signed entries: {ours:.0f}/s; bare loop that verifies and"
        f" inserts: {bare:.0f}/s; ratio {ours / bare:.2f} (aim 0.5)"
    )
    if not (REPLICATOR / "node_modules").is_dir():
        print("no replicator here: sh tests/bench/replicator/setup.sh brings it")
        return
    theirs = MANY / replicated(tmp_path, entries)
    print(
        f"a document replicator into its own server: {theirs:.0f}/s;"
        f" ratio {ours / theirs:.2f} (aim 2)"
    )


def test_ten_entries_cost_the_same_behind_a_hundred_thousand(tmp_path: Path) -> None:
    with served(tmp_path) as site:
        sender, reader = site.sender("gang"), site.sender("reader")
        with site.line(sender) as line:
            fill(line, sender, FEW)
        before = ten_more(site, sender, reader)
        with site.line(sender) as line:
            fill(line, sender, FULL - sender.seq)
        after = ten_more(site, sender, reader)
        apart = late_batch(site, sender)
    print(
        f"\nten entries pushed and pulled behind {FEW}: {before * 1_000:.1f} ms,"
        f" behind {FULL}: {after * 1_000:.1f} ms; ratio {after / before:.2f} (aim 1.5)"
    )
    print(f"200 entries of a revoked key behind {FULL}: {apart * 1_000:.0f} ms")


def test_three_hundred_phones_at_once(tmp_path: Path) -> None:
    with served(tmp_path) as site:
        senders = [site.sender(f"p{number}") for number in range(PHONES)]
        batch = {sender.device: sender.sign(EACH) for sender in senders}
        took = at_once(site, senders, batch)
        with site.line(senders[0]) as line:
            last = line.pull(0)["last"]
    stored = last - 1 - PHONES
    print(
        f"\n{PHONES} phones with {EACH} entries each at once: {stored} of"
        f" {PHONES * EACH} stored, slowest {max(took):.2f} s, median"
        f" {median(took):.2f} s (aim: all, 5 s)"
    )
    assert stored == PHONES * EACH


def pushed(site: Served, sender: Sender, entries: Sequence[Signed]) -> float:
    """Push everything from one phone; gives seconds."""
    with site.line(sender) as line:
        began = time.perf_counter()
        for batch in batches(entries):
            assert set(line.push(batch)) == {"stored"}
        return seconds(began)


def bare_loop(folder: Path, sender: Sender, entries: Sequence[Signed]) -> float:
    """Verify and insert in batches with the ledger's durability; gives seconds."""
    raw_key = decode_base64url(sender.key.public)
    point = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), raw_key)
    algorithm = ec.ECDSA(SHA256())
    with closing(sqlite3.connect(folder / "bare.db", isolation_level=None)) as database:
        database.execute("PRAGMA journal_mode = TRUNCATE")
        database.execute("PRAGMA synchronous = EXTRA")
        database.execute(
            "CREATE TABLE ledger (place INTEGER PRIMARY KEY, id TEXT UNIQUE,"
            " body TEXT, sig TEXT)"
        )
        began, place = time.perf_counter(), 0
        for batch in batches(entries):
            database.execute("BEGIN IMMEDIATE")
            for each in batch:
                raw, sig = each.body.encode(), decode_base64url(each.sig)
                halves = int.from_bytes(sig[:32]), int.from_bytes(sig[32:])
                point.verify(encode_dss_signature(*halves), raw, algorithm)
                place += 1
                name = hashlib.sha256(raw).hexdigest()
                database.execute(_INSERT, (place, name, each.body, each.sig))
            database.execute("COMMIT")
        return seconds(began)


def replicated(folder: Path, entries: Sequence[Signed]) -> float:
    """Let the replicator carry the same documents into its own server; seconds."""
    documents = folder / "documents.json"
    documents.write_text(
        json.dumps([{**json.loads(each.body), "sig": each.sig} for each in entries])
    )
    done = subprocess.run(
        [REPLICATOR / ".venv/bin/node", REPLICATOR / "replicate.js", documents,
         folder / "replicas", str(free_port())],
        check=True, capture_output=True, text=True, timeout=600,
    )  # fmt: skip
    told = json.loads(done.stdout.splitlines()[-1])
    assert told["stored"] == len(entries)
    return float(told["ms"]) / 1_000


def fill(line: Line, sender: Sender, count: int) -> None:
    """Push so many entries, signed as they are needed."""
    left = count
    while left > 0:
        size = min(left, 200)
        assert set(line.push(sender.sign(size))) == {"stored"}
        left -= size


def ten_more(site: Served, sender: Sender, reader: Sender) -> float:
    """Push ten and pull them on another phone, again and again; median seconds."""
    took = []
    with site.line(sender) as push, site.line(reader) as pull:
        place = pull.pull(0)["last"]
        for _ in range(ROUNDS):
            batch = sender.sign(10)
            began = time.perf_counter()
            push.push(batch)
            page = pull.pull(place)
            took.append(seconds(began))
            assert len(page["entries"]) == 10
            place = page["last"]
    return median(took)


def late_batch(site: Served, reader: Sender) -> float:
    """Let another phone bring what a lost one signed after the loss; median seconds."""
    lost = site.sender("lost")
    with site.line(lost) as line:
        fill(line, lost, 200)
    end_key(
        site.door, person=FOREMAN, key=lost.key.id, reason="lost", revoked=True,
        now=NOON,
    )  # fmt: skip
    took = []
    with site.line(reader) as line:
        for batch in batches(lost.sign(600)):
            began = time.perf_counter()
            assert set(line.push(batch)) == {"quarantined"}
            took.append(seconds(began))
    return median(took)


def at_once(
    site: Served, senders: Sequence[Sender], batch: dict[str, list[Signed]]
) -> list[float]:
    """Let every phone push at the same moment; gives each one's seconds."""
    took: dict[str, float] = {}
    gate = threading.Barrier(len(senders))

    def push(sender: Sender) -> None:
        with site.line(sender) as line:
            gate.wait()
            began = time.perf_counter()
            results = line.push(batch[sender.device])
            took[sender.device] = seconds(began)
        assert results == ["stored"] * EACH

    threads = [threading.Thread(target=push, args=(each,)) for each in senders]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    if len(took) != len(senders):
        pytest.fail(f"{len(senders) - len(took)} phones got no answer")
    return list(took.values())
