"""Codes, keys and sessions at the desk: shown once, ended with a reason."""

import html
import re
from pathlib import Path

import pytest

from fieldapp.cli import main
from fieldapp.lookups import roster_of
from fieldapp.store.database import connected
from fieldapp.store.devices import find_device
from tests.desk import OFFICE_NAME, READER_NAME, Desk, desk
from tests.people import FOREMAN, INSPECTOR

CODE = re.compile(r'class="code">([A-Z0-9]{4}-[A-Z0-9]{4})<')
PATH = re.compile(r'class="qr".*?<path d="([^"]+)"', re.DOTALL)


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    made = desk(tmp_path)
    made.site.phone("gang", FOREMAN, INSPECTOR)
    return made


def keys(page: Desk, person: str) -> dict[str, str]:
    with connected(page.site.wired.door.store):
        known = roster_of(page.site.wired.reader)[person]["keys"]
    return {key: facts["status"] for key, facts in known.items()}


def test_a_code_is_shown_in_writing_and_as_a_code_to_scan(page: Desk) -> None:
    page.sign_in()
    answer = page.post(f"/people/{FOREMAN}/code", {}, form="/people")
    found, drawn = CODE.search(answer.text), PATH.search(answer.text)
    assert found
    assert drawn
    size = int(re.findall(r'viewBox="0 0 (\d+)', answer.text)[-1])
    # An independent reader is not at hand: the code is compared with a fresh one.
    import segno

    wanted = segno.make(
        f"http://localhost/phone/#/enrol/{found[1]}", error="q", boost_error=False,
        micro=False,
    )  # fmt: skip
    dark = {
        (int(x) - 4, int(y) - 4)
        for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", html.unescape(drawn[1]))
    }
    assert size == len(wanted.matrix) + 8
    assert dark == {
        (x, y) for y, row in enumerate(wanted.matrix) for x, on in enumerate(row) if on
    }


def test_a_forgotten_pin_retires_one_key_and_a_lost_phone_all_of_its_keys(
    page: Desk,
) -> None:
    page.sign_in()
    (key,) = keys(page, FOREMAN)
    # Whoever made the code stands beside the key it let in.
    assert "by a code of play" in page.client.get("/people").text
    address = f"/people/{FOREMAN}/keys/{key}/retire"
    assert page.post(address, {"reason": " "}, form="/people").status_code == 400
    assert keys(page, FOREMAN) == {key: "active"}
    done = page.post(address, {"reason": "PIN forgotten"}, form="/people")
    assert done.status_code == 302
    assert keys(page, FOREMAN) == {key: "retired"}
    assert page.post(address, {"reason": "again"}, form="/people").status_code == 409

    lost = "/people/phones/gang/lost"
    assert page.post(lost, {"reason": "Fell in"}, form="/people").status_code == 302
    assert set(keys(page, INSPECTOR).values()) == {"revoked"}
    assert keys(page, FOREMAN) == {key: "revoked"}
    store = page.site.wired.door.store
    with connected(store):
        device = find_device(store, "gang")
    assert device is None or device.revoked
    assert page.post(lost, {"reason": "x"}, form="/people").status_code == 409


def test_only_the_office_ends_keys_and_only_from_its_own_page(page: Desk) -> None:
    (key,) = keys(page, FOREMAN)
    address = f"/people/{FOREMAN}/keys/{key}/retire"
    assert page.client.post(address, data={"reason": "x"}).status_code == 400
    page.sign_in(READER_NAME)
    assert "End it" not in page.client.get("/people").text
    assert page.post(address, {"reason": "x"}, form="/sessions").status_code == 403
    assert keys(page, FOREMAN) == {key: "active"}


def test_sessions_are_listed_and_ended_by_whom_they_belong_to(page: Desk) -> None:
    page.sign_in()
    other = Desk(app=page.app, client=page.app.test_client(), site=page.site)
    other.sign_in(READER_NAME)
    listed = re.findall(r'data-session="(\w+)"', page.client.get("/sessions").text)
    (own,) = re.findall(r'data-session="(\w+)"', other.client.get("/sessions").text)
    assert len(listed) == 2
    assert own in listed
    (office,) = set(listed) - {own}
    refused = other.post(f"/sessions/{office}/end", {}, form="/sessions")
    assert refused.status_code == 404
    for made_up in ("", "%", own[:8], "_" * 16):
        answer = page.post(f"/sessions/{made_up}/end", {}, form="/sessions")
        assert answer.status_code == 404
    assert other.client.get("/").status_code == 200
    assert page.client.post(f"/sessions/{own}/end").status_code == 400
    assert page.post(f"/sessions/{own}/end", {}, form="/sessions").status_code == 302
    assert other.client.get("/").status_code == 302
    assert page.client.get("/").status_code == 200


def test_the_command_lists_sessions_and_ends_keys_and_phones(
    page: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    page.sign_in()
    data = ["--data", str(page.site.data)]
    (key,) = keys(page, FOREMAN)
    assert main(["person", "sessions", *data]) == 0
    # The page's clock stands still in this test: the session is long over by now's.
    capsys.readouterr()
    assert main(["person", "list", *data]) == 0
    assert f"{key[:10]} on gang (active, " in capsys.readouterr().out
    end = ["person", "retire-key", FOREMAN]
    assert main([*end, "zz", "--reason", "x", *data]) == 2
    assert key[:10] in capsys.readouterr().err
    assert main([*end, key[:10], "--reason", "PIN forgotten", *data]) == 0
    assert keys(page, FOREMAN) == {key: "retired"}
    lose = ["person", "lose-phone", "gang", "--reason", "lost", *data]
    assert main(lose) == 0
    assert "ida" in capsys.readouterr().out
    assert set(keys(page, INSPECTOR).values()) == {"revoked"}
    assert main(lose) == 2


def test_every_form_of_the_desk_wants_its_token(page: Desk) -> None:
    page.sign_in()
    rules = [
        rule
        for rule in page.app.url_map.iter_rules()
        if "POST" in (rule.methods or ()) and not rule.rule.startswith("/api/")
    ]
    assert len(rules) >= 6
    for rule in rules:
        address = re.sub(r"<[^>]+>", "x", rule.rule)
        assert page.client.post(address, data={}).status_code == 400, address
    assert page.client.get("/").status_code == 200, OFFICE_NAME
