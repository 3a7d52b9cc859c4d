"""Enrolment: a code, a key and a proof make a person's key known on one device."""

from dataclasses import replace

import pytest

from fieldapp.intake.door import OFFICE
from fieldapp.intake.office import Enrolment, EnrolmentRefused, enrol
from fieldapp.lookups import person_of_plan
from fieldapp.signatures import new_key, sign
from fieldapp.store.database import writing
from fieldapp.store.devices import CODE_LIFE_MS, issue_code, revoke_device
from fieldapp.store.ledger import ledger_head
from tests.people import FOREMAN, INSPECTOR, NOON, Stage


@pytest.fixture
def code(site: Stage) -> str:
    store = site.wired.door.store
    with writing(store):
        return issue_code(store, person=FOREMAN, issued_by="odalys", now=NOON)


def wish(code: str, device: str = "own") -> Enrolment:
    key = new_key()
    bare = Enrolment(code=code, device=device, public=key.public, proof="")
    return replace(bare, proof=sign(key, bare.claim()))


def ask(
    site: Stage, wanted: Enrolment, *, known: bool = False, now: int = NOON
) -> str | None:
    person = person_of_plan(site.wired.door.store, FOREMAN)
    assert person is not None
    return enrol(site.wired.door, wanted, person, known=known, now=now)


def test_asking_again_with_the_same_key_is_answered_again(
    site: Stage, code: str
) -> None:
    wanted = wish(code)
    assert ask(site, wanted)
    before = ledger_head(site.wired.door.store)
    assert ask(site, wanted)
    assert ledger_head(site.wired.door.store) == before


def test_a_code_works_once(site: Stage, code: str) -> None:
    ask(site, wish(code))
    with pytest.raises(EnrolmentRefused) as refused:
        ask(site, wish(code, device="second"))
    assert refused.value.code == "code_used"


def test_a_code_works_to_its_last_moment_and_not_beyond(site: Stage, code: str) -> None:
    with pytest.raises(EnrolmentRefused) as refused:
        ask(site, wish(code), now=NOON + CODE_LIFE_MS + 1)
    assert refused.value.code == "code_unknown"
    assert ask(site, wish(code), now=NOON + CODE_LIFE_MS)


@pytest.mark.parametrize(
    ("field", "value", "no"),
    [
        ("code", "AAAA-AAAA", "code_unknown"),
        ("device", OFFICE, "reserved"),
        ("device", "another", "proof_wrong"),
        ("proof", "AAAA", "proof_wrong"),
        ("public", "AAAA", "proof_wrong"),
    ],
)
def test_what_does_not_fit_is_refused_and_spends_no_code(
    site: Stage, code: str, field: str, value: str, no: str
) -> None:
    before = ledger_head(site.wired.door.store)
    with pytest.raises(EnrolmentRefused) as refused:
        ask(site, replace(wish(code), **{field: value}))
    assert refused.value.code == no
    assert ledger_head(site.wired.door.store) == before
    assert ask(site, wish(code))


def test_a_known_device_must_show_its_token(site: Stage, code: str) -> None:
    site.phone("gang", INSPECTOR)
    with pytest.raises(EnrolmentRefused) as refused:
        ask(site, wish(code, device="gang"))
    assert refused.value.code == "device_known"
    assert ask(site, wish(code, device="gang"), known=True) is None


def test_a_phone_reported_lost_takes_nobody_on(site: Stage, code: str) -> None:
    site.phone("gang", INSPECTOR)
    door = site.wired.door
    with writing(door.store):
        revoke_device(door.store, "gang", NOON)
    for known in (False, True):
        with pytest.raises(EnrolmentRefused) as refused:
            ask(site, wish(code, device="gang"), known=known)
        assert refused.value.code == "device_revoked"


def test_a_phone_that_lost_its_token_gets_one_for_a_key_it_still_has(
    site: Stage,
) -> None:
    phone = site.phone("own", FOREMAN)
    phone.token = None
    site.world.enrol(phone, FOREMAN, NOON)
    assert phone.token


def test_a_person_gets_in_again_on_their_device_with_a_new_key(
    site: Stage, code: str
) -> None:
    """The office was brought back with an older token: what the phone holds waits."""
    site.phone("gang", FOREMAN)
    assert ask(site, wish(code, device="gang"))
