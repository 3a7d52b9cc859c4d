"""The sample site read once, copies of it to spoil, and a joint told step by step."""

import re
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from fieldapp.core.sheet import Sheet, prepare
from fieldapp.plan import Compiled, SiteFaults, compile_site, read_site
from fieldapp.plan.faults import Fault
from tests.core.story import Story
from tests.sources import ROOT

SAMPLE = ROOT / "sample_site"
FIRST = "j-w1"
SECOND = "j-w2"

GOOD_FACES = {
    "rag-new": 1, "rag-old": 1, "cold-new": 172, "hot-new": 181, "cold-old": 170,
    "hot-old": 180, "air": 165, "humidity": 60, "thermometer": "thermo-1",
    "formulation": 1, "seals": 1,
}  # fmt: skip
LEAD: dict[str, dict[str, int | str]] = {
    "day-before": {
        "adhesive": 1, "jack": "jack-a", "spare": "jack-b", "gust": 62, "forecast": 1,
        "steel": 1, "crew": 1, "fallback": 1,
    },
    "lots-cool": {"lot": "lot-c1"},
    "segment-in": {"mark": 1, "strength": 1, "face": 1, "keys": 1, "damage": 1},
    "still-so": {"so": 1},
    "lift-ready": {"gear": 1, "zone": 1, "channel": 1, "mean": 41, "gust": 58},
    "trial-lift": {"brake": 1, "hook": 489},
}  # fmt: skip
FIT = {"fit": 1, "offsets": 1, "offset": 21, "shims": 1, "scribed": 1}
SURVEY = {
    "level-lf": 12, "level-rf": 8, "level-lb": 4, "level-rb": 6, "line-f": -10,
    "line-b": -5,
}  # fmt: skip
"""Departures from theory, 0.1 mm: front 1.0 up, at the joint 0.5 up, 1.0 left."""
PHOTO = "5e" * 32
MARKS = {"top-left": 2012, "top-right": 2011, "bottom-left": 2009, "bottom-right": 2010}
"""Pairs of marks, 200.0 mm apart dry: 1.2, 1.1, 0.9 and 1.0 mm of adhesive."""
KEPT = {
    "joints.csv": ("j-w1", "j-w2", "j-e1", "j-e2"),
    "ducts.csv": ("t-1L", "t-1R"),
    "grouting_days.csv": ("g2-1",),
    "bars_out.csv": ("x-w1",),
}
"""The subjects of a copied site: few, so that it compiles in no time."""
STAGES = {"off-0": 470, "off-25": 360, "off-50": 240, "off-75": 120, "off-100": 0}
"""Hook load, kN, stage by stage, of segment W1 with its 489 kN."""
AIM = {"r1": 123, "r2": 230, "r3": 307}
"""Pressures for 180, 337.5 and 450 kN: about 1.47 kN a bar by the certificate."""


@cache
def compiled() -> Compiled:
    """Give the sample site, compiled once."""
    return compile_site(read_site(SAMPLE))


def sheet_of(subject: str) -> Sheet:
    """Give one of the sample site's sheets, ready to fold."""
    site = compiled()
    return prepare(site.sheets[subject], dict(site.tables))


def copied(folder: Path) -> Path:
    """Copy the sample site's files to spoil them, with two joints of each arm."""
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("*.sh"))
    for name, ids in KEPT.items():
        _keep(folder / name, re.compile(f"({'|'.join(ids)}),").match)
    for name in ("segments.csv", "sections.csv", "bars.csv"):
        _keep(folder / name, lambda row: not re.search("^p3-|,p3,", row))
    return folder


def _keep(table: Path, wanted: Callable[[str], Any]) -> None:
    head, *rows = table.read_text("utf-8").splitlines(keepends=True)
    table.write_text("".join([head, *filter(wanted, rows)]), "utf-8")


def spoil(folder: Path, name: str, old: str, new: str) -> int:
    """Change a text that occurs in a file; give the line it stands on."""
    path = folder / name
    text = path.read_text("utf-8")
    assert old in text, f"{name} no longer has {old!r}"
    path.write_text(text.replace(old, new, 1), "utf-8")
    return text[: text.index(old)].count("\n") + 1


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Read a folder that must be faulty."""
    try:
        read_site(folder)
    except SiteFaults as found:
        return found.faults
    raise AssertionError("no fault was found")


def story(subject: str = FIRST) -> Story:
    """Start a joint with the sample site's people."""
    told = Story(sheet_of(subject))
    told.people = {
        each.id: {
            "name": each.name,
            "roles": list(each.roles),
            "organisation": each.organisation,
        }
        for each in compiled().people
    }
    return told


def fitted(minute: float = 0.9) -> Story:
    """Start a joint that hangs, fitted dry and opened, before its faces are read."""
    joint = story()
    _lead(joint)
    return joint.at(minute)


def told(until: str, spoiled: Callable[[Story], None] | None = None) -> Story:
    """Tell a joint that goes well up to a moment, with a change before the bars."""
    joint = story()
    for name, tell in CHAPTERS.items():
        if spoiled is not None and name == "bars":
            spoiled(joint)
        tell(joint)
        if name == until:
            return joint
    raise AssertionError(f"no chapter {until}")


def surveyed(joint: Story, line: str, off: int) -> None:
    """Record one point of the survey, mm less theory in tenths."""
    step, instrument = ("survey", "level-1")
    if line.startswith("line"):
        step, instrument = ("line-seen", "theo-1")
    values: dict[str, int | str] = {"off": off, "instrument": instrument}
    joint.done(step, by="tamsin", line=line, values=values)


def _lead(joint: Story) -> None:
    """The day before, the segment, the lift and the dry fit, all before minute 1."""
    for number, (step, values) in enumerate(LEAD.items(), 1):
        joint.at(number / 100).done(step, by="tamsin", values=values, photos=[PHOTO])
    joint.at(0.09).say("sighting", by="tamsin", about={"text": "Nothing hangs there"})
    joint.at(0.1).release("lift", by="brannoc")
    joint.at(0.11).release("lift", by="edric")
    joint.at(0.2).done("hung-up", by="tamsin", values={"tied": 1})
    joint.at(0.3).done("dry-fit", by="tamsin", values=FIT)
    for line, off in SURVEY.items():
        surveyed(joint.at(0.35), line, off)
    for bar in range(1, 7):
        values = {"bar": f"bar-0{bar}", "coupler": 1}
        joint.at(0.4).done("bars-in", by="tamsin", line=f"b{bar}", values=values)
    joint.at(0.5).done("gap-open", by="tamsin", values={"gap": 1})


def _faces(joint: Story) -> None:
    _lead(joint)
    joint.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    joint.at(3).done("ready", by="tamsin", values={"gap": 1, "kit": 1})


def _mixing(joint: Story) -> None:
    joint.at(5).release("mixing", by="leofric")


def _kits(joint: Story) -> None:
    for number, minute in ((1, 8.0), (2, 13.0)):
        kit = f"kit-{number}"
        mixed = {"lot": "lot-c1", "mixed": 175}
        joint.at(minute).done("mix-cool", by="tamsin", line=kit, values=mixed)
        joint.at(minute + 6).done("spread", by="tamsin", line=kit, values={})
    joint.at(19.5).done("pot-kept", by="tamsin", values={"made": 1})
    joint.at(20).done("face-temp", by="tamsin", values={"hottest": 182})


def _closed(joint: Story) -> None:
    for line in ("top", "left", "right"):
        joint.at(21).done("spots", by="tamsin", line=line, values={"film": 17})
    joint.at(23).done("close", by="tamsin", values={"out": 1})


def _bars(joint: Story) -> None:
    minute = 24.0
    for number, pressure in AIM.items():
        for bar in range(1, 7):
            values = {"jack": "jack-a", "pressure": pressure}
            if number == "r3":
                values["extension"] = 11
            joint.at(minute).done("bars", by="tamsin", line=f"b{bar}-{number}",
                                  values=values)  # fmt: skip
            minute += 0.7


def _clean(joint: Story) -> None:
    for line in ("deck", "left", "right", "soffit"):
        joint.at(40).done("bead", by="tamsin", line=line, values={"bead": 1},
                             photos=[PHOTO])  # fmt: skip
    joint.at(43).done("ducts", by="tamsin", values={"ducts": 1})
    joint.at(44).done("final-marks", by="tamsin", values=MARKS)


def _weight(joint: Story) -> None:
    joint.at(45).release("weight-seen", by="leofric")
    joint.at(46).release("weight", by="edric")
    for minute, (line, hook) in enumerate(STAGES.items(), 56):
        values = {"hook": hook, "joint": 1}
        joint.at(minute).done("weight-off", by="tamsin", line=line, values=values)


def _signed(joint: Story) -> None:
    joint.at(69).done("pot-gelled", by="tamsin", line="kit-1", values={"state": 1})
    joint.at(70).release("life-signed", by="leofric")
    joint.at(71).release("film-signed", by="leofric")
    values = {"pressed": 1, "held": 1, "start": 101, "least": 96, "across": 1}
    joint.at(80).done("squeeze-air", by="tamsin", values=values)
    joint.at(85).release("seal-signed", by="leofric")
    joint.at(1500).release("cured", by="edric")


CHAPTERS: dict[str, Callable[[Story], None]] = {
    "faces": _faces,
    "mixing": _mixing,
    "kits": _kits,
    "closed": _closed,
    "bars": _bars,
    "clean": _clean,
    "weight": _weight,
    "signed": _signed,
}
