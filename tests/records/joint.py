"""One joint's sheet as it was once frozen, and how a crew tells it when all goes well.

A record must print and prove itself for ever, so paper is tested with a sheet that no
later plan changes: `joint.json` holds site, sheet, tables and people of that day.
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

FROZEN: dict[str, Any] = json.loads(
    Path(__file__).with_name("joint.json").read_text("utf-8")
)
SUBJECT: str = FROZEN["sheet"]["subject"]
SITE: str = FROZEN["sheet"]["site"]
GOOD_FACES = {
    "rag-new": 1, "rag-old": 1, "cold-new": 172, "hot-new": 181, "cold-old": 170,
    "hot-old": 180, "air": 165, "humidity": 60, "thermometer": "thermo-1",
    "formulation": 1,
}  # fmt: skip
AIM = {"r1": 123, "r2": 230, "r3": 307}
"""Pressures in bar for 180, 337.5 and 450 kN by the jack's certificate."""


def faces(joint: Any) -> None:
    """Read both faces and make ready."""
    joint.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    joint.at(3).done("ready", by="tamsin", values={"gap": 1, "kit": 1})


def mixing(joint: Any) -> None:
    """Release mixing."""
    joint.at(5).release("mixing", by="leofric")


def kits(joint: Any) -> None:
    """Mix and spread two kits and read the face again."""
    for number, minute in ((1, 8.0), (2, 13.0)):
        kit = f"kit-{number}"
        mixed = {"lot": "lot-c1", "mixed": 175}
        joint.at(minute).done("mix-cool", by="tamsin", line=kit, values=mixed)
        joint.at(minute + 6).done("spread", by="tamsin", line=kit, values={})
    joint.at(20).done("face-temp", by="tamsin", values={"hottest": 182})


def closed(joint: Any) -> None:
    """Read the film and close the joint."""
    for line in ("top", "left", "right"):
        joint.at(21).done("spots", by="tamsin", line=line, values={"film": 17})
    joint.at(23).done("close", by="tamsin", values={"out": 1})


def bars(joint: Any) -> None:
    """Stress six bars in three rounds."""
    minute = 24.0
    for number, pressure in AIM.items():
        for bar in range(1, 7):
            values = {"jack": "jack-a", "pressure": pressure}
            if number == "r3":
                values["extension"] = 11
            line = f"b{bar}-{number}"
            joint.at(minute).done("bars", by="tamsin", line=line, values=values)
            minute += 0.7


def clean(joint: Any) -> None:
    """Look at the bead and swab the ducts."""
    for line in ("deck", "left", "right", "soffit"):
        joint.at(40).done("bead", by="tamsin", line=line, values={"bead": 1})
    joint.at(44).done("ducts", by="tamsin", values={"ducts": 1})


def weight(joint: Any) -> None:
    """Release the weight and take it off the gear."""
    joint.at(46).release("weight", by="edric")
    joint.at(60).done("weight-off", by="tamsin", values={"hook": 0, "joint": 1})


CHAPTERS: dict[str, Callable[[Any], None]] = {
    "faces": faces,
    "mixing": mixing,
    "kits": kits,
    "closed": closed,
    "bars": bars,
    "clean": clean,
    "weight": weight,
}
