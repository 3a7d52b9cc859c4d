"""Addresses and forms of the desk, spoiled: a page, and never a fault of ours."""

from random import Random
from urllib.parse import quote

import pytest

from fieldapp.calc import catalogue
from fieldapp.store.database import connected
from tests.desk import PAPER, TOKEN, Desk, desk
from tests.fuzz.spoil import bounded, seeds
from tests.people import FOREMAN, INSPECTOR, NOON, SUBJECT, wiped

ODD = (
    "", "J1", "j1", "..", "../../site.key", "%", "%00", "\x00", "\ud800", "\uff11", "-",
    "x" * 3_000, "<script>", "'", '"', "{{7*7}}", "0", "-1", "9" * 400, "e\u0301",
    "\u202e", "a/b", "a\\b", " ", "\r\nX: y", "NaN", "1e400", "f" * 64, "\u0663",
)  # fmt: skip
KEYS = (
    "q", "now", "at", "from", "day", "pier", "arm", "kind", "status", "next", "page",
    "input", "paste.bars", "bars.0.x_m", "bars.9999.x_m", "bars", "a.b.c.d.e.f.g.h.i",
)  # fmt: skip


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    made = desk(tmp_path_factory.mktemp("desk"))
    made.sign_in()
    phone = made.site.phone("gang", FOREMAN, INSPECTOR)
    wiped(phone)
    with connected(made.site.wired.door.store):
        made.site.world.sync(phone, NOON)
    return made


def addresses(page: Desk, method: str) -> list[str]:
    """Give the patterns of all addresses that take a method."""
    rules = page.app.url_map.iter_rules()
    return sorted(r.rule for r in rules if method in (r.methods or ()))


def filled(pattern: str, rng: Random) -> str:
    """Put something odd, or something known, where a pattern has a name."""
    path = pattern
    while "<" in path:
        start, end = path.index("<"), path.index(">")
        odd = rng.choice((SUBJECT, "shim", FOREMAN, *ODD))
        path = path[:start] + quote(odd, safe="/", errors="replace") + path[end + 1 :]
    return path


@PAPER
def test_odd_addresses_get_a_page(page: Desk) -> None:
    patterns = addresses(page, "GET")
    for seed in seeds(250):
        rng = Random(seed)
        path = filled(rng.choice(patterns), rng)
        query = {
            rng.choice(KEYS): rng.choice(ODD).encode("utf-8", "surrogatepass")
            for _ in range(rng.randint(0, 3))
        }
        with bounded():
            answer = page.client.get(path, query_string=query)
            answer.close()
        assert answer.status_code < 500, (path, query)


@PAPER
def test_odd_forms_get_a_page(page: Desk) -> None:
    patterns = [each for each in addresses(page, "POST") if not each.startswith("/api")]
    token = TOKEN.search(page.client.get("/calculations/shim").text)
    assert token is not None
    for seed in seeds(150):
        rng = Random(seed)
        path = filled(rng.choice(patterns), rng)
        if path == "/sign-out":
            continue
        fields = {
            rng.choice((*KEYS, "name", "password", "csrf_token")): rng.choice(ODD)
            for _ in range(rng.randint(0, 5))
        }
        sent = {"csrf_token": token[1], **fields} if rng.random() < 0.8 else fields
        body = "&".join(
            f"{quote(key)}={quote(value, errors='surrogatepass')}"
            for key, value in sent.items()
        )
        with bounded():
            answer = page.client.post(path, data=body, content_type=_type(rng))
            answer.close()
        assert answer.status_code < 500, (path, sent)


@pytest.mark.parametrize("name", catalogue.names())
def test_odd_fields_of_a_calculation_get_a_page(page: Desk, name: str) -> None:
    path = f"/calculations/{name}"
    example = catalogue.get(name).example
    for seed in seeds(8):
        rng = Random(f"{name} {seed}")
        query = {key: rng.choice((*ODD, "1", "2.5")) for key in example}
        query |= {f"{key}.0": rng.choice(ODD) for key in list(example)[:2]}
        told = {k: v.encode("utf-8", "surrogatepass") for k, v in query.items()}
        with bounded():
            answer = page.client.get(path, query_string=told)
        assert answer.status_code < 500, query


def _type(rng: Random) -> str:
    return rng.choice(
        ("application/x-www-form-urlencoded",) * 4
        + ("multipart/form-data; boundary=x", "application/json", "text/plain")
    )
