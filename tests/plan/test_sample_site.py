"""The sample site compiles to sheets that fold and tell a whole joint."""

import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.core.fold import fold
from fieldapp.core.kernel import WORDS
from tests.core.story import START_MS
from tests.plan.sample import (
    GOOD_FACES,
    SAMPLE,
    compiled,
    fitted,
    sheet_of,
    story,
    told,
)
from tests.sources import ROOT, files_in

HOLDS_IDS = ("steps", "points", "milestones", "clocks", "holds", "cards")
PIERS = {"j-": 9, "j3-": 13}
JOINTS = [
    f"{pier}{arm}{order}"
    for pier, count in PIERS.items()
    for arm in "we"
    for order in range(1, count + 1)
]
DUCTS = ["t-1L", "t-1R", "t-2L", "t-2R", "t-3L", "t-3R", "t3-1L", "t3-1R"]
DAYS, OUT = ["g2-1", "g2-2", "g2-3", "g3-1"], ["x-w1", "x-e1", "x-w2", "x-e2"]
SUBJECTS = [*JOINTS, *DUCTS, *DAYS, *OUT]


def test_there_is_a_sheet_for_every_subject_in_the_order_of_the_kinds() -> None:
    assert list(compiled().sheets) == SUBJECTS
    picture = compiled().picture
    assert [each["id"] for each in picture["subjects"]] == SUBJECTS
    kinds = ["glued-joint", "duct", "grouting-day", "bars-out"]
    assert [each["id"] for each in picture["kinds"]] == kinds


@pytest.mark.parametrize("subject", SUBJECTS)
def test_a_sheet_is_prepared_and_folds_to_nothing_done(subject: str) -> None:
    state = fold(sheet_of(subject), [], {"people": {}}, {"at": START_MS})
    assert state["verdict"] == "incomplete"
    # What waits for nothing but other subjects is ready once they are; none is now.
    assert {point["status"] for point in state["points"].values()} <= {
        "waiting", "ready",
    }  # fmt: skip
    assert state["nonconformances"] == state["flags"] == []


def test_only_the_first_joint_of_an_arm_waits_for_no_other() -> None:
    waits = {
        name: sorted({each["subject"] for each in sheet["prerequisites"]})
        for name, sheet in compiled().sheets.items()
    }
    assert waits["j-w1"] == waits["j-e1"] == waits["j3-w1"] == waits["j3-e1"] == []
    # The one before on the arm, and the other arm's, so that neither runs ahead; and
    # the tendons grouted by then, on which nothing more hangs for 48 hours.
    assert waits["j-w4"] == ["j-e3", "j-w3"]
    assert waits["j-w5"] == ["j-e4", "j-w4", "t-2L", "t-2R"]
    assert waits["j-e9"] == ["j-e8", "j-w8"]


def test_the_kernel_is_asked_only_words_it_knows() -> None:
    used = {
        part["word"] for sheet in compiled().sheets.values() for part in _tables(sheet)
    }
    assert used <= set(WORDS)
    assert len(WORDS) <= 15


def test_the_same_files_give_the_same_bytes_whatever_the_order_of_sets() -> None:
    ask = (
        "from fieldapp.plan import read_site, compile_site\n"
        "from fieldapp.core.canonical import fingerprint\n"
        f"site = compile_site(read_site({str(SAMPLE)!r}))\n"
        "print(fingerprint([site.sheets, site.tables, site.picture]))\n"
    )
    here = compiled()
    wanted = fingerprint([here.sheets, dict(here.tables), here.picture])
    for seed in ("1", "2"):
        found = subprocess.run(
            [sys.executable, "-c", ask],
            check=True, capture_output=True, text=True, cwd=ROOT,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
        )  # fmt: skip
        assert found.stdout.strip() == wanted


def test_tables_are_kept_by_their_own_hash() -> None:
    for key, body in compiled().tables.items():
        assert fingerprint(body) == key


def test_every_limit_says_where_it_comes_from() -> None:
    for sheet in compiled().sheets.values():
        limits = [
            *(c for step in sheet["steps"].values() for c in step["checks"]),
            *(r for point in sheet["points"].values() for r in point["requires"]),
            *(ratio for clock in sheet["clocks"] for ratio in clock["ratios"]),
            *sheet["holds"],
        ]
        assert all(limit["source"] for limit in limits)
        points = sheet["points"].values()
        assert all(point.get("source") or point["requires"] for point in points)


def test_every_dangerous_step_says_its_caution() -> None:
    # Nothing to handle: a thermometer pointed at a face.
    harmless = {"face-temp"}
    for sheet in compiled().sheets.values():
        bare = {n for n, step in sheet["steps"].items() if not step.get("caution")}
        assert bare <= harmless


def test_the_elevation_shows_both_arms_in_the_order_they_are_hung() -> None:
    pier = compiled().picture["piers"][0]
    west, east = pier["arms"]
    assert [s["order"] for s in west["segments"]] == list(range(1, 10))
    assert (west["side"], east["side"]) == (-1, 1)
    # 118 m less half of the pier segment, 2.5 m; then 3 m segments outwards.
    assert [s["at"] for s in west["segments"][:3]] == [115_500, 112_500, 109_500]
    assert [s["at"] for s in east["segments"][:3]] == [120_500, 123_500, 126_500]
    assert west["segments"][1]["joint"] == "j-w2"
    canonical(compiled().picture)


def test_a_whole_joint_is_told_to_its_end_without_a_nonconformance() -> None:
    state = told("signed").state()
    assert state["verdict"] == "complete"
    assert state["nonconformances"] == state["flags"] == []
    assert set(state["milestones"]) == {"pressure", "on-bars"}
    assert state["clocks"]["open-cool"]["status"] == "met"


def test_pressure_is_expected_after_what_is_left_to_do() -> None:
    # At minute 20 both kits are on the face. Left: 3 spots of 0.5 min, closing 4 min,
    # 18 bars of 1.25 min: 28 min, whichever adhesive was not chosen.
    clock = told("kits").state()["clocks"]["open-cool"]
    assert (clock["expected"] - START_MS) / 60_000 == 48


def test_mixing_waits_for_the_joint_before() -> None:
    joint = story("j-w2")
    joint.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    joint.at(2).done("ready", by="tamsin", values={"gap": 1, "kit": 1})
    refusals = joint.state()["points"]["mixing"]["refusals"]
    assert "other_subject" in [each["code"] for each in refusals]
    joint.milestones["j-w1"] = {"weight-off": "0" * 64}
    lift = joint.state()["points"]["lift"]["refusals"]
    # Nor is it lifted while the other arm hangs nothing.
    assert {"subject": "j-e1", "name": "weight-off"} in [e["facts"] for e in lift]
    joint.milestones["j-e1"] = {"weight-off": "1" * 64}
    lift = joint.state()["points"]["lift"]["refusals"]
    # Nor before the joint behind was looked at for the weight to come.
    assert {"subject": "j-w1", "name": "next-may-hang"} in [e["facts"] for e in lift]
    joint.milestones["j-w1"]["next-may-hang"] = "2" * 64
    state = joint.state()["points"]
    for point in ("lift", "mixing"):
        codes = [each["code"] for each in state[point]["refusals"]]
        assert "other_subject" not in codes


def test_faces_read_over_an_hour_ago_must_be_read_again() -> None:
    joint = told("faces")
    assert joint.state(61)["points"]["mixing"]["status"] == "ready"
    refusals = joint.state(61.1)["points"]["mixing"]["refusals"]
    assert [each["facts"]["requirement"] for each in refusals] == ["fresh"]


def test_the_adhesive_chosen_decides_which_mixing_step_there_is() -> None:
    state = told("faces").state()
    assert state["steps"]["mix-warm"]["status"] == "off"
    assert state["steps"]["mix-cool"]["status"] != "off"
    warm = story()
    warm.at(1).done("faces", by="tamsin", values=GOOD_FACES | {"formulation": 2})
    assert warm.state()["steps"]["mix-cool"]["status"] == "off"


@pytest.mark.parametrize(
    ("changed", "failed"),
    [
        ({"rag-old": 2}, ["dry"]),
        ({"cold-old": 49, "humidity": 30}, ["window"]),
        ({"hot-new": 201}, ["hotter"]),
        ({"cold-old": 50, "hot-new": 200, "humidity": 30}, []),
    ],
)
def test_faces_outside_their_limits_fail(
    changed: dict[str, int], failed: list[str]
) -> None:
    joint = story()
    joint.at(1).done("faces", by="tamsin", values=GOOD_FACES | changed)
    assert joint.state()["steps"]["faces"]["failed"] == failed


def test_another_adhesive_than_planned_has_its_lots_looked_at_before_mixing() -> None:
    joint = fitted()
    joint.at(1).done("faces", by="tamsin", values=GOOD_FACES | {"formulation": 2})
    joint.at(3).done("ready", by="tamsin", values={"gap": 1, "kit": 1})
    state = joint.state()
    assert state["steps"]["faces"]["cautions"] == ["planned"]
    assert state["steps"]["lots-warm"]["status"] == "open"
    lacks = {"code": "step_open", "facts": {"step": "lots-warm"}}
    assert state["points"]["mixing"]["refusals"] == [lacks]
    joint.at(4).done("lots-warm", by="tamsin", values={"lot": "lot-w1"})
    # What hangs was let hang by a release that stood then.
    state = joint.state()
    assert state["points"]["mixing"]["status"] == "ready"
    assert state["steps"]["hung-up"]["status"] == "done"


def test_rain_lapses_the_release_and_over_time_shuts_the_next_gate() -> None:
    joint = told("mixing")
    joint.at(6).say("stopped", by="tamsin", about={"reason": "rain"})
    assert joint.state()["points"]["mixing"]["status"] == "lapsed"
    late = told("kits")
    codes = {each["check"] for each in late.state(400)["nonconformances"]}
    assert codes == {"pressure", "over"}


def test_rework_asks_for_cleaning_and_a_day_before_mixing_again() -> None:
    joint = told("kits")
    fault = joint.at(90).state()["nonconformances"][0]["id"]
    about = {"target": fault, "verdict": "rework", "reason": "late", "from": "faces"}
    again = joint.say("disposition", by="caspar", about=about, unlocked="pin")
    joint.at(95).done("cleaned", by="tamsin", attempt=again, values={"clean": 1})
    day = 24 * 60
    minute = 95 + day - 1
    joint.at(minute).done("faces", by="tamsin", attempt=again, values=GOOD_FACES)
    ready = {"gap": 1, "kit": 1}
    joint.at(minute + 0.5).done("ready", by="tamsin", attempt=again, values=ready)
    refusals = joint.state()["points"]["mixing"]["refusals"]
    assert [each["code"] for each in refusals] == ["hold_running"]
    assert joint.state(95 + day)["points"]["mixing"]["status"] == "ready"


def test_no_id_of_the_sample_site_is_quoted_in_the_package() -> None:
    own = set(SUBJECTS)
    for file in (SAMPLE / "plan").glob("*.toml"):
        plan = tomllib.loads(file.read_text("utf-8"))
        own |= {plan["id"], *(name for key in HOLDS_IDS for name in plan.get(key, ()))}
    # Parameters of the package's calculations, words of its states and screens.
    own -= {
        "faces", "spots", "spread", "bars", "pressure", "close", "bar", "ready", "wind",
    }  # fmt: skip
    quoted = re.compile(
        "|".join(f"[\"']{re.escape(name)}[\"']" for name in sorted(own))
    )
    parts = ("core", "plan", "records", "web", "sync", "static")
    for path in files_in("fieldapp", "static", suffix=".py") + files_in(
        "static", suffix=".js"
    ):
        if path.relative_to(ROOT).parts[0 if path.suffix == ".js" else 1] in parts:
            assert quoted.findall(path.read_text("utf-8")) == [], path


def _tables(part: Any) -> Iterator[dict[str, Any]]:
    if isinstance(part, dict):
        if "word" in part:
            yield part
        for inner in part.values():
            yield from _tables(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from _tables(inner)


def test_no_judgement_is_carried_over_from_the_line_before() -> None:
    carried = [
        field
        for sheet in compiled().sheets.values()
        for step in sheet["steps"].values()
        for field in step.get("fields", [])
        if field.get("same")
    ]
    assert carried
    judged = [
        field["id"]
        for field in carried
        if any("good" in option for option in field.get("options", []))
    ]
    assert judged == []
