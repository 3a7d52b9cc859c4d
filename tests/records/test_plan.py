"""The plan on paper: every step and point with its limits, sources and signatures."""

import copy
from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any, cast

import pytest

from fieldapp.core.sheet import prepare
from fieldapp.records import plan_signatures
from fieldapp.records.names import Names
from fieldapp.records.plan import PlanView, plan_pdf, plan_view
from fieldapp.records.plan_signatures import SignatureLine
from tests.plan.sample import sheet_of
from tests.records.joint import FROZEN
from tests.records.paper import PAPER, opened, pages, structure

pytestmark = PAPER
NOW = 1_800_000_000_000
RAW = FROZEN["sheet"]
SHEET = prepare(RAW, FROZEN["tables"])
NAMES = Names(site=FROZEN["site"])
UNSIGNED = SignatureLine(
    part="approved", wanted="", name="", organisation="", when="", trace=""
)
SIGNED = SignatureLine(
    part="prepared", wanted="Erection engineer", name="Edric Vanholt",
    organisation="Corvane Erection", when="2026-11-09 10:00 UTC+01:00",
    trace="entry 0123456789, key 9876543210",
)  # fmt: skip


@cache
def view() -> PlanView:
    return plan_view(SHEET, NAMES, (SIGNED, UNSIGNED), NOW)


@cache
def said() -> str:
    return squeezed(" ".join(pages(plan_pdf(SHEET, view(), NOW, "A4"))))


def squeezed(text: str) -> str:
    return "".join(text.split())


def test_every_step_and_point_stands_once_in_the_order_of_the_work() -> None:
    titles = [{**RAW["steps"], **RAW["points"]}[name]["title"] for name in RAW["flow"]]
    assert [row.title for row in view().rows] == titles
    assert [row.number for row in view().rows] == list(range(1, len(titles) + 1))
    assert all(squeezed(title) in said() for title in titles)


def test_every_limit_stands_with_its_source() -> None:
    for part in (*RAW["steps"].values(), *RAW["points"].values()):
        for each in (*part.get("checks", ()), *part.get("requires", ())):
            assert squeezed(each["text"]) in said()
            assert squeezed(each.get("source", "")) in said()


def test_a_point_says_its_class_who_releases_and_who_may_not() -> None:
    for name, point in RAW["points"].items():
        row = next(row for row in view().rows if row.title == point["title"])
        assert row.letter == point["class"][0].upper()
        role = FROZEN["site"]["roles"][point["releases"][0]["role"]]
        assert role in row.who[0], name
        if point.get("independent", True):
            assert "not by whoever did the work" in row.terms


def test_a_witness_point_tells_its_notice_and_a_deputy_his_turn() -> None:
    raw = copy.deepcopy(RAW)
    name, point = next(iter(raw["points"].items()))
    point |= {
        "class": "witness", "notice_ms": 7_200_000, "other_organisation": 1,
        "until_minute": 1_140,
        "releases": [{"role": "inspector", "organisation": ["tisk-board"],
                      "deputies": [{"role": "designers-engineer",
                                    "after_ms": 1_200_000}]}],
    }  # fmt: skip
    shown = plan_view(prepare(raw, FROZEN["tables"]), NAMES, (), NOW)
    row = next(row for row in shown.rows if row.title == point["title"])
    assert row.letter == "W", name
    assert "notice 2 h 00 min" in row.terms
    assert "ends at 19:00" in row.terms
    assert "not by the organisation that did the work" in row.terms
    assert "20 min after the call" in row.who[0]


def test_a_signature_is_printed_and_a_missing_one_leaves_a_line_to_write_on() -> None:
    for text in ("EdricVanholt", "CorvaneErection", "entry0123456789,key9876543210"):
        assert text in said()
    assert "prepared" in said()
    assert "approved" in said()


def test_clocks_stand_with_their_share_of_the_life_and_its_source() -> None:
    told = {(title, limit): source for title, _, limit, source in view().clocks}
    # joint.json: seven tenths of the open time, VDOT 453-5.1 and 5.6 as the plan says.
    key = (
        "Open time, cool formulation",
        "Pressure by: 70.0\N{NO-BREAK SPACE}% of the life",
    )
    assert told[key] == "VDOT 453-5.1, 5.6"


def test_the_plan_of_a_joint_with_all_its_steps_has_six_pages() -> None:
    # Eight before its columns were as wide as what stands in them.
    sheet = sheet_of("j-w1")
    # As the sample site signs it: by three, some named in two lines.
    by = "Owner's engineer (Tisk Crossing Board), Designer's engineer (Ostrel Bridge)"
    signed = (SIGNED, *(replace(SIGNED, part=p, wanted=by) for p in ("checked", "ok")))
    shown = plan_view(sheet, NAMES, signed, NOW)
    read = pages(plan_pdf(sheet, shown, NOW, "A4"))
    assert len(read) <= 6
    assert all(len(squeezed(page)) > 1_000 for page in read[:-1])


def test_it_lies_on_its_side_is_tagged_and_says_its_pages() -> None:
    made = plan_pdf(SHEET, view(), NOW, "Letter")
    pdf = opened(made)
    assert [int(float(side)) for side in pdf.pages[0].MediaBox][2:] == [792, 612]
    assert {"/H1", "/Table", "/TH", "/TD"} <= {str(e.S) for e in structure(pdf)}
    read = pages(made)
    assert f"page 1 of {len(read)}" in read[0]
    assert all("does not approve" in page for page in read)


def test_signatures_are_told_in_the_sites_own_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # 05:00 UTC on a phone that kept UTC is 06:00 in a site one hour east of it.
    entry = SimpleNamespace(
        at=1_794_718_800_000, zone=0, person="elin", id="ab" * 32, key="cd" * 32
    )
    each = SimpleNamespace(part="prepared", wanted=(), entry=entry)
    plan = SimpleNamespace(signatures=(each,))
    monkeypatch.setattr(plan_signatures, "_plan_of", lambda *_: plan)
    monkeypatch.setattr(plan_signatures, "roster_of", lambda *_: {})
    names = Names(site={**FROZEN["site"], "zone": 60})
    (line,) = plan_signatures.signature_lines(cast(Any, None), cast(Any, None), names)
    assert line.when == "2026-11-15 06:00 UTC+01:00"
