"""A phone the office does not know comes back by what proves its key, and only so."""

import json
import secrets
from typing import Any

import pytest
from werkzeug.test import TestResponse

from fieldapp.core.canonical import canonical
from fieldapp.intake.comeback import CHALLENGE_LIFE_MS, MOST_PROVING
from fieldapp.intake.office import end_key
from fieldapp.play.phone import Phone
from fieldapp.signatures import SigningKey, new_key, sign
from fieldapp.store.accounts import FREE_TRIES
from fieldapp.store.database import connected, writing
from fieldapp.store.devices import revoke_device
from fieldapp.store.ledger import all_apart, ledger_head, rows_after
from fieldapp.store.struck import strike
from tests.desk import Desk
from tests.people import FOREMAN, INSPECTOR, NOON, SITE
from tests.sync.asking import bearer, enrolled, pull, send

GANG, OWN = "gang", "own"
Entry = dict[str, Any]


def lose(api: Desk, device: str) -> None:
    """Forget a device's token, as an office that was brought back has."""
    store = api.site.wired.door.store
    with connected(store), writing(store):
        table = store.tables["devices"]
        table.delete().where(table.device == device).execute()


def asked(key: SigningKey, device: str) -> dict[str, str]:
    return {"device": device, "public": key.public}


def proof(api: Desk, key: SigningKey, device: str, *entries: Entry) -> dict[str, Any]:
    """Ask for a challenge and give the whole wish."""
    told = send(api, "/api/return", asked(key, device))
    assert set(told.json) == {"challenge"}, told.text
    claim = f"return:{told.json['challenge']}:{device}:{key.public}"
    return asked(key, device) | {
        "entries": list(entries), "challenge": told.json["challenge"],
        "proof": sign(key, claim.encode()),
    }  # fmt: skip


def back(api: Desk, key: SigningKey, device: str, *entries: Entry) -> TestResponse:
    return send(api, "/api/return", proof(api, key, device, *entries))


def refused(answer: TestResponse, status: int = 403) -> str:
    assert answer.status_code == status, answer.text
    code: str = answer.json["error"]["code"]
    return code


def enrolment(
    api: Desk, key: SigningKey, device: str, by: SigningKey | None = None
) -> Entry:
    """Give the foreman's enrolment as an office signed it, that this one lost."""
    about = {
        "person": FOREMAN, "name": "Ida Fell", "roles": ["foreman"],
        "organisation": "north", "key": key.id, "public": key.public, "device": device,
    }  # fmt: skip
    office = by or api.site.wired.door.office
    return entry_of("enrolled", about, "office", "office", office)


def further(by: SigningKey, device: str, key: SigningKey, on: str) -> Entry:
    """Give the entry by which the foreman's key says that another is theirs too."""
    about = {"key": key.id, "public": key.public, "device": on}
    return entry_of("key_added", about, FOREMAN, device, by, unlocked="pin")


def entry_of(
    kind: str, about: Entry, person: str, device: str, key: SigningKey, **more: str
) -> Entry:
    fields = {
        "format": 1, "site": SITE, "rules": 1, "kind": kind, "about": about,
        "person": person, "device": device, "key": key.id, "seq": 900, "after": [],
        "at": NOON, "at_by": "tap", "made": NOON, "zone": 0,
        "session": secrets.token_hex(4), "mono": 0, "shell": "test", **more,
    }  # fmt: skip
    raw = canonical(fields)
    return {"bytes": raw.decode(), "sig": sign(key, raw)}


def books(api: Desk) -> tuple[Any, ...]:
    store = api.site.wired.door.store
    with connected(store):
        return ledger_head(store), [each.id for each in all_apart(store)]


def own_entry(api: Desk, phone: Phone) -> Entry:
    store = api.site.wired.door.store
    with connected(store):
        rows = rows_after(store, 0, 100)
    (row,) = (row for row in rows if phone.key_of(FOREMAN).id in row.body)
    return {"bytes": row.body, "sig": row.sig}


def test_a_phone_enrolled_by_a_lost_office_comes_back_with_its_enrolment(
    api: Desk,
) -> None:
    key = new_key()
    shown = enrolment(api, key, OWN)
    answer = back(api, key, OWN, shown)
    assert answer.status_code == 200, answer.text
    told = answer.json
    assert (told["person"], told["site"]) == (FOREMAN, SITE)
    assert told["office_key"] == api.site.wired.door.office.public
    found = api.client.get("/api/pull?after=0", headers=bearer(told["token"])).json
    assert shown["bytes"] in [each["bytes"] for each in found["entries"]]
    # The answer was lost: it is asked again, and the last token holds.
    again = back(api, key, OWN, shown).json["token"]
    assert api.client.get("/api/pull", headers=bearer(again)).status_code == 200
    assert api.client.get("/api/pull", headers=bearer(told["token"])).status_code == 401


def test_a_phone_whose_key_is_known_needs_to_show_nothing(api: Desk) -> None:
    phone = enrolled(api)
    lose(api, GANG)
    assert pull(api, phone).status_code == 401
    answer = back(api, phone.key_of(FOREMAN), GANG)
    assert answer.status_code == 200
    assert pull(api, phone).status_code == 401
    phone.token = answer.json["token"]
    assert pull(api, phone).status_code == 200


def test_a_further_phone_gets_its_token_by_what_its_owners_own_signed(
    api: Desk,
) -> None:
    first, second = new_key(), new_key()
    shown = enrolment(api, first, OWN), further(first, OWN, second, "second")
    # Without what it rests on it is nobody's, and is not kept.
    before = books(api)
    assert refused(back(api, second, "second", shown[1])) == "not_proven"
    assert books(api) == before
    assert back(api, second, "second", *shown).json["person"] == FOREMAN


def test_a_proof_is_good_once_and_for_the_one_it_names(api: Desk) -> None:
    phone, other = enrolled(api), new_key()
    key = phone.key_of(FOREMAN)
    wish = proof(api, key, GANG)
    assert refused(send(api, "/api/return", wish | {"device": OWN})) == "challenge_over"
    taken = wish | {"public": other.public}
    assert refused(send(api, "/api/return", taken)) == "challenge_over"
    assert send(api, "/api/return", wish).status_code == 200
    assert refused(send(api, "/api/return", wish)) == "challenge_over"


def test_a_challenge_runs_out(api: Desk) -> None:
    key = enrolled(api).key_of(FOREMAN)
    wish, later = proof(api, key, GANG), proof(api, key, GANG)
    api.site.now += CHALLENGE_LIFE_MS
    assert send(api, "/api/return", wish).status_code == 200
    api.site.now += CHALLENGE_LIFE_MS
    assert refused(send(api, "/api/return", later)) == "challenge_over"


@pytest.mark.parametrize(
    "changed",
    [{"proof": "AAAA"}, {"proof": "\N{SNOWMAN}"}, {"proof": ""}, {"proof": 7},
     {"challenge": 7}, {"entries": {}}, {"entries": None}, {"device": "a b"},
     {"public": "x" * 400}],
)  # fmt: skip
def test_what_is_no_wish_is_refused_by_name(api: Desk, changed: dict[str, Any]) -> None:
    key = enrolled(api).key_of(FOREMAN)
    wish = proof(api, key, GANG) | changed
    code = refused(answer := send(api, "/api/return", wish), answer.status_code)
    assert 400 <= answer.status_code < 500
    assert code in {"proof_wrong", "not_allowed", "wrong_type"}
    assert answer.json["error"]["field"] in changed


def test_a_key_of_nobody_and_of_another_site_comes_in_with_nothing(api: Desk) -> None:
    thief, foreign = new_key(), new_key()
    before = books(api)
    for shown in (
        [],
        [enrolment(api, thief, OWN, by=foreign)],
        [enrolment(api, thief, "elsewhere")],
        [enrolment(api, foreign, OWN)],
        [{"bytes": "{}", "sig": "x"}, {"bytes": "\ud800", "sig": "\ud800"}, 7, None],
        [{"bytes": "[" * 60_000, "sig": ""}],
    ):
        api.site.now += 60_000
        assert refused(back(api, thief, OWN, *shown)) == "not_proven"
    assert books(api) == before


def test_the_offices_own_name_is_not_to_be_had(api: Desk) -> None:
    office, thief = api.site.wired.door.office, new_key()
    assert refused(back(api, office, "office")) == "not_proven"
    assert refused(back(api, thief, "office", enrolment(api, thief, OWN))) == (
        "not_proven"
    )


def test_a_lost_phone_and_an_ended_key_stay_out(api: Desk) -> None:
    phone = enrolled(api)
    key, door = phone.key_of(FOREMAN), api.site.wired.door
    shown, second = own_entry(api, phone), new_key()
    with connected(door.store):
        end_key(
            door, person=FOREMAN, key=key.id, reason="PIN forgotten",
            revoked=False, now=NOON,
        )  # fmt: skip
    assert refused(back(api, key, GANG, shown)) == "not_proven"
    added = further(key, GANG, second, "second")
    assert refused(back(api, second, "second", shown, added)) == "not_proven"
    with connected(door.store):
        end_key(door, person=FOREMAN, key=key.id, reason="lost", revoked=True, now=NOON)
        with writing(door.store):
            revoke_device(door.store, GANG, NOON)
    assert refused(back(api, key, GANG, shown)) == "device_revoked"
    assert refused(back(api, second, "second", shown, added)) == "not_proven"
    # Another person's good key on that very phone does not open it either.
    assert refused(back(api, phone.key_of(INSPECTOR), GANG)) == "device_revoked"


def test_what_was_struck_proves_nothing(api: Desk) -> None:
    key = new_key()
    shown = enrolment(api, key, OWN)
    assert back(api, key, OWN, shown).status_code == 200
    door = api.site.wired.door
    second = new_key()
    added = further(key, OWN, second, "second")
    assert back(api, second, "second", added).status_code == 200
    with connected(door.store), writing(door.store):
        (row,) = (r for r in rows_after(door.store, 0, 99) if r.body == added["bytes"])
        strike(door.store, frozenset({row.id}))
    assert refused(back(api, second, "second", shown, added)) == "not_proven"


def test_nobody_takes_the_gangs_phone_by_a_key_said_to_be_on_it(api: Desk) -> None:
    phone, taker = enrolled(api), new_key()
    own = new_key()
    assert back(api, own, OWN, enrolment(api, own, OWN)).status_code == 200
    added = further(own, OWN, taker, GANG)
    assert refused(back(api, taker, GANG, added)) == "device_known"
    assert pull(api, phone).status_code == 200


def test_too_many_entries_and_too_many_tries_are_refused(api: Desk) -> None:
    key = new_key()
    many = [{"bytes": "", "sig": ""}] * (MOST_PROVING + 1)
    assert refused(back(api, key, OWN, *many), 413) == "too_many"
    wish = proof(api, key, OWN)
    for _ in range(FREE_TRIES):
        assert refused(send(api, "/api/return", wish)) == "not_proven"
    assert refused(send(api, "/api/return", wish), 429) == "too_fast"
    assert json.loads(api.client.get("/api/ping").data)["api"] == 1
