"""The flags of a subject in words, and the words spoken at its gates that still wait
for a signature: the same on every page of the desk.
"""

from collections.abc import Iterator

from fieldapp.core.entries import Entry
from fieldapp.core.fold import present
from fieldapp.core.graph import Graph, order
from fieldapp.lookups import Folded
from fieldapp.records.acts import flag_told
from fieldapp.records.hours import Received
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


def received_of(found: Folded) -> Received:
    """Give when the office received each entry of a subject."""
    return {row.id: row.received for row in found.rows}


def to_be_signed(found: Folded) -> Iterator[Entry]:
    """Yield the spoken releases that who spoke them has not signed since.

    Since is having seen what was written down: two phones' clocks may differ.
    """
    points = found.sheet.raw["points"]
    spoken = [
        each
        for each in found.entries
        if each.kind == "spoken" and points.get(each.point or "", {}).get("spoken_ms")
    ]
    graph = order(found.entries) if spoken else None
    for said in spoken:
        assert graph is not None
        if not any(_signs(graph, each, said) for each in graph.entries):
            yield said


def _signs(graph: Graph, entry: Entry, said: Entry) -> bool:
    return (
        entry.kind == "release"
        and entry.point == said.point
        and entry.person == said.about["said_by"]
        and bool(graph.past[graph.index[entry.id]] >> graph.index[said.id] & 1)
    )
