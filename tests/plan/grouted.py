"""A tendon in its duct told up to a moment, for tests that spoil what comes then."""

from typing import Any

from tests.core.story import Story
from tests.plan.sample import sheet_of, story

DUCT = "t-1L"
DAY_MIN = 24 * 60
STRESSED = {
    "jack": "sjack-1", "concrete": 1, "force": 2344, "extension": 78, "set": 6,
    "wires": 1,
}  # fmt: skip
BATCH = {"lot": "grout-g1", "mix": 1, "grout-temp": 175}
LOCKED = {"peak": 420, "held": 380, "seconds": 15, "leaks": 1}


def duct() -> Story:
    told = Story(sheet_of(DUCT))
    told.people = story().people
    told.milestones = {
        "j-w1": {"seal-signed": "1" * 64},
        "j-e1": {"seal-signed": "2" * 64},
        "g2-1": {"grout-begun": "3" * 64, "day-signed": "4" * 64},
    }
    return told


def threaded(**changed: int) -> Story:
    told, air = duct(), {"humidity": 75} | changed
    told.at(1).done("way-free", by="wystan", values={"bullet": 1})
    needs = ["1" * 64, "2" * 64]
    told.at(2).release("threading", by="edric", needs=needs)
    values = {"coil": "coil-31", "strands": 12, "state": 1, "salt": 1, **air}
    told.at(10).done("strand-in", by="wystan", values=values)
    return told


def stressed(**changed: Any) -> Story:
    told = threaded()
    told.at(60).done("tendon-force", by="wystan", values=STRESSED | changed)
    return told


def tight() -> Story:
    told = stressed()
    told.at(70).release("tails-seen", by="edric")
    told.at(80).done("tails-off", by="wystan", values={"caps": 1})
    told.at(90).done("grout-air", by="wystan", values={"start": 350, "end": 200})
    return told


def pumped(minute: float = 120, **changed: Any) -> Story:
    told = tight()
    told.at(minute - 5).release("pump-go", by="wystan", needs=["3" * 64])
    first = changed.get("batch", {})
    told.at(minute).done(
        "grout-batch", by="wystan", line="batch-1", values=BATCH | first
    )
    mixer = {"seconds": changed.get("seconds", 19), "density": 2005}
    measured(told, minute + 2, **mixer)
    vent = {"lot": "grout-g1", "density": changed.get("vent", 1995), "seconds": 21}
    told.at(minute + 3).done("mud-balance", by="wystan", values=vent)
    for place, line in enumerate(changed.get("vents", ("v1", "v2", "v3"))):
        told.at(minute + 10 + place).done(
            "vents-shut", by="wystan", line=line, values={"runs": 1}
        )
    late = changed.get("late", 15)
    told.at(minute + late).done("batch-in", by="wystan", line="batch-1", values={})
    told.at(minute + late + 1).done("shut-off", by="wystan", values=LOCKED)
    stayed = {"stayed": changed.get("stayed", 54)}
    told.at(minute + late + 2).done("grout-stayed", by="wystan", values=stayed)
    return told


def measured(told: Story, minute: float, **changed: int) -> None:
    values = {"lot": "grout-g1", "seconds": 19, "density": 2005} | changed
    told.at(minute).done("flow-time", by="wystan", values=values)


def faults(told: Story, minute: float | None = None) -> list[str]:
    return sorted(each["check"] for each in told.state(minute)["nonconformances"])
