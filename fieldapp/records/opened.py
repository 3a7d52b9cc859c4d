"""Evidence opened: entries read, people and sheet looked up, the state folded.

What the pages say comes from here. Signatures are not checked here: `verify.py`
does that from the finished file.
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.fold import fold, present, state_of
from fieldapp.core.kernel import Kernel
from fieldapp.core.numbers import rounded
from fieldapp.core.revisions import revisions_of
from fieldapp.core.roster import roster
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Sheet, part_hashes, prepare
from fieldapp.records.evidence import Evidence, SignedEntry
from fieldapp.records.foreign import foreign
from fieldapp.records.wording import Wording, wording
from fieldapp.signatures import key_id

_PERSON = ("name", "roles", "organisation")


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """Evidence with all it adds up to; `entries` by ledger index."""

    evidence: Evidence
    site_key: str
    sheet: Sheet
    entries: tuple[Entry, ...]
    by_id: dict[str, Entry]
    rows: dict[str, SignedEntry]
    people: dict[str, dict[str, Any]]
    scene: Scene
    kernel: Kernel
    state: dict[str, Any]
    words: Wording

    @property
    def raw(self) -> dict[str, Any]:
        """Give the sheet as it was frozen."""
        return self.sheet.raw

    @property
    def zone(self) -> int:
        """Give the site's zone, minutes east of UTC."""
        return int(self.evidence.site.get("zone", 0))

    @property
    def items(self) -> dict[str, Any]:
        """Give equipment and material by id: the sheet's, and the register's."""
        known = self.evidence.standing.get("items", {})
        return {**known, **self.raw.get("items", {})}

    def part(self, name: str) -> dict[str, Any]:
        """Give a step or point of the sheet by its id, empty if it has none."""
        found: dict[str, Any] = self.raw["steps"].get(name) or self.raw["points"].get(
            name, {}
        )
        return found


def open_evidence(evidence: Evidence) -> Opened:
    """Read and fold evidence.

    Errors: `EntryError`, `UnsoundSheet`, `UnknownWord`, `KeyFault`, as what was handed
    in is unreadable.
    """
    site_key = key_id(evidence.site_public)
    office = [read_entry(row.body.encode("utf-8")) for row in evidence.office]
    people = roster(office, site_key)
    raw = dict(evidence.sheet)
    older = {key: part_hashes(sheet) for key, sheet in evidence.older.items()}
    every = {**evidence.older, fingerprint(raw): raw}
    before = revisions_of(every, evidence.tables)
    sheet = prepare(raw, dict(evidence.tables), older, before=before)
    entries = tuple(read_entry(row.body.encode("utf-8")) for row in evidence.entries)
    standing = standing_of_evidence(evidence, people)
    scene = present(sheet, entries, standing, {"at": evidence.as_of})
    state = state_of(scene)
    by_id = {entry.id: entry for entry in entries}
    return Opened(
        evidence=evidence,
        site_key=site_key,
        sheet=sheet,
        entries=entries,
        by_id=by_id,
        rows={e.id: r for e, r in zip(entries, evidence.entries, strict=True)},
        people=people,
        scene=scene,
        kernel=Kernel(raw, sheet.tables),
        state=state,
        words=wording(
            raw,
            state,
            evidence.site,
            people,
            by_id,
            foreign=foreign(scene, state),
            elsewhere=evidence.standing.get("titles"),
        ),
    )


def value_at(opened: Opened, name: str, line: str = "") -> int | None:
    """Give a value of the sheet as a whole number, at a line ("step/line") if by line.

    None where it is missing, out of its table or too large to show.
    """
    value = opened.kernel.value(name)(opened.scene, line)
    return None if value is None or value[1] == 0 else rounded(value)


def bound_at(opened: Opened, part: Any, line: str, *, least: bool) -> int | None:
    """Give a bound of a check as the outermost whole number it allows.

    part: a number, a name or an expression of the sheet; line: as for `value_at`;
    None where there is no bound, or it cannot be worked out.
    """
    if part is None:
        return None
    value = (part, 1) if isinstance(part, int) else _worked_out(opened, part, line)
    if value is None or value[1] == 0:
        return None
    number, divisor = value if value[1] > 0 else (-value[0], -value[1])
    return -(-number // divisor) if least else number // divisor


def _worked_out(opened: Opened, part: Any, line: str) -> tuple[int, int] | None:
    return opened.kernel.value(part)(opened.scene, line)


def state_before(opened: Opened, entry: Entry) -> dict[str, Any]:
    """Fold what an entry's author had seen, at the moment of signing.

    So an earlier attempt is shown as the disposition that ended it found it.
    """
    seen: set[str] = set()
    waiting = list(entry.after)
    while waiting:
        parent = opened.by_id.get(waiting.pop())
        if parent is not None and parent.id not in seen:
            seen.add(parent.id)
            waiting += parent.after
    entries = [each for each in opened.entries if each.id in seen]
    standing = standing_of_evidence(opened.evidence, opened.people)
    return fold(opened.sheet, entries, standing, {"at": entry.made})


def standing_of_evidence(
    evidence: Evidence, people: dict[str, dict[str, Any]]
) -> dict[str, Any]:
    """Give the standing a fold needs: people as enrolled, other subjects as stated."""
    return {
        "people": {
            person: {name: facts[name] for name in _PERSON}
            for person, facts in people.items()
            if all(name in facts for name in _PERSON)
        },
        "subjects": dict(evidence.standing.get("subjects", {})),
        "items": dict(evidence.standing.get("items", {})),
    }


def state_hash(opened: Opened) -> str:
    """Give the SHA-256 of the state's canonical bytes, as printed and attached."""
    return fingerprint(opened.state)
