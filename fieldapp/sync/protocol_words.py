"""The tables of the protocol page: each field, result, reason and error in words.

A test holds them against the program: every field, reason and code is here and no
other.
"""

from typing import NamedTuple


class Field(NamedTuple):
    """A field of an entry: its name, its form, whether it is needed, its meaning."""

    name: str
    form: str
    needed: bool
    meaning: str


FIELDS = (
    Field("format", "1", True, "the form of an entry; this page describes form 1"),
    Field("site", "id", True, "the site it belongs to"),
    Field("subject", "id", False, "the subject; absent in entries of the whole site"),
    Field("sheet", "hash", False, "the sheet the author had before them"),
    Field("rules", "1 to 1000", True, "the version of the rules of judging"),
    Field("kind", "id", True, "what is stated; see the kinds below"),
    Field("step", "id", False, "the step"),
    Field("line", "id", False, "the line of the step; absent: its only one"),
    Field("point", "id", False, "the hold, witness, review or surveillance point"),
    Field("attempt", "hash", False, "the disposition that opened this attempt"),
    Field("values", "map", False, "readings by field: a whole number or a text"),
    Field("about", "map", False, "what the kind says besides; see the kinds below"),
    Field("photos", "list of hashes", False, "photographs, by their SHA-256"),
    Field("person", "id", True, "who states it"),
    Field("device", "id", True, "on which device it was signed"),
    Field("key", "hash", True, "SHA-256 of the public point that signs it"),
    Field("seq", "1 to 1000000000", True, "its number among this device's entries"),
    Field("prev", "hash", False, "the entry of this device with the number before"),
    Field(
        "after",
        "list of hashes, rising",
        True,
        "the heads of the subject as the author knew it: the entries that no other"
        " known entry names; empty without a subject",
    ),
    Field(
        "needs",
        "list of hashes, rising",
        False,
        "entries of other subjects that the author relied on; in a revocation what was"
        " there before it",
    ),
    Field("at", "ms", True, "when it happened, ms since 1970 UTC"),
    Field("at_by", "tap or typed", True, "whether that time was taken or typed"),
    Field("made", "ms", True, "when it was signed"),
    Field("zone", "-1440 to 1440", True, "minutes east of UTC"),
    Field("session", "id", True, "one run of the program, while mono counts on"),
    Field("mono", "ms", True, "ms in that session by a clock nobody can set"),
    Field("offset", "ms, signed", False, "server clock less phone clock as last seen"),
    Field("shell", "id", True, "the version of the program that made it"),
    Field("unlocked", "pin or shift", False, "what the key was unlocked by"),
)
ABOUT_TYPES = {
    "text": "text",
    "id": "id",
    "ids": "list of ids",
    "hash": "hash",
    "ms": "ms",
    "int": "whole number",
    "verdict": "verdict",
    "conditions": "list of 1 to 20 maps of text and before (an id)",
}
RESULTS = {
    "stored": "it is in the ledger, at the index given",
    "duplicate": "it was there already, at the index given",
    "fork": "stored, but this device had another entry under this number",
    "quarantined": "kept apart for the reason given, without an index; judged again"
    " when people or keys change",
    "unreadable": "not kept: it is no entry, for the reason given; keep it, show it,"
    " and do not offer it again by yourself",
}
REASONS = {
    "bad_signature": "the signature is not by that key over these bytes",
    "unknown_key": "the key is not enrolled for that person",
    "other_device": "the key is enrolled on another device",
    "other_site": "the entry is of another site",
    "revoked_key": "the key has been revoked, and nothing leads from that to this",
    "revoked_device": "the device that brought it has been revoked",
}
CODES = {
    "not_json": (400, "the body is not JSON in UTF-8, or holds NaN or Infinity"),
    "repeated": (400, "a field stands twice in one map"),
    "wrong_type": (400, "another type is wanted (415: another Content-Type)"),
    "not_allowed": (400, "a value outside what is allowed (405: another method)"),
    "newer_api": (400, "the version asked for is newer than this server"),
    "hash_wrong": (400, "a photo's bytes have another hash"),
    "not_a_photo": (400, "no picture that can be decoded whole within the limits"),
    "no_token": (401, "no device's token came with the request"),
    "revoked": (403, "the device is revoked: it may push, and gets nothing"),
    "code_unknown": (403, "no such enrolment code, or it has run out"),
    "code_used": (403, "the code has been used by another key or device"),
    "reserved": (403, "that device's name is kept for the office"),
    "proof_wrong": (403, "the proof is not a signature by that key"),
    "device_revoked": (403, "that device was reported lost: it takes nobody on"),
    "device_known": (403, "that device is known: send its own token along"),
    "challenge_over": (403, "the challenge is not the last one given: ask for one"),
    "not_proven": (403, "what came along makes that key known on no such device"),
    "not_found": (404, "nothing here has that hash or address"),
    "no_site": (404, "no site is in force yet"),
    "too_large": (413, "the body is larger than allowed"),
    "too_many": (413, "more entries than a batch may hold"),
    "too_fast": (429, "too many wrong codes or proofs from this address; wait"),
    "quota": (429, "a revoked device has brought all that is kept from one"),
    "our_fault": (500, "a mistake of the server; nothing was kept"),
    "unavailable": (503, "the disk is full or failed; nothing was kept: offer again"),
}
