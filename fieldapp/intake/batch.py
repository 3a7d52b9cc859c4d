"""Takes batches of signed entries in, from phones and from files.

Evidence is never refused. Each entry of a batch gets its own answer, and an answer is
given only after the commit is on disk; what cannot be trusted yet is set apart and
judged again when the roster changes. No rule of the work is judged here: that is the
fold's, which can judge an entry again years later; storing is not believing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fieldapp.core.canonical import sha256_hex
from fieldapp.core.entries import Entry, EntryError, read_entry
from fieldapp.core.roster import ROSTER_KINDS
from fieldapp.intake.door import Door
from fieldapp.intake.gate import Gate, Proof, doubt, gate_of, key_of
from fieldapp.intake.lost import shut_out_lost, strike_what_fell
from fieldapp.intake.plans import issue_signed
from fieldapp.intake.receipts import make_receipt
from fieldapp.signatures import verify_all
from fieldapp.store.database import StoreUnavailable, reading, writing
from fieldapp.store.devices import Device
from fieldapp.store.ledger import (
    SetApart,
    Signed,
    all_apart,
    apart_count,
    append,
    numbers_taken,
    places_of,
    set_apart,
    take_back,
)
from fieldapp.store.room import keep_room

LARGEST_BATCH = 200
REVOKED_QUOTA = 2_000
"""So many entries a revoked device may bring into quarantine."""


class QuotaReached(Exception):
    """A revoked device has brought more than is kept from one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What became of one entry: stored, duplicate, fork, quarantined or unreadable."""

    result: str
    id: str | None = None
    reason: str | None = None
    index: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """What became of a batch, and the site's receipt for it."""

    results: tuple[Result, ...]
    receipt: Signed


def accept(
    door: Door, batch: Sequence[Signed], *, pusher: Device, now: int
) -> Accepted:
    """Take a batch of signed entries in; both answers and receipt are on disk.

    Errors: `QuotaReached` for a revoked device that brings too much, and the store's
    `StoreUnavailable`: then nothing of the batch was kept.
    """
    keep_room(door.store, sum(len(signed.body) for signed in batch))
    offered = [_read(signed) for signed in batch]
    proven = frozenset() if pusher.revoked else _proven(door, offered)
    job = _Job(offered=offered, proven=proven, pusher=pusher, now=now)
    door.turns.take(job, lambda group: _commit(door, group))
    if job.fault:
        raise job.fault
    assert job.answer is not None, "a job that is done has an answer or a fault"
    return job.answer


def take_inside(
    door: Door, batch: Sequence[Signed], *, pusher: Device, now: int
) -> tuple[Result, ...]:
    """Take entries in as `accept` does, without a receipt, inside `writing`."""
    offered = [_read(signed) for signed in batch]
    results = _take(door, offered, frozenset(), pusher, now)
    issue_signed(door, now)
    return results


def judge_again(door: Door, now: int) -> None:
    """Judge what is in quarantine with the roster of now (inside `writing`).

    And what the ledger took in before a revocation came back to it.
    """
    strike_what_fell(door)
    shut_out_lost(door, now)
    apart = all_apart(door.store)
    read = [(read_entry(each.body.encode("utf-8")), each.body) for each in apart]
    gate = gate_of(door, read)
    changed = False
    for each, (entry, body) in zip(apart, read, strict=True):
        signed = Signed(body=body, sig=each.sig)
        open_to_us = each.reason != "revoked_device" or entry.id in gate.standing
        if open_to_us and doubt(gate, entry, signed) is None:
            if not places_of(door.store, [entry.id]):
                append(door.store, [(entry, signed)], now)
            take_back(door.store, each)
            changed = changed or _calls_for_judging(gate, entry)
    if changed:
        # A key found good may have signed what waits.
        judge_again(door, now)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Offered:
    signed: Signed
    entry: Entry | None = None
    id: str | None = None
    fault: str | None = None


@dataclass(slots=True, kw_only=True)
class _Job:
    offered: Sequence[_Offered]
    proven: frozenset[Proof]
    pusher: Device
    now: int
    answer: Accepted | None = None
    fault: Exception | None = None

    @property
    def done(self) -> bool:
        return bool(self.answer or self.fault)


def _commit(door: Door, group: Sequence[_Job]) -> None:
    """Take several batches in with one commit; all of them or none."""
    try:
        with writing(door.store):
            taken = [job for job in group if _may_come(door, job)]
            answers = [_answer(door, job) for job in taken]
    except StoreUnavailable as fault:
        for job in group:
            job.fault = StoreUnavailable(str(fault))
    else:
        for job, answer in zip(taken, answers, strict=True):
            job.answer = answer


def _answer(door: Door, job: _Job) -> Accepted:
    results = _take(door, job.offered, job.proven, job.pusher, job.now)
    issue_signed(door, job.now)
    taken = ((each.id or "", each.index) for each in results if each.index is not None)
    device = job.pusher.device
    receipt = make_receipt(door, taken, device=device, now=job.now)
    return Accepted(results=results, receipt=receipt)


def _may_come(door: Door, job: _Job) -> bool:
    """Say whether a batch is taken at all; one over its quota is told so."""
    pusher = job.pusher
    if not pusher.revoked:
        return True
    if apart_count(door.store, pusher.device) + len(job.offered) <= REVOKED_QUOTA:
        return True
    job.fault = QuotaReached(pusher.device)
    return False


def _read(signed: Signed) -> _Offered:
    if not signed.sig.isascii():  # no signature; half a surrogate cannot be kept
        signed = replace(signed, sig="")
    try:
        raw = signed.body.encode("utf-8")
    except UnicodeEncodeError:
        return _Offered(signed=signed, fault="text with a lone surrogate")
    try:
        entry = read_entry(raw)
    except EntryError as fault:
        return _Offered(signed=signed, id=sha256_hex(raw), fault=str(fault))
    return _Offered(signed=signed, entry=entry, id=entry.id)


def _proven(door: Door, offered: Sequence[_Offered]) -> frozenset[Proof]:
    """Verify what is new before the turn to write is taken: it takes the longest.

    Who may sign is judged again inside; only that a signature holds is known here.
    """
    entries = {each.entry.id: each for each in offered if each.entry}
    with reading(door.store):
        gate = gate_of(door)
        new = entries.keys() - places_of(door.store, entries)
    proofs, claims = [], []
    for each in offered:
        key = key_of(gate, each.entry) if each.entry and each.id in new else None
        if each.entry and key:
            signed = each.signed
            proofs.append((each.entry.id, signed.sig, key["public"]))
            claims.append((key["public"], signed.body.encode("utf-8"), signed.sig))
    held = zip(proofs, verify_all(claims), strict=True)
    return frozenset(proof for proof, holds in held if holds)


def _take(
    door: Door,
    offered: Sequence[_Offered],
    proven: frozenset[Proof],
    pusher: Device,
    now: int,
) -> tuple[Result, ...]:
    entries = {each.entry.id: each.entry for each in offered if each.entry}
    known = places_of(door.store, entries)
    taken = numbers_taken(door.store, entries.values())
    read = [(each.entry, each.signed.body) for each in offered if each.entry]
    gate = replace(gate_of(door, read), proven=proven)
    stored: dict[str, tuple[Entry, Signed]] = {}
    apart: list[SetApart] = []
    results = []
    for each in offered:
        entry = each.entry
        if entry is None:
            result = Result(result="unreadable", id=each.id, reason=each.fault)
        elif entry.id in known or entry.id in stored:
            result = Result(result="duplicate", id=entry.id)
        elif reason := _reason(gate, each, entry, pusher):
            result = Result(result="quarantined", id=entry.id, reason=reason)
            apart.append(_apart(entry, each.signed, reason, pusher, now))
        else:
            number = (entry.device, entry.seq)
            result = Result(result="fork" if number in taken else "stored", id=entry.id)
            taken.add(number)
            stored[entry.id] = (entry, each.signed)
        results.append(result)
    set_apart(door.store, apart)
    places = known | append(door.store, list(stored.values()), now)
    if any(_calls_for_judging(gate, entry) for entry, _ in stored.values()):
        judge_again(door, now)
    return tuple(replace(each, index=places.get(each.id or "")) for each in results)


def _calls_for_judging(gate: Gate, entry: Entry) -> bool:
    """Say whether others hang on an entry: a key's, or the chain of a lost phone."""
    return entry.kind in ROSTER_KINDS or entry.id in gate.standing


def _reason(gate: Gate, each: _Offered, entry: Entry, pusher: Device) -> str | None:
    if pusher.revoked and entry.id not in gate.standing:
        return "revoked_device"
    return doubt(gate, entry, each.signed)


def _apart(
    entry: Entry, signed: Signed, reason: str, pusher: Device, now: int
) -> SetApart:
    return SetApart(
        id=entry.id,
        body=signed.body,
        sig=signed.sig,
        reason=reason,
        received=now,
        pusher=pusher.device,
    )
