"""The protocol page: whole, true, and enough for a stranger to go by."""

import html
import json
import re

import pytest

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import EntryError, read_entry
from fieldapp.core.kinds import KINDS
from fieldapp.store.database import connected, writing
from fieldapp.sync.protocol_words import CODES, FIELDS, REASONS, RESULTS
from tests.desk import Desk
from tests.people import FOREMAN, NOON, SUBJECT
from tests.sources import ROOT
from tests.store.notes import note
from tests.sync.asking import bearer, code_for, enrolled, pull, request_of, send
from tests.sync.stranger import Stranger, believed, bytes_of, holds, sha256


@pytest.fixture
def page(api: Desk) -> str:
    answer = api.client.get("/protocol")
    assert answer.status_code == 200
    return answer.text


def shown(page: str, name: str) -> str:
    """Give the text of the element with this id, as a reader would copy it."""
    found = re.search(rf'<code id="{name}">([^<]*)</code>', page)
    assert found, name
    return html.unescape(found[1])


def rows(page: str, table: str) -> list[list[str]]:
    """Give the cells of the page's table with this id, header left out."""
    found = re.search(rf'(?s)<table id="{table}">.*?<tbody>(.*?)</tbody>', page)
    assert found, table
    cells = re.compile(r"(?s)<t[hd][^>]*>(?:<code>)?(.*?)(?:</code>)?</t[hd]>")
    lines = re.findall(r"(?s)<tr>(.*?)</tr>", found[1])
    return [[html.unescape(cell) for cell in cells.findall(line)] for line in lines]


def test_the_example_can_be_worked_out_anew_with_other_tools(page: str) -> None:
    office, phone = shown(page, "office-public"), shown(page, "phone-public")
    assert sha256(bytes_of(office)) == shown(page, "office-key")
    assert sha256(bytes_of(phone)) == shown(page, "phone-key")
    assert len(bytes_of(phone)) == 65
    code, device = shown(page, "enrol-code"), shown(page, "enrol-device")
    claim = f"enrol:{code}:{device}:{phone}"
    assert holds(phone, claim, shown(page, "enrol-proof"))
    head, pulled = "0" * 64, []
    for index in (1, 2, 3):
        text, sig = (shown(page, f"entry-{index}-{part}") for part in ("bytes", "sig"))
        assert sha256(text) == shown(page, f"entry-{index}-id")
        head = sha256(head + sha256(text))
        assert head == shown(page, f"entry-{index}-head")
        pulled.append({"index": index, "bytes": text, "sig": sig})
        spoiled = text.replace('"zone":', '"zone":1')
        assert not holds(office if index == 1 else phone, spoiled, sig)
    assert believed(pulled, office) == (3, head)
    text = shown(page, "receipt-bytes")
    assert holds(office, text, shown(page, "receipt-sig"))
    told = json.loads(text)
    assert (told["head"], told["last"]) == (head, 3)
    ids = [shown(page, f"entry-{index}-id") for index in (2, 3)]
    assert [each["id"] for each in told["entries"]] == ids


def test_the_programs_own_reader_takes_the_example_too(page: str) -> None:
    for index in (1, 2, 3):
        entry = read_entry(shown(page, f"entry-{index}-bytes").encode())
        assert entry.id == shown(page, f"entry-{index}-id")


def test_a_stranger_who_read_the_page_enrols_records_and_checks(api: Desk) -> None:
    own = Stranger("laptop")
    answer = send(api, "/api/enrol", own.wish(code_for(api))).json
    token, office, site = answer["token"], answer["office_key"], answer["site"]
    notes = [own.note(site, FOREMAN, SUBJECT, f"Größe {n}") for n in range(3)]
    pushed = send(api, "/api/push", {"entries": notes}, token).json
    assert [each["result"] for each in pushed["results"]] == ["stored"] * 3
    assert [each["id"] for each in pushed["results"]] == [
        sha256(each["bytes"]) for each in notes
    ]
    receipt = pushed["receipt"]
    assert holds(office, receipt["bytes"], receipt["sig"])
    found = api.client.get("/api/pull?after=0", headers=bearer(token)).json
    assert believed(found["entries"], office) == (found["last"], found["head"])
    told = json.loads(receipt["bytes"])
    assert (told["last"], told["head"]) == (found["last"], found["head"])
    assert [each["bytes"] for each in found["entries"]][-3:] == [
        each["bytes"] for each in notes
    ]


def test_every_field_of_an_entry_is_on_the_page_and_no_other(page: str) -> None:
    told = {row[0]: row[2] == "yes" for row in rows(page, "fields")}
    assert told == {field.name: field.needed for field in FIELDS}
    body = json.loads(note(1)[1].body)
    needed = {name for name, wanted in told.items() if wanted}
    assert needed == set(body) - {"subject", "about"}
    for name in needed:
        with pytest.raises(EntryError, match=f"^{name}: "):
            read_entry(canonical({k: v for k, v in body.items() if k != name}))
    with pytest.raises(EntryError, match=r"^colour: ") as refused:
        read_entry(canonical(body | {"colour": "red"}))
    listed = refused.value.allowed.removeprefix("only ").split(", ")
    assert set(listed) == set(told)


def test_every_kind_with_what_it_says_is_on_the_page(page: str) -> None:
    told = {row[0]: row[1] for row in rows(page, "kinds")}
    assert set(told) == set(KINDS)
    for kind, fields in KINDS.items():
        for name, form in fields["about"].items():
            mark = "?" if form.endswith("?") else ""
            assert f"{name}{mark}: " in told[kind]


def test_every_code_reason_and_result_of_the_program_is_on_the_page(page: str) -> None:
    assert {row[0] for row in rows(page, "codes")} == set(CODES)
    assert {row[0] for row in rows(page, "reasons")} == set(REASONS)
    assert {row[0] for row in rows(page, "results")} == set(RESULTS)
    raised = re.compile(
        r'(?:WireError|(?:Photo|Enrolment|Return)Refused)\(\s*"(\w+)"|\d{3}: "(\w+)"'
    )
    found = set()
    for folder in ("sync", "intake"):
        for path in (ROOT / "fieldapp" / folder).rglob("*.py"):
            found |= set(raised.findall(path.read_text("utf-8")))
    faults = (ROOT / "fieldapp" / "web" / "faults.py").read_text("utf-8")
    found |= set(raised.findall(faults))
    assert {first or second for first, second in found} <= set(CODES)
    judges = [ROOT / "fieldapp" / "intake" / f"{name}.py" for name in ("batch", "gate")]
    texts = "".join(path.read_text("utf-8") for path in judges)
    given = set(re.findall(r'(?:return|else|if) "(\w+)"', texts))
    assert given >= {"unknown_key", "other_device", "revoked_key"}
    assert given - {"revoked_device", "fork", "stored"} <= set(REASONS)


def test_every_road_is_on_the_page(api: Desk, page: str) -> None:
    for rule in api.app.url_map.iter_rules():
        if rule.rule.startswith("/api/"):
            road = re.sub(r"<[^>]+>", "HASH", rule.rule)
            assert f" {road}" in page, road


def test_every_field_of_an_answer_is_on_the_page(api: Desk, page: str) -> None:
    phone = enrolled(api)
    answers = [
        api.client.get("/api/ping"),
        pull(api, phone),
        send(api, "/api/push", {"entries": []}, phone.token),
        send(api, "/api/enrol", request_of(code_for(api), device="own")),
        send(api, "/api/return", {"device": "own", "public": "x"}),
        api.client.get("/api/pull"),
    ]
    told = set().union(*(set(each.json) for each in answers))
    told |= set(answers[-1].json["error"])
    told |= set(json.loads(answers[2].json["receipt"]["bytes"]))
    words = set(re.findall(r"\w+", page))
    assert told - words == set()


def test_the_page_is_open_and_tells_nothing_of_the_site(page: str) -> None:
    assert "Tarn crossing" not in page
    assert "Ida Fell" not in re.sub(r"(?s)<h2 id=\"example\">.*", "", page)


def test_a_version_not_spoken_yet_is_answered_with_those_that_are(api: Desk) -> None:
    phone = enrolled(api)
    for path in ("/api/ping", "/api/pull"):
        asked = bearer(phone.token) | {"Fieldapp-Api": "2"}
        answer = api.client.get(path, headers=asked)
        assert answer.status_code == 400
        fault = answer.json["error"]
        assert (fault["code"], fault["field"]) == ("newer_api", "Fieldapp-Api")
        assert (fault["value"], fault["allowed"]) == (2, "version 1")
    for version in ("0", "1.0", "one", "-1", "99999"):
        answer = api.client.get("/api/ping", headers={"Fieldapp-Api": version})
        assert answer.json["error"]["code"] == "not_allowed"


def test_every_answer_states_the_version_and_no_header_means_the_first(
    api: Desk,
) -> None:
    phone = enrolled(api)
    for answer in (
        api.client.get("/api/ping", headers={"Fieldapp-Api": "1"}),
        pull(api, phone),
        api.client.get("/api/pull"),
        api.client.get("/api/photo/" + "0" * 64, headers=bearer(phone.token)),
        send(api, "/api/push", {"entries": []}, phone.token),
    ):
        assert answer.headers["Fieldapp-Api"] == "1"


def test_an_entry_of_a_form_to_come_is_answered_with_the_form_that_is_read(
    api: Desk,
) -> None:
    own = Stranger("laptop")
    token = send(api, "/api/enrol", own.wish(code_for(api))).json["token"]
    signed = own.note("tarn", FOREMAN, SUBJECT, "from tomorrow")
    body = signed["bytes"].replace('"format":1', '"format":2')
    newer = {"bytes": body, "sig": own.sign(body)}
    unknown = signed["bytes"].replace('"kind":"note"', '"kind":"drone_seen"')
    carried = {"bytes": unknown, "sig": own.sign(unknown)}
    results = send(api, "/api/push", {"entries": [newer, carried]}, token).json
    first, second = results["results"]
    assert first["result"] == "unreadable"
    assert re.search("^format: found '2', allowed: .* 1 to 1", first["reason"])
    assert second["result"] == "stored"
    headers = bearer(token)
    last = api.client.get("/api/pull?after=3&limit=500", headers=headers).json
    everything = api.client.get("/api/pull?after=0", headers=headers).json
    assert unknown in [each["bytes"] for each in everything["entries"]]
    assert last["epoch"] == everything["epoch"]


def test_what_the_first_version_sent_is_taken_for_ever(api: Desk) -> None:
    """These bytes were signed when version 1 was written and never change."""
    kept = json.loads((ROOT / "tests" / "vectors" / "first_push.json").read_text())
    wish, store = kept["enrolment"], api.site.wired.door.store
    with connected(store), writing(store):
        store.tables["codes"].insert(
            code=sha256(wish["code"].replace("-", "")), person=FOREMAN,
            issued_by="o", made=NOON, expires=NOON + 1,
        ).execute()  # fmt: skip
    answer = send(api, "/api/enrol", wish)
    assert answer.status_code == 200
    token = answer.json["token"]
    results = send(api, "/api/push", {"entries": kept["entries"]}, token).json
    shown = [(each["id"], each["result"]) for each in results["results"]]
    assert shown == [(each, "stored") for each in kept["ids"]]
