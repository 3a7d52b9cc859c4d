"""Signing in: a session that lasts and can be ended, and nobody locked out."""

from pathlib import Path

import pytest
from flask.sessions import SecureCookieSessionInterface

from fieldapp.app import create_app
from fieldapp.config import Settings
from fieldapp.store.accounts import SESSION_IDLE_MS, end_sessions
from fieldapp.store.database import connected, writing
from tests.desk import OFFICE_NAME, PASSWORD, Desk, desk


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    return desk(tmp_path)


@pytest.mark.parametrize(
    "path", ["/?q=J1", "/today", "/joints/J1", "/joints/J1/record.pdf", "/people"]
)
def test_a_page_asks_for_a_sign_in_and_comes_back_to_itself(
    page: Desk, path: str
) -> None:
    answer = page.client.get(path)
    assert answer.status_code == 302
    assert answer.headers["Location"].startswith("/sign-in?next=")
    page.make_account(OFFICE_NAME)
    fields = {"name": OFFICE_NAME, "password": PASSWORD}
    form = answer.headers["Location"]
    fields["next"] = path
    assert page.post("/sign-in", fields, form=form).headers["Location"] == path


@pytest.mark.parametrize(
    "elsewhere", ["//evil.example", "https://evil.example", "/\\evil.example", "x"]
)
def test_a_sign_in_never_leads_elsewhere(page: Desk, elsewhere: str) -> None:
    page.make_account(OFFICE_NAME)
    fields = {"name": OFFICE_NAME, "password": PASSWORD, "next": elsewhere}
    answer = page.post("/sign-in", fields, form="/sign-in")
    assert answer.headers["Location"] == "/today"


def test_the_bare_address_leads_to_the_day_and_not_to_a_page(page: Desk) -> None:
    answer = page.client.get("/")
    assert answer.headers["Location"] == "/sign-in"
    page.make_account(OFFICE_NAME)
    fields = {"name": OFFICE_NAME, "password": PASSWORD}
    answer = page.post("/sign-in", fields, form="/sign-in")
    assert answer.headers["Location"] == "/today"
    # Once signed in it is the list of the work; a whole id goes to its subject.
    assert page.client.get("/").status_code == 200
    found = page.client.get("/today").text
    assert 'name="q"' in found
    assert page.client.get("/?q=J1").headers["Location"] == "/joints/J1"


def test_a_wrong_password_is_told_without_saying_which_part_was_wrong(
    page: Desk,
) -> None:
    page.make_account(OFFICE_NAME)
    one = page.post("/sign-in", {"name": OFFICE_NAME, "password": "x"}, form="/sign-in")
    two = page.post("/sign-in", {"name": "nobody", "password": "x"}, form="/sign-in")
    assert one.status_code == two.status_code == 403
    assert "do not go together" in one.text
    assert "do not go together" in two.text


def test_a_form_without_its_token_is_refused(page: Desk) -> None:
    page.make_account(OFFICE_NAME)
    fields = {"name": OFFICE_NAME, "password": PASSWORD}
    assert page.client.post("/sign-in", data=fields).status_code == 400
    fields["csrf_token"] = "made-up"
    assert page.client.post("/sign-in", data=fields).status_code == 400
    assert page.client.get("/").status_code == 302


def test_a_token_is_good_however_old_the_page_is(page: Desk) -> None:
    assert page.app.config["WTF_CSRF_TIME_LIMIT"] is None


@pytest.mark.parametrize(
    "fields",
    [{}, {"name": ""}, {"name": "x" * 65, "password": "y"}, {"name": "x"},
     {"name": "x", "password": "y" * 201}, {"name": "\x00", "password": "\x00"}],
    ids=range(6),
)  # fmt: skip
def test_a_form_filled_in_wrongly_is_shown_again(
    page: Desk, fields: dict[str, str]
) -> None:
    answer = page.post("/sign-in", fields, form="/sign-in")
    assert answer.status_code in (200, 403)
    assert "Sign in" in answer.text


def test_a_sign_in_lasts_over_a_restart_of_the_server(page: Desk) -> None:
    page.sign_in()
    again = create_app(Settings(data=page.site.data), clock=lambda: page.site.now)
    client = again.test_client()
    for cookie in page.client._cookies.values():  # the browser stays the same
        client.set_cookie(cookie.key, cookie.value)
    assert client.get("/").status_code == 200


def test_signing_out_ends_the_session_at_the_server_too(page: Desk) -> None:
    page.sign_in()
    cookie = page.client.get_cookie("fieldapp")
    assert cookie is not None
    kept = cookie.value
    assert page.post("/sign-out", {}, form="/").status_code == 302
    assert page.client.get("/").status_code == 302
    page.client.set_cookie("fieldapp", kept)
    assert page.client.get("/").status_code == 302


def test_a_session_can_be_ended_from_outside(page: Desk) -> None:
    page.sign_in()
    assert page.client.get("/").status_code == 200
    store = page.site.wired.door.store
    with connected(store), writing(store):
        end_sessions(store, OFFICE_NAME)
    assert page.client.get("/").status_code == 302


def test_a_session_not_used_for_long_asks_again(page: Desk) -> None:
    page.sign_in()
    page.site.now += SESSION_IDLE_MS
    assert page.client.get("/").status_code == 200
    page.site.now += SESSION_IDLE_MS
    assert page.client.get("/").status_code == 200
    page.site.now += SESSION_IDLE_MS + 1
    assert page.client.get("/").status_code == 302


def test_a_cookie_made_up_signs_nobody_in(page: Desk) -> None:
    page.client.set_cookie("fieldapp", "eyJzaWQiOiJ4In0.aaaa.bbbb")
    assert page.client.get("/").status_code == 302
    signer = SecureCookieSessionInterface().get_signing_serializer(page.app)
    assert signer is not None
    page.client.set_cookie("fieldapp", signer.dumps({"sid": ["not", "text"]}))
    assert page.client.get("/").status_code == 302


def test_many_wrong_tries_wait_but_a_known_browser_still_gets_in(page: Desk) -> None:
    page.sign_in()
    known = page.client.get_cookie("fieldapp_known")
    assert known is not None
    stranger = Desk(app=page.app, client=page.app.test_client(), site=page.site)
    seen = [stranger.sign_in(password="wrong") for _ in range(7)]
    assert seen == [403] * 5 + [429] * 2
    assert stranger.sign_in() == 429
    back = Desk(app=page.app, client=page.app.test_client(), site=page.site)
    back.client.set_cookie("fieldapp_known", known.value)
    assert back.sign_in() == 302


def test_after_the_wait_the_right_password_gets_in(page: Desk) -> None:
    for _ in range(30):
        page.sign_in(password="wrong")
        page.site.now += 5_000
    page.site.now += 30_000
    assert page.sign_in() == 302
    assert page.client.get("/").status_code == 200


def test_cookies_are_out_of_reach_of_scripts_and_of_plain_http_under_tls(
    tmp_path: Path,
) -> None:
    plain = desk(tmp_path)
    plain.sign_in()
    cookie = plain.client.get_cookie("fieldapp")
    assert cookie is not None
    assert cookie.http_only
    assert cookie.same_site == "Lax"
    secure = create_app(Settings(data=tmp_path, secure=True))
    assert secure.config["SESSION_COOKIE_SECURE"]
    answer = secure.test_client().get("/sign-in")
    assert "max-age" in answer.headers["Strict-Transport-Security"]


def test_what_slows_a_guesser_down_outlives_a_restart(page: Desk) -> None:
    for _ in range(5):
        assert page.sign_in(password="wrong") == 403
    restarted = create_app(Settings(data=page.site.data), clock=lambda: page.site.now)
    again = Desk(app=restarted, client=restarted.test_client(), site=page.site)
    assert again.sign_in() == 429
    # The session of somebody who is in already goes on, over the restart too.
    page.site.now += 60_000
    assert page.sign_in() == 302
    cookie = page.client.get_cookie("fieldapp")
    assert cookie is not None
    again.client.set_cookie(cookie.key, cookie.value)
    assert again.client.get("/").status_code == 200
