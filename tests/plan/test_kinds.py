"""Kinds with their own tables, columns, clocks by time, and what may be wrong there."""

from pathlib import Path

import pytest

from tests.plan.sample import compiled, copied, faults_of, spoil

DUCT, DAY, JOINT, OUT = (
    f"plan/{name}.toml" for name in ("duct", "grouting_day", "glued_joint", "bars_out")
)

# file, what stands there, what is put there, the place told, part of what is allowed
ONE_FAULT = [
    (DUCT, 'subjects = "ducts.csv"', 'subjects = "../ducts"', "subjects", "a table"),
    (DUCT, 'subjects = "ducts.csv"', 'subjects = "tubes.csv"', "", "can be read"),
    (DUCT, '{ column = "bore_mm" }', '{ column = "bore" }', "bore_mm", "bore_mm"),
    (DUCT, "{strands} strands,", "{strand} strands,", "facts[1].value", "{strands}"),
    (DUCT, 'by = "joints"', 'by = "faces"', "prerequisites[1].by", "a column of"),
    (OUT, 'gives_back = "joint"', 'gives_back = "joints"', "steps.bars-back.gives_back",
     "a column of bars_out.csv"),
    (OUT, 'gives_back = "joint"', 'gives_back = "pier"', "steps.bars-back.gives_back",
     "the id of a subject"),
    (DUCT, 'milestone = "seal-signed"', 'milestone = "sealed"', "milestone",
     "of glued-joint"),
    (DUCT, 'before = ["threading"]', 'before = ["strand-in"]', "before[1]", "a point"),
    (DUCT, "life_min = 28800", "life_min = 0", "clocks.in-duct.life_min", "from 1"),
    (DUCT, '28800\nuntil = "grouted"', '28800\nuntil = "vents-shut"',
     "clocks.in-duct.until", "a step without lines"),
    (DUCT, 'id = "seen", title', 'id = "by", title', "to-engineer.ratios[1].id",
     "a name of its own"),
    (DUCT, 'list = { column = "vents" }', 'list = "v1 v1"', "list", "each id once"),
    (DUCT, 'list = { column = "vents" }', 'list = "v1"', "lines", "two lines"),
    (DUCT, 'lines = "vents"\ncondition', 'lines = "batches"\ncondition', "step",
     "a step with these lines"),
    (DUCT, "needed = 1", "needed = 5", "needed", "at most the 4"),
    (DUCT, 'field = "grout-stayed.stayed"', 'field = "shut-off.held"', "field", "in L"),
    (DUCT, "low_percent = 93", "low_percent = 193", "low_percent", "below high"),
    (DUCT, 'bags = "grout-batch.bags"', 'bags = "tendon-force.set"',
     "water", "step of"),
    (DUCT, 'name = "flow" }]], plus = -5', 'name = "flux" }]], plus = -5', "name",
     "flow"),
    (DAY, 'until = "20:00"', 'until = "8 pm"', "grout-go.until", "as 18:00"),
    (DAY, "after_min = 60", "after_min = -1", "after_min", "from 0"),
    (JOINT, "notice_min = 1440\n", "", "notice_min", "a time"),
    (JOINT, "life_min = 30", "notice_min = 30", "points.mixing.notice_min", "witness"),
    (JOINT, "height_m = 30", "height_m = 8", "height_m", "a height"),
    (JOINT, "below_top_m = 0.4", "below_top_m = 2.9", "below_top_m", "the depth"),
    (JOINT, 'around = { column = "weight_kn" }', "around = -1", "around", "from 0"),
    ("ducts.csv", "bore_mm,strands", "Bore,strands", "Bore", "small letters"),
    ("ducts.csv", "t-1R,", "j-w1,", "id", "no other subject"),
    ("ducts.csv", ",p2,", ",p7,", "pier", "p2"),
    ("ducts.csv", ",90,12,1680", ",90,12,9680", "", ""),
    ("items.csv", "uses_max", "uses_most", "uses_most", "a number of bar: uses_max"),
    ("items.csv", ",1.95,", ",1.9555,", "density_low", "kg/L with 3 places"),
    ("site.toml", '"grouting-day",', '"grout-day",', "kinds[3]", "grouting-day"),
    ("site.toml", '"duct", ', "", "id", "a kind that site.toml orders"),
    ("site.toml", 'id = "uses_max" }', 'id = "uses_max", unity = 1 }', "unity", "unit"),
]  # fmt: skip


@pytest.mark.parametrize("spoiled", ONE_FAULT, ids=lambda each: f"{each[3]}:{each[2]}")
def test_a_fault_of_a_kind_or_its_table_is_told_with_its_place(
    tmp_path: Path, spoiled: tuple[str, str, str, str, str]
) -> None:
    name, old, new, where, allowed = spoiled
    folder = copied(tmp_path / "site")
    spoil(folder, name, old, new)
    found = faults_of(folder)
    assert any(where in f.where and allowed in f.allowed for f in found), found


def test_a_row_that_names_a_subject_there_is_not_is_told_once(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, "ducts.csv", "g2-1,j-w1 j-e1", "g2-1,j-w1 j-w7")
    assert [(f.where, f.found) for f in faults_of(folder)] == [
        ("prerequisites[1].by", '"j-w7"')
    ]


def test_subjects_that_wait_for_each_other_are_a_fault(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    waits = '[[prerequisites]]\nby = "ducts"\nmilestone = "grout-air"\n'
    spoil(folder, DAY, "[cards.cold]", waits + 'before = ["grout-go"]\n\n[cards.cold]')
    (fault,) = faults_of(folder)
    assert fault.file == "ducts.csv"
    assert fault.found == '"t-1L for g2-1 for t-1L"'


def test_another_subjects_stage_may_be_a_condition(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    old = 'locked = { between = { reduce = "count", step = "shut-off" }, low = 1 }'
    new = '{ reached = "cured", subject = "j-w1" }'
    spoil(folder, DUCT, old, f"{old}\nhard = {new}\nwrong = {new.replace('w1', 'w8')}")
    assert [f.where for f in faults_of(folder)] == ["conditions.wrong.subject"]


def test_a_clock_by_time_alone_has_its_time_to_the_millisecond() -> None:
    sheet = compiled().sheets["t-1L"]
    clock = next(each for each in sheet["clocks"] if each["id"] == "in-duct")
    body = compiled().tables[sheet["tables"][clock["table"]]]
    assert (clock["temps"], body["temps"], body["certified"]) == ([], [0], [0])
    # Days of 86,400,000 ms; the rate, 1e-15 per ms, alone would be a trifle slow.
    caps_ms = [days * 86_400_000 for days in (7, 15, 20)]
    assert [ratio["cap_ms"] for ratio in clock["ratios"]] == caps_ms
    assert 0 <= 1 - body["rates"][0] * caps_ms[-1] / 10**15 < 2e-6


def test_points_carry_what_the_core_asks_of_them() -> None:
    points = compiled().sheets["j-w1"]["points"]
    assert points["weight-seen"]["notice_ms"] == 24 * 3_600_000
    assert points["lift"]["until_minute"] == [7 * 60, 19 * 60]
    assert points["lift"]["spoken_ms"] == 12 * 3_600_000
    assert points["mixing"]["other_organisation"] == 1
    (wanted,) = points["mixing"]["releases"]
    assert wanted["deputies"] == [
        {
            "role": "owners-engineer",
            "organisation": ["tisk-board"],
            "after_ms": 1_200_000,
        }
    ]


def test_certificates_travel_as_whole_numbers_of_their_kind() -> None:
    items = compiled().sheets["t-1L"]["items"]
    assert items["bar-01"]["numbers"] == {"uses_max": 10}
    assert items["grout-g1"]["numbers"] == {
        "flow": 20, "density_low": 1950, "density_high": 2090,
    }  # fmt: skip
    assert items["grout-g1"]["facts"] == [{"label": "Certificate", "value": "QC-G118"}]
    kinds = {each["id"]: each for each in compiled().picture["item_kinds"]}
    assert kinds["bar"]["numbers"] == [{"id": "uses_max", "unit": "", "places": 0}]
    # As the plan asks of a jack's points: 1 % off one line, pressures in whole bars.
    assert kinds["jack"]["calibration"] == {"places": 0, "residual": 100}
    assert [name for name in kinds if "calibration" in kinds[name]] == ["jack"]


def test_each_of_the_six_critical_steps_ends_in_a_point_of_its_own() -> None:
    joint, duct = (compiled().sheets[name]["points"] for name in ("j-w1", "t-1L"))
    signed = {p["critical"]: p["class"] for p in joint.values() if "critical" in p}
    assert signed == {
        "Surface preparation": "hold",
        "Temporary bar stress": "hold",
        "Adhesive life and temperature window": "review",
        "Adhesive thickness": "review",
        "Duct sealing": "review",
    }
    assert [p["class"] for p in duct.values() if "critical" in p] == ["review"]


def test_bars_are_given_back_to_the_subject_a_column_names() -> None:
    step = compiled().sheets["x-w1"]["steps"]["bars-back"]
    assert step["gives_back"] == ["j-w1"]
