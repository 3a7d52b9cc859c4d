"""What else happens: retakes, corrections, decisions, stops, forks and nonsense."""

from random import Random
from typing import Any

from fieldapp.core.fold import present
from fieldapp.core.verdict import all_faults
from tests.core.telling import EVERYBODY, MINUTE_MS, NOWHERE, Phone, Telling
from tests.core.work import read_line, release, value_of


def mishap(story: Telling, phone: Phone) -> None:
    """Let something happen that is not simply the next work."""
    acts = [
        *(_back, _back, _correct, _correct, _correct),
        *(_reread, _reread, _discard, _any_point),
        *(_any_point, _decide, _decide, _decide, _stop),
        *(_raise, _crew, _odd, _odd_reading, _fork, _close_condition, _speak),
    ]
    story.rng.choice(acts)(story, phone)


def _back(story: Telling, phone: Phone) -> None:
    story.cursor = story.rng.randrange(len(story.raw["flow"]))


def _reread(story: Telling, phone: Phone) -> None:
    seen = story.seen_by(phone, ("done", "anyway", "copied"))
    if seen:
        old = story.rng.choice(seen)
        if old.step in story.raw["steps"]:
            same = story.rng.random() < 0.6
            who = old.person if same else story.rng.choice(["foreman", "second"])
            read_line(story, phone, old.step, old.line or None, who)


def _correct(story: Telling, phone: Phone) -> None:
    seen = story.seen_by(phone, ("done", "correction", "anyway", "copied", "note"))
    everywhere = [e.id for e in story.entries.values() if e.kind == "done"]
    draw = story.rng.random()
    target = NOWHERE
    step = story.raw["flow"][0]
    if seen and draw < 0.9:
        old = story.rng.choice(seen)
        target, step = old.id, old.step or step
    elif everywhere and draw < 0.97:
        target = story.rng.choice(everywhere)
    about: dict[str, Any] = {"target": target, "reason": "misread"}
    if story.rng.random() < 0.2:
        about["at"] = max(0, story.world - story.rng.randint(-100, 100) * MINUTE_MS)
    fields = story.raw["steps"].get(step, {"fields": []})["fields"]
    values = {f["id"]: value_of(story, f) for f in fields if story.rng.random() < 0.7}
    added = {"photos": [NOWHERE]} if draw < 0.3 else {}
    if draw < 0.2:
        values = {}
    who = story.rng.choice(["foreman", "foreman", "second", "inspector"])
    story.say(phone, "correction", who, step=step, about=about, values=values, **added)


def _discard(story: Telling, phone: Phone) -> None:
    seen = story.seen_by(phone, ("done", "anyway"))
    if seen:
        old = story.rng.choice(seen)
        parts = {"line": old.line} if old.line else {}
        about = {"reason": "stiff"}
        story.say(phone, "discarded", "foreman", step=old.step, about=about, **parts)


def _any_point(story: Telling, phone: Phone) -> None:
    if not story.raw["points"]:
        return
    name = story.rng.choice(list(story.raw["points"]))
    kind = story.rng.choice(
        ["called", "call_withdrawn", "refusal", "refusal", "release", "notice"]
    )
    who = story.rng.choice(EVERYBODY)
    if kind == "release":
        release(story, phone, name, who)
        return
    about = {"reason": "dirty"} if kind in ("call_withdrawn", "refusal") else {}
    pin = {"unlocked": "pin"} if kind == "refusal" else {}
    story.say(phone, kind, who, point=name, about=about, **pin)


def _decide(story: Telling, phone: Phone) -> None:
    target = NOWHERE
    found = nonconformances(story, phone)
    if found and story.rng.random() < 0.95:
        target = story.rng.choice(found)
    kind = story.rng.choice(
        ["disposition", "disposition", "disposition", "proposal", "closing"]
    )
    who = story.rng.choice(
        ["engineer" if kind == "proposal" else "designer"] * 4 + ["foreman"]
    )
    pin = {"unlocked": "pin"} if story.rng.random() < 0.95 else {}
    if kind == "closing":
        about = {"target": target, "text": "mended"}
        story.say(phone, kind, who, about=about, **pin)
        return
    verdict = story.rng.choice(["use_as_is", "repair", "rework", "rework", "reject"])
    about = {"target": target, "verdict": verdict, "reason": "looked at it"}
    if verdict == "rework":
        about["from"] = story.rng.choice([*story.raw["steps"], story.raw["flow"][0]])
    entry = story.say(phone, kind, who, about=about, **pin)
    if verdict == "rework" and kind == "disposition" and "from" in about:
        place = story.raw["flow"].index(about["from"])
        story.attempts.append((entry, place))
        story.cursor = place


def nonconformances(story: Telling, phone: Phone) -> list[str]:
    """Give the nonconformances as this phone knows them."""
    known = [story.entries[i] for i in sorted(phone.known)]
    scene = present(story.sheet, known, story.standing, {"at": story.world})
    return [fault["id"] for fault in all_faults(scene)]


def concede(story: Telling, phone: Phone, target: str) -> None:
    """Let the designer accept a nonconformance, or have it mended."""
    verdict = story.rng.choice(["use_as_is", "use_as_is", "repair"])
    about = {"target": target, "verdict": verdict, "reason": "calculated"}
    story.say(phone, "disposition", "designer", about=about, unlocked="pin")
    if verdict == "repair" and story.rng.random() < 0.7:
        about = {"target": target, "text": "mended"}
        story.say(phone, "closing", "designer", about=about, unlocked="pin")


def _stop(story: Telling, phone: Phone) -> None:
    if story.rng.random() < 0.5:
        reason = story.rng.choice(["rain", "wind"])
        story.say(phone, "stopped", "foreman", about={"reason": reason})
    else:
        story.say(phone, "made_safe", "foreman", about={"how": "covered"})


def _raise(story: Telling, phone: Phone) -> None:
    about = {"text": "a crack"}
    if story.rng.random() < 0.6:
        about["step"] = story.rng.choice([*story.raw["steps"], "unheard-of"])
    story.say(phone, "nonconformance", "inspector", about=about)


def _crew(story: Telling, phone: Phone) -> None:
    people = story.rng.sample(EVERYBODY, 2)
    story.say(phone, "crew", "foreman", about={"people": people})


def _odd(story: Telling, phone: Phone) -> None:
    kind = story.rng.choice(
        ["telemetry", "constructor", "note", "sighting", "sheet_issued"]
    )
    about: dict[str, Any] = {"target": [1, {"deep": True}], "at": "noon"}
    if kind in ("note", "sighting"):
        about = {"text": "eine Notiz"}
    if kind == "sheet_issued":
        about = {"subject": "J1", "sheet": story.sheet.hash}
    step = {"step": story.raw["flow"][0]} if story.rng.random() < 0.5 else {}
    story.say(phone, kind, story.rng.choice(EVERYBODY), about=about, **step)


def _odd_reading(story: Telling, phone: Phone) -> None:
    kind = story.rng.choice(["anyway", "copied", "anyway", "done"])
    step = story.rng.choice(list(story.raw["steps"]))
    lines = [line["id"] for line in story.raw["steps"][step].get("lines", ())]
    wrong = story.rng.random() < 0.1
    line = story.rng.choice(lines) if lines and not wrong else None
    if wrong and story.rng.random() < 0.5:
        line = "unheard-of"
    read_line(story, phone, step, line, story.rng.choice(EVERYBODY), kind=kind)


def _fork(story: Telling, phone: Phone) -> None:
    phone.seq = max(phone.seq - 1, 0)
    story.say(phone, "note", "foreman", about={"text": "from a backup"})


def _close_condition(story: Telling, phone: Phone) -> None:
    given = story.seen_by(phone, ("release",))
    asked = [entry for entry in given if "conditions" in entry.about]
    if not given:
        return
    release_ = story.rng.choice(asked or given)
    about = {"target": release_.id, "condition": 0, "text": "done"}
    if story.rng.random() < 0.1:
        about["condition"] = 1
    story.say(phone, "condition_closed", "foreman", point=release_.point, about=about)


def _speak(story: Telling, phone: Phone) -> None:
    points = list(story.raw["points"])
    allowing = [i for i in points if "spoken_ms" in story.raw["points"][i]]
    if not points:
        return
    said_by, heard_by = story.rng.sample(["inspector", "engineer", "second"], 2)
    about = {"said_by": said_by, "heard_by": heard_by, "text": "released"}
    who = story.rng.choice(["foreman", "foreman", heard_by])
    point = story.rng.choice(allowing or points)
    spoken = story.say(phone, "spoken", who, point=point, about=about)
    if Random(str(spoken)).random() < 0.5:
        story.say(phone, "release", said_by, point=point, unlocked="pin")
