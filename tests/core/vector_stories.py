"""The stories of the vectors: entries written short, told and seen at a minute."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from fieldapp.core import dispositions, fold, lives
from fieldapp.core.canonical import canonical, fingerprint, sha256_hex
from fieldapp.core.clocks import Moment
from fieldapp.core.entries import Entry, entry_of
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Sheet, prepare
from tests.core.vector_calls import COMMON

MINUTE_MS = 60_000


@dataclass(slots=True)
class Told:
    """One story as a vector asks it."""

    given: dict[str, Any]
    sheet: Sheet
    ids: dict[str, str]
    entries: list[Entry]
    standing: dict[str, Any]
    scene: Scene

    def point(self) -> Any:
        return self.sheet.points[self.given["point"]]

    def step(self) -> Any:
        return self.sheet.steps[self.given["step"]]

    def line(self) -> Any:
        name = self.given["line"]
        return self.scene.lines(self.given["step"])[self.ids.get(name[1:], name)]

    def clock(self) -> Any:
        return self.sheet.clocks[self.given["clock"]]

    def place(self, label: str | None = None) -> int:
        chosen = label or self.given["entry"]
        return self.scene.view.history.graph.index[self.ids[chosen[1:]]]

    def entry(self) -> Entry:
        return self.scene.view.history.entry(self.place())

    def moment(self) -> Moment:
        return self.scene.view.history.moments[self.place()]

    def act(self) -> Moment:
        return Moment(self.given["act"] * MINUTE_MS, None, None, None)

    def asked(self) -> Any:
        return self.scene, self.point(), self.act()

    def fault(self) -> str:
        check, _, label = self.given["fault"].partition("@")
        return dispositions.reading_fault_id(check, self.ids[label])

    def run(self) -> Any:
        return lives.run_clock(self.scene, self.clock(), self.given.get("line", ""))

    def ratio(self) -> Any:
        return next(r for r in self.clock()["ratios"] if r["id"] == self.given["ratio"])

    def label(self, place: int | None) -> str:
        if place is None:
            return "missing"
        return self.named(self.scene.view.history.entry(place).id)

    def labels(self, places: Iterable[int | None]) -> list[str]:
        return [self.label(place) for place in places]

    def named(self, found: Any) -> Any:
        """Put labels in place of ids, of entries and of computed nonconformances."""
        names = {entry_id: f"@{label}" for label, entry_id in self.ids.items()}
        for label, entry_id in self.ids.items():
            for check in self.given.get("checks", ("dry", "gate", "strong")):
                fault_id = dispositions.reading_fault_id(check, entry_id)
                names[fault_id] = f"{check}@{label}"
        return _renamed(found, names)


def tell(data: dict[str, Any], given: dict[str, Any]) -> Told:
    """Make the scene of a story."""
    story = data["stories"][given["story"]]
    raw = {**data["sheet"], **story.get("changes", {})}
    bodies = {fingerprint(body): body for body in data["tables"].values()}
    raw["tables"] = {name: fingerprint(body) for name, body in data["tables"].items()}
    sheet = prepare(raw, bodies)
    ids: dict[str, str] = {}
    entries: list[Entry] = []
    for short in story["entries"]:
        document = _document(short, sheet, ids, entries)
        entry = entry_of(document, sha256_hex(canonical(document)))
        ids[short["label"]] = entry.id
        entries.append(entry)
    names = {f"@{label}": entry_id for label, entry_id in ids.items()}
    standing = _renamed({**data["standing"], **story.get("standing", {})}, names)
    now = {"at": given.get("minute", story["minute"]) * MINUTE_MS}
    scene = fold.present(sheet, entries, standing, now)
    return Told(given, sheet, ids, entries, standing, scene)


def _document(
    short: dict[str, Any], sheet: Sheet, ids: dict[str, str], before: list[Entry]
) -> dict[str, Any]:
    names = {f"@{label}": entry_id for label, entry_id in ids.items()}
    for label, entry_id in ids.items():
        for check in ("dry", "gate", "strong"):
            fault_id = dispositions.reading_fault_id(check, entry_id)
            names[f"{check}@{label}"] = fault_id
    parts = _renamed(short, names)
    made = parts.pop("minute") * MINUTE_MS + parts.pop("ms", 0)
    device = parts.pop("on", "a")
    after = parts.pop("after", [before[-1].id] if before else [])
    stated = parts.pop("at", None)
    document = {
        **COMMON,
        "sheet": sheet.hash,
        "person": parts.pop("by"),
        "device": device,
        "seq": 1 + sum(entry.device == device for entry in before),
        "after": sorted(after),
        "made": made,
        "at": made if stated is None else stated * MINUTE_MS,
        "mono": made,
        **parts,
    }
    del document["label"]
    return document


def _renamed(found: Any, names: dict[str, str]) -> Any:
    if isinstance(found, str):
        return names.get(found, found)
    if isinstance(found, dict):
        return {names.get(k, k): _renamed(v, names) for k, v in found.items()}
    if isinstance(found, list | tuple):
        return [_renamed(each, names) for each in found]
    return found
