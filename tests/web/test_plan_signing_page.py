"""The desk shows who signed the plan, what waits, and the plan that is to come."""

from pathlib import Path
from typing import Any

import pytest

from fieldapp.commands.issue import ordered
from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.intake.office import issue
from fieldapp.store.bodies import keep_body
from fieldapp.store.database import connected, writing
from fieldapp.store.plans import KIND, RULE, put_plan_in_force
from tests.desk import Desk, desk
from tests.people import (
    DOCUMENT,
    FOREMAN,
    NOON,
    SITE,
    SUBJECT,
    put_in_force,
    sheet,
    wiped,
)

COMING = sheet(revision=2, title="Joint one")
PLAN = {
    "format": 1,
    "site": SITE,
    "title": "Tarn crossing",
    "revision": 2,
    "sign": {
        "prepared": [{"role": "foreman"}],
        "checked": [{"role": "inspector"}],
        "approved": [{"role": "inspector", "organisation": ["owner"]}],
    },
    "independent": "person",
    "sheets": {SUBJECT: fingerprint(COMING)},
    "kinds": [{"id": "tie", "title": "Tie", "sheets": 1, "steps": 2, "points": 1}],
}
LISTED = {"subjects": [{"id": SUBJECT, "kind": "tie", "title": "Joint one"}]}


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    made = desk(tmp_path)
    made.sign_in()
    return made


def issue_coming(page: Desk, plan: dict[str, Any]) -> None:
    """Bring the coming sheet with a plan (connected to the store)."""
    issue(
        page.site.wired.door,
        site=SITE,
        document=canonical(DOCUMENT | LISTED),
        sheets={SUBJECT: canonical(COMING)},
        tables=[],
        now=NOON,
        plan=canonical(plan),
    )


def test_a_plan_that_waits_is_shown_with_who_signed_and_is_read_before(
    page: Desk,
) -> None:
    assert "asks for no signature" in page.client.get("/plan/").text
    assert page.client.get("/plan/tie?coming=1").status_code == 200
    site = page.site
    with connected(site.wired.door.store):
        issue_coming(page, PLAN)
    phone = site.phone("gang", FOREMAN)
    about = {"plan": fingerprint(PLAN), "as": "prepared"}
    phone.write("plan_signed", person=FOREMAN, now=NOON, about=about)
    with connected(site.wired.door.store):
        site.world.sync(phone, NOON)
    text = page.client.get("/plan/").text
    assert "A plan waits for its signatures" in text
    assert "1 sheet, 1 of them new or revised" in text
    assert "✓ Ida Fell" in text
    assert text.count("△ waits") == 2
    # What is in force is still the sheet in hand.
    assert "Joint one" not in page.client.get("/plan/tie").text
    coming = page.client.get("/plan/tie?coming=1").text
    assert "Joint one" in coming
    assert "not signed yet, not in force" in coming


def test_a_plan_that_ends_the_signing_says_so_to_those_who_sign_it(page: Desk) -> None:
    site = page.site
    with connected(site.wired.door.store):
        # As if PLAN had been signed.
        with writing(site.wired.door.store):
            keep_body(site.wired.door.store, KIND, canonical(PLAN))
            put_plan_in_force(site.wired.door.store, fingerprint(PLAN))
        issue_coming(page, {key: PLAN[key] for key in PLAN if key not in RULE})
    text = page.client.get("/plan/").text
    assert "It ends the signing of plans: once these three have signed" in text
    # Three below the plan that waits; three that were never given for PLAN.
    assert text.count("△ waits") == 3 + 3


def test_a_subject_begun_is_said_to_stay_on_its_revision(page: Desk) -> None:
    site = page.site
    phone = site.phone("gang", FOREMAN)
    wiped(phone)
    coming = sheet(revision=2)
    coming["steps"]["wipe"]["title"] = "Wipe the face dry"
    with connected(site.wired.door.store):
        site.world.sync(phone, NOON)
        assert put_in_force(site.wired.door, coming) == []
    listed = page.client.get("/plan/").text
    assert "stays on revision 1: begun" in listed
    shown = page.client.get(f"/joints/{SUBJECT}").text
    assert "Stays on revision 1: begun. The plan in force has revision" in shown
    assert "reads otherwise: Wipe the face dry" in shown
    assert f"fieldapp issue {SUBJECT}" in shown
    with connected(site.wired.door.store):
        ordered(site.wired.door, [SUBJECT], NOON)
    assert "stays on revision" not in page.client.get("/plan/").text
    assert "Stays on revision" not in page.client.get(f"/joints/{SUBJECT}").text
