"""Two joints with everything a page must show, and ways to record on the first.

Wiped, released, mixed in two kits against a life of 4,000 s, seen by a witness, closed.
The second waits for the first. Pages are asked at `site.now`.
"""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.play.phone import Phone
from fieldapp.play.pictures import made_pictures
from fieldapp.store.database import connected
from tests.desk import Desk, desk
from tests.people import FOREMAN, INSPECTOR, NOON, SUBJECT, put_in_force, sheet

MINUTE_MS = 60_000
HOUR_MS = 60 * MINUTE_MS
OTHER = "J2"
ENGINEER = {"id": "elin", "name": "Elin Marsh", "roles": ["engineer"],
            "organisation": "owner"}  # fmt: skip
# A life of 4,000 s at any temperature: so much of 10^15 passes in a millisecond.
LIFE = {"temps": [0], "rates": [10**15 // 4_000_000], "certified": [0]}
ROLES = {"foreman": "Gang foreman", "inspector": "Inspector", "engineer": "Engineer"}
PICTURE: dict[str, Any] = {
    "roles": ROLES,
    "organisations": [{"id": "owner", "name": "Tarn Board", "part": "owner"}],
    "kinds": [{"id": "tie", "title": "Tie joint"}],
    "subjects": [
        {"id": OTHER, "kind": "tie", "title": "Joint 2"},
        {"id": SUBJECT, "kind": "tie", "title": "Joint 1"},
    ],
    "item_kinds": [
        {"id": "gauge", "title": "Gauges",
         "numbers": [{"id": "zero", "unit": "bar", "places": 1}]},
        {"id": "jack", "title": "Jacks", "numbers": [],
         "calibration": {"places": 0, "residual": 100}},
    ],
}  # fmt: skip


def race_sheet(subject: str = SUBJECT, **changes: Any) -> dict[str, Any]:
    """Give the sheet of one of the two joints."""
    whole = {
        "subject": subject, "title": f"Joint {subject[1:]}",
        "flow": ["wipe", "go", "mix", "look", "close"],
        "steps": _steps(), "points": _points(),
        "items": {"g1": {"label": "Gauge one", "kind": "gauge", "numbers": {"zero": 35},
                         "expires": NOON + 2 * 24 * HOUR_MS}},
        "milestones": [{"id": "shut", "title": "Joint shut", "step": "close",
                        "when": {"word": "reached", "step": "close"}}],
        "clocks": [{"id": "life", "title": "Life of the mix", "start": "mix",
                    "table": "life", "temps": [], "age_ms": 0, "until": "shut",
                    "ratios": [{"id": "by", "title": "Shut by", "num": 1, "den": 2,
                                "raises": "nonconformance", "blocks": [],
                                "text": "Shut after half its life."}]}],
        "tables": {"life": fingerprint(LIFE)},
        "holds": [{"id": "cure", "title": "Curing", "after": "close",
                   "ms": 24 * HOUR_MS, "before": ["look"]}],
        "cards": [{"id": "rain", "title": "Rain", "do": ["Cover."], "lapses": ["go"]}],
        "prerequisites": [] if subject == SUBJECT else [
            {"subject": SUBJECT, "milestone": "shut", "before": ["go"]}],
    }  # fmt: skip
    return sheet(**(whole | changes))


def _steps() -> dict[str, Any]:
    wipe = sheet()["steps"]["wipe"] | {"photos": 1, "caution": "Gloves on."}
    gauge = {"id": "gauge", "label": "Gauge", "kind": "item", "items": "gauge"}
    wipe["fields"] = [*wipe["fields"], gauge | {"need": 0}]
    wipe["checks"] = [wipe["checks"][0] | {"source": "the maker's sheet"}]
    kits = [
        {"id": f"k{n}", "label": f"Kit {n}", "item": "", "round": 1, "need": 1,
         "numbers": {}}
        for n in (1, 2)
    ]  # fmt: skip
    return {
        "wipe": wipe,
        "mix": {"title": "Mix", "class": "raced", "by": ["foreman"], "fields": [],
                "needs": ["go"], "lines": kits, "typical_ms": 10 * MINUTE_MS},
        "close": {"title": "Close", "class": "gated", "by": ["foreman"],
                  "fields": [], "needs": ["look"], "typical_ms": 5 * MINUTE_MS},
    }  # fmt: skip


def _points() -> dict[str, Any]:
    deputy = {"role": "engineer", "after_ms": 20 * MINUTE_MS}
    go = sheet()["points"]["go"] | {
        "requires": [{"id": "dry", "text": "Both faces dry.", "source": "practice",
                      "must": {"word": "reached", "step": "wipe"}}],
        "life_ms": 30 * MINUTE_MS, "spoken_ms": 4 * HOUR_MS, "lapses": ["rain"],
        "releases": [
            {"role": "inspector", "organisation": ["owner"], "deputies": [deputy]}],
    }  # fmt: skip
    look = {"title": "Seen", "class": "witness", "covers": ["mix"], "shuts": ["close"],
            "releases": [{"role": "engineer"}], "after": [], "requires": [],
            "lapses": [], "independent": 1, "notice_ms": HOUR_MS}  # fmt: skip
    return {"go": go, "look": look}


@dataclass(slots=True, kw_only=True)
class Race:
    """A desk with the two joints in force; `say` records on the first."""

    desk: Desk
    phone: Phone
    said: list[str] = field(default_factory=list)

    def at(self, minute: int) -> "Race":
        """Move to so many minutes after noon."""
        self.desk.site.now = NOON + minute * MINUTE_MS
        return self

    def say(self, kind: str, by: str = FOREMAN, **fields: Any) -> str:
        """Sign an entry now and bring it to the office; gives its id."""
        now = self.desk.site.now
        fields.setdefault("subject", SUBJECT)
        if "sheet" not in fields and fields["subject"]:
            fields["sheet"] = fingerprint(race_sheet(fields["subject"]))
        entry = self.phone.write(kind, person=by, now=now, **fields)
        with connected(self.desk.site.wired.door.store):
            self.desk.site.world.sync(self.phone, now)
        self.said.append(entry.id)
        return entry.id

    def wiped(self, temp: int = 215, *, send: bool = True, **fields: Any) -> str:
        """Wipe the face, with its photo, which is sent unless said otherwise."""
        made = made_pictures(1, "wiped", seed=len(self.said))
        if send:
            self.phone.photos.update(made)
        values = {"temp": temp, "gauge": "g1"}
        return self.say("done", step="wipe", values=values, photos=list(made), **fields)

    def read(self, path: str) -> str:
        """Give a page's text with its white space set to single blanks."""
        answer = self.desk.client.get(path)
        assert answer.status_code == 200, path
        return " ".join(answer.text.split())


def race(data: Path) -> Race:
    """Serve the two joints, signed in, with everybody on one phone."""
    made = desk(data)
    made.sign_in()
    with connected(made.site.wired.door.store):
        put_in_force(
            made.site.wired.door, race_sheet(), race_sheet(OTHER),
            people=[ENGINEER], tables=[LIFE], **PICTURE,
        )  # fmt: skip
    phone = made.site.phone("gang", FOREMAN, INSPECTOR, ENGINEER["id"])
    return Race(desk=made, phone=phone)


def amend(site: Race) -> dict[str, str]:
    """Put the first joint's sheet with the newest mended rules in force; names it."""
    amended = race_sheet(amended=2)
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, amended, people=[ENGINEER], tables=[LIFE], **PICTURE)
    return {"sheet": fingerprint(amended)}


def within_an_hour(site: Race) -> dict[str, str]:
    """Put a first joint in force whose gate wants its face read within the hour, and
    two to sign; names its sheet.
    """
    points = race_sheet()["points"]
    since = {"word": "elapsed", "from": {"step": "wipe"}, "to": "now", "as": "use_by"}
    fresh = {"id": "fresh", "text": "Face read within the last hour.", "source": "",
             "must": {"word": "between", "value": since, "high": HOUR_MS}}  # fmt: skip
    points["go"] |= {"requires": [fresh],
                     "releases": [{"role": "engineer"}, {"role": "inspector"}],
                     "life_ms": 4 * HOUR_MS}  # fmt: skip
    changed = race_sheet(points=points, amended=2)
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, changed, people=[ENGINEER], tables=[LIFE], **PICTURE)
    return {"sheet": fingerprint(changed)}
