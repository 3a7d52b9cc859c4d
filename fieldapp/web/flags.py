"""The flags of a subject in words, and the words spoken at its gates that still wait
for a signature: the same on every page of the desk.
"""

from collections.abc import Iterator

from fieldapp.core.entries import Entry
from fieldapp.core.fold import present
from fieldapp.lookups import Folded
from fieldapp.records.acts import flag_told
from fieldapp.records.lapsed import LAPSED, lapse_told
from fieldapp.web.wording import Wording


def flags_told(found: Folded, words: Wording, now: int) -> Iterator[tuple[str, str]]:
    """Yield the entry of each flag and what is said of it; of a lapse, by what."""
    flags = found.state["flags"]
    by_id = {entry.id: entry for entry in found.entries}
    lapsed = any(flag["code"] == LAPSED for flag in flags)
    scene = (
        present(found.sheet, found.entries, found.standing, {"at": now})
        if lapsed
        else None
    )
    for flag in flags:
        entry, text = by_id[flag["entry"]], ""
        if scene is not None and flag["code"] == LAPSED:
            text = lapse_told(scene, entry, words.zone)
        yield entry.id, text or flag_told(flag, entry, words.say(flag))


def to_be_signed(found: Folded) -> Iterator[Entry]:
    """Yield the spoken releases that who spoke them has not signed since."""
    for said in found.entries:
        point = found.sheet.raw["points"].get(said.point or "", {})
        owed = said.kind == "spoken" and point.get("spoken_ms")
        if owed and not any(_signs(each, said) for each in found.entries):
            yield said


def _signs(entry: Entry, said: Entry) -> bool:
    return (
        entry.kind == "release"
        and entry.point == said.point
        and entry.person == said.about["said_by"]
        and entry.at >= said.at
    )
