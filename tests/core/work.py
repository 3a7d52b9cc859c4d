"""Work as it is mostly done: steps read line by line, points called and released."""

from typing import Any

from tests.core.telling import EVERYBODY, MINUTE_MS, NOWHERE, PEOPLE, Phone, Telling


def do_step(story: Telling, phone: Phone, name: str) -> None:
    """Record the lines of a step, mostly all of them."""
    if story.raw["steps"][name].get("when") and story.rng.random() < 0.5:
        return
    lines = [line["id"] for line in story.raw["steps"][name].get("lines", ())]
    who = story.rng.choice(["foreman", "foreman", "second"])
    for line in lines or [None] * story.rng.choice([1, 1, 1, 2]):
        if story.rng.random() < 0.97:
            read_line(story, phone, name, line, who)
        story.world += story.rng.randint(0, story.pace * MINUTE_MS // 4)


def pass_point(story: Telling, phone: Phone, name: str) -> None:
    """Call for a point and release it, mostly by the right person."""
    if story.rng.random() < 0.4:
        story.say(phone, "called", "foreman", point=name)
    point = story.raw["points"][name]
    if point["class"] == "witness" and story.rng.random() < 0.7:
        story.say(phone, "notice", "inspector", point=name)
        if story.rng.random() < 0.5:
            return
    for wanted in point["releases"]:
        able = [p for p, who in PEOPLE.items() if wanted["role"] in who["roles"]]
        who = able[0] if story.rng.random() < 0.8 else story.rng.choice(EVERYBODY)
        release(story, phone, name, who)


def release(story: Telling, phone: Phone, name: str, who: str) -> None:
    """Release a point, mostly by PIN and naming what it relies on."""
    parts: dict[str, Any] = {"point": name, "needs": []}
    if story.rng.random() < 0.9:
        parts["needs"] = [NOWHERE]
    parts["unlocked"] = "pin" if story.rng.random() < 0.96 else "shift"
    if story.rng.random() < 0.06:
        before = story.rng.choice(story.raw["flow"])
        parts["about"] = {"conditions": [{"text": "Blåbær", "before": before}]}
    story.say(phone, "release", who, **parts)


def read_line(
    story: Telling,
    phone: Phone,
    step: str,
    line: str | None,
    who: str,
    *,
    kind: str = "done",
) -> None:
    """Record one line with readings for its fields."""
    parts: dict[str, Any] = {"step": step}
    if line is not None:
        parts["line"] = line
    values = _values(story, step)
    if values:
        parts["values"] = values
    photos = story.raw["steps"][step].get("photos", 0)
    if photos and story.rng.random() < 0.9:
        parts["photos"] = [NOWHERE, "cd" * 32][: story.rng.randint(1, photos)]
    if values and story.rng.random() < 0.05:
        parts["needs"] = [NOWHERE]
    if kind == "anyway":
        parts["about"] = {"reason": "it was raining"}
    story.say(phone, kind, who, **parts)


def _values(story: Telling, step: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for each in story.raw["steps"][step]["fields"]:
        if story.rng.random() < (0.98 if each["need"] else 0.8):
            found[each["id"]] = value_of(story, each)
    if story.rng.random() < 0.01:
        found["stray"] = 1
    return found


def value_of(story: Telling, wanted: dict[str, Any]) -> int | str:
    """Give a reading of a field: mostly ordinary, sometimes absurd."""
    draw = story.rng.random()
    if wanted["kind"] == "item":
        return story.rng.choice(["jack-1"] * 12 + ["7"] * 5 + ["toString", "lost"])
    if wanted["kind"] == "text" or draw < 0.01:
        return story.rng.choice(["trocken", "Blåbær", "\U0001f600", "\ufb00"])
    if wanted["kind"] == "choice":
        return story.rng.choice([0, 1, 50, 50 if draw < 0.9 else 3])
    if draw < 0.06:
        return story.rng.choice([-1, 301, 350, -(10**12), 10**12])
    return story.rng.randint(16, 69) if draw < 0.8 else story.rng.randint(0, 260)
