"""One large joint, 300 entries on three phones: for measuring and for depth."""

from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.core.sheet import Sheet, prepare
from tests.core.small import HOUR_MS, between, check, number, reading
from tests.core.story import Story

BARS, ROUNDS, KITS = 24, 3, 12
LIFE = {
    "temps": [50, 100, 150, 200, 250, 300],
    "rates": [150_000_001, 180_000_003, 220_000_007, 277_777_778, 350_000_009,
              450_000_011],
    "certified": [50, 200, 300],
}  # fmt: skip
JACK = {"label": "Jack", "kind": "jack", "numbers": {"slope": 873, "zero": -12}}


def big_sheet() -> Sheet:
    """Give a joint with kits, bars in rounds, three gates, a clock and pot lives."""
    raw = {
        "format": 1,
        "rules": 1,
        "site": "test",
        "subject": "J1",
        "kind": "joint",
        "title": "Joint",
        "revision": 1,
        "facts": [],
        "tables": {"life": fingerprint(LIFE)},
        "items": {"jack-1": JACK},
        "flow": ["face", "temp", "may_mix", "mix", "spread", "bars", "may_go", "go"],
        "steps": _steps(),
        "points": _points(),
        "values": {"total": _total()},
        "conditions": {},
        "milestones": [
            {"id": "pressed", "title": "", "step": "bars",
             "when": between("total", 24 * 100)}
        ],
        "clocks": [_clock("open", "pressed"), _clock("pot", "spread", per_line=True)],
        "holds": [],
        "cards": [],
        "prerequisites": [],
        "dispose": [{"role": "designers_engineer"}],
        "propose": [],
        "record": ["foreman"],
        "pictures": [],
    }  # fmt: skip
    return prepare(raw, {fingerprint(LIFE): LIFE})


def big_story() -> Story:
    """Tell 300 entries: faces, temperatures, kits and bars on three phones."""
    story = Story(big_sheet())
    for phone in "abc":
        story.phone(phone)
    for number_ in range(12):
        story.at(number_).done("face", line=f"f{number_}", values={"damp": 3})
    story.sync()
    _temperatures(story, 12, 20)
    story.at(14).release("may_mix")
    for kit in range(KITS):
        phone = "ab"[kit % 2]
        story.at(16 + kit).done("mix", line=f"k{kit}", on=phone)
        story.at(17 + kit).done("spread", line=f"k{kit}", on=phone)
        story.sync()
    _bars(story)
    _temperatures(story, 62, 300 - len(story.entries) - 4)
    story.sync()
    story.at(80).say("called", by="foreman", point="may_go")
    story.sync()
    story.at(81).release("may_go", by="inspector")
    story.at(82).done("go")
    story.at(83).say("note", by="foreman", about={"text": "gone"})
    return story


def _temperatures(story: Story, minute: float, count: int) -> None:
    for n in range(count):
        story.at(minute + n / 10).done("temp", values={"hot": 180 + n % 30}, on="c")
    story.sync()


def _bars(story: Story) -> None:
    for turn in range(1, ROUNDS + 1):
        for bar in range(BARS):
            values = {"gauge": 120 + bar + turn, "jack": "jack-1"}
            line = f"b{bar}r{turn}"
            story.at(30 + turn * 8 + bar / 4)
            story.done("bars", line=line, on="ab"[bar % 2], values=values)
        story.sync()


def _steps() -> dict[str, Any]:
    gauge = {"word": "field", "step": "bars", "field": "jack", "name": "slope"}
    force = {
        "word": "form",
        "constant": {"word": "field", "step": "bars", "field": "jack", "name": "zero"},
        "terms": [[gauge, reading("bars", "gauge")]],
        "divisor": 1000,
    }
    item = {"id": "jack", "label": "", "kind": "item", "items": "jack", "need": True}
    return {
        "face": _step("gated", [f"f{n}" for n in range(12)], [number("damp")],
                      [check("dry", between(reading("face", "damp"), 0, 5), "block")]),
        "temp": {"title": "", "class": "gated", "series": True,
                 "fields": [number("hot")],
                 "checks": [check("window", between(reading("temp", "hot"), 50, 300),
                                  "block")]},
        "mix": {**_step("gated", [f"k{n}" for n in range(KITS)], [], []),
                "first": True},
        "spread": _step("gated", [f"k{n}" for n in range(KITS)], [], []),
        "bars": {
            **_step("raced", [f"b{b}r{r}" for r in range(1, ROUNDS + 1)
                              for b in range(BARS)],
                    [number("gauge"), item],
                    [check("cap", between(force, 0, 500), "nonconformance")]),
            "needs": ["mix"],
            "shows": [{"id": "kn", "scope": "line", "label": "", "unit": "kN",
                       "places": 0, "value": force}],
        },
        "go": {"title": "", "class": "gated", "fields": []},
    }  # fmt: skip


def _step(
    kind: str, lines: list[str], fields: list[Any], checks: list[Any]
) -> dict[str, Any]:
    rows = [
        {"id": name, "label": "", "item": name.split("r")[0], "round": 1,
         "need": True, "numbers": {}}
        for name in lines
    ]  # fmt: skip
    return {"title": "", "class": kind, "lines": rows, "fields": fields,
            "checks": checks}  # fmt: skip


def _total() -> dict[str, Any]:
    last = [
        {"word": "reduce", "how": "last", "step": "bars", "item": f"b{bar}",
         "value": reading("bars", "gauge")}
        for bar in range(BARS)
    ]  # fmt: skip
    terms = [[1, each] for each in last]
    return {"word": "form", "constant": 0, "terms": terms, "divisor": 1}


def _clock(clock_id: str, until: str, *, per_line: bool = False) -> dict[str, Any]:
    ratios = [
        {"id": "soon", "title": "", "num": 7, "den": 10, "text": "",
         "raises": "nonconformance"},
        {"id": "over", "title": "", "num": 1, "den": 1, "text": ""},
    ]  # fmt: skip
    return {"id": clock_id, "title": "", "start": "mix", "table": "life",
            "temps": [{"step": "temp", "field": "hot"}], "age_ms": HOUR_MS // 4,
            "until": until, "ratios": ratios, "per_line": per_line}  # fmt: skip


def _points() -> dict[str, Any]:
    def point(covers: list[str], shuts: list[str], life_ms: int) -> dict[str, Any]:
        return {"title": "", "class": "hold", "covers": covers, "shuts": shuts,
                "releases": [{"role": "inspector"}], "after": [], "requires": [],
                "lapses": [], "independent": True, "life_ms": life_ms}  # fmt: skip

    return {
        "may_mix": point(["face", "temp"], ["mix", "spread"], HOUR_MS),
        "may_go": point(["mix", "spread", "bars", "temp"], ["go"], HOUR_MS),
    }
