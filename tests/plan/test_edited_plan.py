"""The plan is the engineer's: a step, a point and a kind are added without any code."""

import json
from pathlib import Path
from typing import Any

from fieldapp.core.fold import fold
from fieldapp.core.sheet import prepare
from fieldapp.plan import compile_site, read_site
from tests.core.story import START_MS, Story
from tests.plan.sample import copied, spoil, told

PLAN = "plan/glued_joint.toml"
STEP = """
[steps.wings]
title = "Wing tips washed down"
class = "gated"
by = ["foreman", "timekeeper"]
needs = ["weight-off"]
caution = "Harness at the edge."
fields = [
  { id = "runs", label = "Resin runs left", kind = "number", low = 0, high = 99 },
]
checks = [
  { id = "runs", must = "few", raises = "block", text = "Scrape on.", source = "-" },
]

[points.seen-below]
title = "Seen from below"
class = "hold"
covers = ["wings"]
shuts = []
releases = [{ role = "inspector" }]
source = "common practice, no source"

[milestones.pressure]
"""
KIND = """
id = "gantry-move"
name = "Move of the gantry"
subjects = "moves.csv"
title = "{title}: {metres} m"
record = ["foreman"]
dispose = [{ role = "erection-engineer" }]
propose = [{ role = "erection-engineer" }]
flow = ["bolts", "moved"]

[[facts]]
label = "To"
value = "{to} with {bolts} bolts"

[conditions]
all = { between = { reading = "bolts.count" }, low = { column = "bolts" } }

[steps.bolts]
title = "Bolts counted"
class = "gated"
by = ["foreman"]
caution = "Nobody under the gantry."
fields = [{ id = "count", label = "Bolts", kind = "number", low = 0, high = 99 }]
checks = [
  { id = "all", must = "all", raises = "block", text = "Not {bolts}.", source = "-" },
]

[points.moved]
title = "Gate: move {metres} m"
class = "hold"
covers = ["bolts"]
shuts = []
releases = [{ role = "lifting-supervisor" }]
source = "gantry manual (invented)"

[[prerequisites]]
by = "after"
milestone = "on-bars"
before = ["moved"]
"""


def edited(folder: Path) -> Path:
    copied(folder)
    spoil(folder, PLAN, "[milestones.pressure]\n", STEP)
    few = 'few = { between = { reading = "wings.runs" }, high = 2 }\n'
    spoil(folder, PLAN, "[conditions]\n", f"[conditions]\n{few}")
    spoil(
        folder,
        PLAN,
        '"cold-kept", "cubes",',
        '"wings", "seen-below", "cold-kept", "cubes",',
    )
    (folder / "plan" / "gantry.toml").write_text(KIND, "utf-8")
    (folder / "moves.csv").write_text(
        "id,title,pier,to,metres,bolts,after\nm-1,First move,p2,W2,3.25,16,j-w1 j-e1\n",
        "utf-8",
    )
    spoil(folder, "site.toml", '"bars-out"]', '"bars-out", "gantry-move"]')
    return folder


def test_a_step_and_a_point_added_to_the_plan_are_asked_for(tmp_path: Path) -> None:
    site = compile_site(read_site(edited(tmp_path / "site")))
    joint = told("signed")
    other = Story(prepare(site.sheets["j-w1"], dict(site.tables)))
    other.people = joint.people
    for entry in joint.entries.values():
        parts = {
            key: getattr(entry, key)
            for key in ("step", "point", "line", "values", "unlocked", "about")
            if getattr(entry, key)
        }
        parts["photos"] = list(entry.photos)
        other.at((entry.at - START_MS) / 60_000).say(
            entry.kind, by=entry.person, **parts
        )
    assert other.state()["verdict"] == "incomplete"
    other.done("wings", by="tamsin", values={"runs": 3})
    assert other.state()["steps"]["wings"]["failed"] == ["runs"]
    other.done("wings", by="tamsin", values={"runs": 2})
    assert other.state()["points"]["seen-below"]["status"] == "ready"
    other.release("seen-below", by="leofric")
    assert other.state()["verdict"] == "complete"


def test_a_new_kind_of_subject_is_a_file_and_a_table(tmp_path: Path) -> None:
    site = compile_site(read_site(edited(tmp_path / "site")))
    sheet = site.sheets["m-1"]
    assert sheet["title"] == "First move: 3.25 m"
    assert sheet["facts"][0]["value"] == "W2 with 16 bolts"
    assert site.picture["kinds"][-1] == {
        "id": "gantry-move", "title": "Move of the gantry", "record": ["foreman"],
    }  # fmt: skip
    last: dict[str, Any] = site.picture["subjects"][-1]
    assert last == {
        "id": "m-1",
        "kind": "gantry-move",
        "title": "First move",
        "pier": "p2",
    }
    move = Story(prepare(sheet, dict(site.tables)))
    move.people = told("faces").people
    move.at(1).done("bolts", by="jorun", values={"count": 15})
    assert move.state()["steps"]["bolts"]["failed"] == ["all"]
    move.at(2).done("bolts", by="jorun", values={"count": 16})
    codes = [each["facts"] for each in move.state()["points"]["moved"]["refusals"]]
    assert {"subject": "j-w1", "name": "on-bars"} in codes
    move.milestones = {name: {"on-bars": "0" * 64} for name in ("j-w1", "j-e1")}
    move.at(3).release("moved", by="brannoc", needs=["0" * 64])
    assert move.state()["verdict"] == "complete"
    state = fold(move.sheet, [], {"people": {}}, {"at": START_MS})
    json.dumps(state)
