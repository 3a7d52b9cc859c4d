"""Stories of the sample joint that go wrong, for the tests of paper.

Each is told with the sample site's people: Tamsin keeps time, Leofric inspects,
Edric erects, Caspar designs.
"""

import copy
from typing import Any

from tests.records.book import Book, told
from tests.records.joint import AIM, CHAPTERS, FROZEN, GOOD_FACES, clean

LATE_BARS_MIN = 90.0
LONG_NAME = "Maximiliana-Wilhelmina Oyelaran-Featherstonehaugh von der Unterklippe"
LONG_PERSON = {
    "name": LONG_NAME,
    "roles": ["timekeeper"],
    "organisation": "corvane",
}
MARKUP = "<b>wet</b> & \"cold\" <script>alert('x')</script>"


def empty() -> Book:
    """Nothing recorded at all."""
    return Book().at(0)


def begun() -> Book:
    """Faces read and mixing released, nothing mixed."""
    return told("mixing")


def troubled() -> Book:
    """Refused and released again, corrected, late, copied, a STOP made safe."""
    book = Book()
    book.at(1).done("faces", by="tamsin", values={**GOOD_FACES, "rag-new": 2})
    book.at(2).say("called", by="tamsin", point="mixing")
    book.at(3).say(
        "refusal", by="leofric", point="mixing", about={"reason": f"Seen: {MARKUP}"}
    )
    reading = book.at(5).done("faces", by="tamsin", values=GOOD_FACES)
    book.at(6).done("ready", by="tamsin", values={"gap": 1, "kit": 1})
    book.at(8).release("mixing", by="leofric")
    book.at(9).say("correction", by="tamsin", step="faces", values={"air": 172},
                   about={"target": reading, "reason": "Misread the air"})  # fmt: skip
    book.at(10).release("mixing", by="leofric")
    for number, minute in ((1, 12.0), (2, 17.0)):
        kit = {"line": f"kit-{number}", "by": "tamsin"}
        book.at(minute).done("mix-cool", **kit, values={"lot": "lot-c1", "mixed": 175})
        book.at(minute + 5).done("spread", **kit, values={})
    book.at(23).say("stopped", by="jorun", on="gang-2", about={"reason": "power"})
    book.at(25).say("made_safe", by="jorun", on="gang-2", about={"how": "Spare jack"})
    book.at(26).say("copied", by="jorun", on="gang-2", step="spots", line="top",
                    values={"film": 8}, ago=4,
                    about={"reason": "Wet", "writer": "N. Noll"})  # fmt: skip
    book.at(48).done("spots", by="tamsin", line="left", values={"film": 17}, ago=20)
    book.at(49).say("note", by="jorun", on="gang-2", about={"text": "Fog lifting"})
    chipped = {"text": "Edge of the key chipped", "step": "close"}
    book.at(50).say("nonconformance", by="jorun", on="gang-2", about=chipped)
    return book


def over_time() -> Book:
    """Pressure far too late: a disposition orders rework, the second try is good."""
    book = told("closed")
    bars(book, 80.0)
    book.at(106)
    fault = _fault(book, "over")
    wish = {"target": fault, "verdict": "use_as_is", "reason": "Resin still soft"}
    book.say("proposal", by="edric", on="desk", about=wish)
    reason = "Open time over before pressure: part, clean, begin again"
    verdict = {"target": fault, "verdict": "rework", "from": "faces", "reason": reason}
    attempt = book.at(125).say("disposition", by="caspar", on="design", about=verdict)
    _second(book, attempt)
    return book


def use_as_is() -> Book:
    """One bar outside its band, accepted as it is by the designer's engineer."""
    book = told("closed")
    bars(book, 24.0, {"b3-r3": 284})
    clean(book)
    fault = _fault(book, "band")
    book.at(50).say("disposition", by="caspar", on="design", about={
        "target": fault, "verdict": "use_as_is",
        "reason": "Least stress holds with 416 kN in bar 3"})  # fmt: skip
    book.at(52).release("weight", by="edric", on="desk")
    values = {"hook": 0, "joint": 1}
    book.at(60).done("weight-off", by="tamsin", values=values)
    return book


def bars(
    book: Book, minute: float, odd: dict[str, int] | None = None, **parts: Any
) -> None:
    for number, pressure in AIM.items():
        for bar in range(1, 7):
            line = f"b{bar}-{number}"
            values = {"jack": "jack-a", "pressure": (odd or {}).get(line, pressure)}
            if number == "r3":
                values["extension"] = 11
            book.at(minute).done("bars", by="tamsin", line=line, values=values, **parts)
            minute += 0.7


def _fault(book: Book, check: str) -> str:
    from fieldapp.records.opened import open_evidence

    state = open_evidence(book.evidence()).state
    found = [f["id"] for f in state["nonconformances"] if f.get("check") == check]
    assert len(found) == 1, (check, state["nonconformances"])
    return str(found[0])


def _second(book: Book, attempt: str) -> None:
    """Tell the second attempt, a day after the joint was cleaned."""
    again = {"by": "tamsin", "attempt": attempt}
    book.at(140).done("cleaned", **again, values={"clean": 1})
    start = 140 + 24 * 60 + 10
    book.at(start).done("faces", **again, values=GOOD_FACES)
    book.at(start + 2).done("ready", **again, values={"gap": 1, "kit": 1})
    book.at(start + 4).release("mixing", by="leofric", attempt=attempt)
    for number, minute in ((1, start + 6), (2, start + 11)):
        line = f"kit-{number}"
        values = {"lot": "lot-c1", "mixed": 175}
        book.at(minute).done("mix-cool", **again, line=line, values=values)
        book.at(minute + 6).done("spread", **again, line=line, values={})
    book.at(start + 18).done("face-temp", **again, values={"hottest": 182})
    for line in ("top", "left", "right"):
        book.at(start + 19).done("spots", **again, line=line, values={"film": 17})
    book.at(start + 20).done("close", **again, values={"out": 1})
    bars(book, start + 22.0, attempt=attempt)
    for line in ("deck", "left", "right", "soffit"):
        book.at(start + 38).done("bead", **again, line=line, values={"bead": 1})
    book.at(start + 40).done("ducts", **again, values={"ducts": 1})
    book.at(start + 42).release("weight", by="edric", on="desk", attempt=attempt)
    values = {"hook": 0, "joint": 1}
    book.at(start + 60).done("weight-off", **again, values=values)


def crowded() -> Book:
    """Sixty bars in three rounds, names and reasons as long as they may be."""
    book = Book(sheet=_sixty_bars(), people={"tamsin": LONG_PERSON})
    for name in ("faces", "mixing", "kits", "closed"):
        CHAPTERS[name](book)
    minute = 24.0
    for number, pressure in AIM.items():
        for bar in range(1, 61):
            line = f"b{bar}-{number}"
            values = {"jack": "jack-b" if bar == 60 else "jack-a", "pressure": pressure}
            book.at(minute).done("bars", by="tamsin", line=line, values=values)
            minute += 0.05
    book.at(40).say("note", by="jorun", on="gang-2", about={"text": "W" * 1_900})
    return book


def _sixty_bars() -> dict[str, Any]:
    sheet = copy.deepcopy(FROZEN["sheet"])
    bars = sheet["steps"]["bars"]
    models = {line["id"]: line for line in bars["lines"]}
    for bar in range(7, 61):
        sheet["items"][f"b{bar}"] = {"label": f"bar {bar}, {'far ' * 12}out",
                                     "kind": "bar", "numbers": {}}  # fmt: skip
        for number in AIM:
            bars["lines"].append(
                {**models[f"b1-{number}"], "id": f"b{bar}-{number}", "item": f"b{bar}",
                 "label": f"Round {number[1]}, bar {bar}, {'far ' * 12}out"}
            )  # fmt: skip
    sheet["title"] = f"Joint W1, {'a very long title ' * 6}"
    return sheet
