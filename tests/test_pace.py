"""The pace of gangs: from joints that have nothing left to record, and no others."""

from pathlib import Path
from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.lookups import standing_for
from fieldapp.lookups.facts import _Facts, all_facts, pace_of
from fieldapp.lookups.reading import Reader, sheet_of
from fieldapp.lookups.rests import Grounds
from fieldapp.store.database import connected
from tests.people import FOREMAN, NOON, put_in_force, sheet, stage

MINUTE_MS = 60_000


def timed(subject: str) -> dict[str, Any]:
    """Give a sheet of one step with three lines that take a minute each."""
    lines = [
        {"id": f"k{n}", "label": "", "item": "", "round": 1, "need": 1, "numbers": {}}
        for n in (1, 2, 3)
    ]
    step = {"title": "Spread", "class": "raced", "by": ["foreman"], "fields": [],
            "lines": lines, "typical_ms": MINUTE_MS}  # fmt: skip
    return sheet(subject=subject, flow=["spread"], steps={"spread": step}, points={})


def test_pace_is_the_median_of_finished_joints_and_of_no_others(tmp_path: Path) -> None:
    made = stage(tmp_path)
    gaps = {"J1": 4, "J2": 10, "J3": 6, "J4": 1}
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, *(timed(each) for each in (*gaps, "J5")))
        phone = made.phone()
        for subject, minutes in gaps.items():
            # J4 is left unfinished: its pace says nothing yet.
            for number in (1, 2, 3) if subject != "J4" else (1, 2):
                phone.write(
                    "done", person=FOREMAN, subject=subject, step="spread",
                    now=NOON + number * minutes * MINUTE_MS, line=f"k{number}",
                    sheet=fingerprint(timed(subject)),
                )  # fmt: skip
        made.world.sync(phone, NOON)
        reader = made.wired.reader
        assert pace_of(all_facts(reader)) == {"tie": {"spread": 6 * MINUTE_MS}}
        standing = standing_for(reader, "J5", NOON)
        assert standing["pace"] == {"tie": {"spread": 6 * MINUTE_MS}}
        # Its own pace is left out: of 4 and 10 the slower stands (by hand).
        own = standing_for(reader, "J3", NOON)
        assert own["pace"] == {"tie": {"spread": 10 * MINUTE_MS}}


def raced(subject: str) -> dict[str, Any]:
    """Give a sheet of five kits and, after them, a closing that has no lines."""
    made = timed(subject)
    kit = made["steps"]["spread"]["lines"][0]
    made["steps"]["spread"]["lines"] = [kit | {"id": f"k{n}"} for n in range(1, 6)]
    close = {"title": "Close", "class": "raced", "by": ["foreman"], "fields": [],
             "typical_ms": 4 * MINUTE_MS}  # fmt: skip
    return made | {
        "flow": ["spread", "close"],
        "steps": made["steps"] | {"close": close},
    }


def test_what_was_noted_together_is_no_pace(tmp_path: Path) -> None:
    made = stage(tmp_path)
    noted = {
        "J1": ([0, 0.1, 0.2, 10, 10.1], 15),  # two acts
        "J2": ([0, 6, 12, 18, 24], 24.5),  # every kit by itself; closed with the last
        "J3": ([0, 0.1, 0.2, 0.1, 0.2], 7),  # all at once
    }
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, *(raced(each) for each in noted))
        phone = made.phone()

        def note(subject: str, step: str, minute: float, **line: str) -> None:
            phone.write(
                "done", person=FOREMAN, subject=subject, step=step, **line,
                now=NOON + round(minute * MINUTE_MS),
                sheet=fingerprint(raced(subject)),
            )  # fmt: skip

        for subject, (kits, closed) in noted.items():
            for number, minute in enumerate(kits, start=1):
                note(subject, "spread", minute, line=f"k{number}")
            note(subject, "close", closed)
        made.world.sync(phone, NOON)
        facts = all_facts(made.wired.reader)
        # J1: 15 after 10.1 the closing took 4.9 minutes; its kits were two acts, of
        # which the first counts for nothing, and one is too few.
        assert facts["J1"].pace == {"close": round(4.9 * MINUTE_MS)}
        assert facts["J2"].pace == {"spread": 6 * MINUTE_MS}
        assert facts["J3"].pace == {"close": round(6.8 * MINUTE_MS)}


def hears(subject: str, other: str) -> dict[str, Any]:
    """Give a sheet whose one gate asks how lately another subject was heard."""
    heard = {"subjects": [other], "within_ms": 60 * MINUTE_MS, "text": "Heard."}
    gate = {"title": "Lift", "class": "hold", "covers": [], "shuts": ["spread"],
            "releases": [{"role": "inspector"}], "heard": heard}  # fmt: skip
    return timed(subject) | {"flow": ["lift", "spread"], "points": {"lift": gate}}


def waits(subject: str, other: str) -> dict[str, Any]:
    """Give a sheet whose one gate waits for another subject."""
    told = hears(subject, other)
    del told["points"]["lift"]["heard"]
    before = {"subject": other, "milestone": "spread", "before": ["lift"]}
    return told | {"prerequisites": [before]}


def named(reader: Reader, subject: str) -> tuple[Any, ...]:
    maker = _Facts(reader=reader, grounds=Grounds(reader=reader))
    sheet = sheet_of(reader, subject)
    assert sheet is not None
    return maker._named(sheet)


def test_facts_rest_on_what_those_it_waits_for_have_heard(tmp_path: Path) -> None:
    made = stage(tmp_path)
    sheets = {"J1": waits("J1", "J2"), "J2": hears("J2", "J3"), "J3": timed("J3"),
              "J4": timed("J4")}  # fmt: skip
    with connected(made.wired.door.store):
        put_in_force(made.wired.door, *sheets.values())
        phone = made.phone()

        def after(subject: str) -> tuple[Any, ...]:
            phone.write(
                "done", person=FOREMAN, subject=subject, step="spread", now=NOON,
                line="k1", sheet=fingerprint(sheets[subject]),
            )  # fmt: skip
            made.world.sync(phone, NOON)
            return named(made.wired.reader, "J1")

        before = after("J2")
        assert after("J4") == before, "nobody asks for it"
        assert after("J3") != before, "J2, which J1 waits for, hears it"
