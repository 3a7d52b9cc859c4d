"""Order within a subject: depth in the graph of `after`, then id. No clock orders.

Each entry's own past is a bit mask over the ordered entries, so that "had its author
seen that" is one AND. Parents that have not arrived are tolerated and reported.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.core.entries import Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Graph:
    """Entries in order; `past[i]` is the mask of all ancestors of entry i."""

    entries: tuple[Entry, ...]
    index: dict[str, int]
    past: tuple[int, ...]
    heads: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def everything(self) -> int:
        """Give the mask of all entries."""
        return (1 << len(self.entries)) - 1


def order(entries: Iterable[Entry]) -> Graph:
    """Order a set of entries of one subject; repeats count once.

    Entries that name each other in a circle cannot be signed honestly (an id is a
    hash of its parents); they are left out, so that the function stays total.
    """
    known = {entry.id: entry for entry in entries}
    by_depth = sorted((depth, i) for i, depth in _depths(known).items())
    ranked = [entry_id for _, entry_id in by_depth]
    index = {entry_id: place for place, entry_id in enumerate(ranked)}
    past: list[int] = []
    parents: set[str] = set()
    missing: set[str] = set()
    for entry_id in ranked:
        mask = 0
        for parent in known[entry_id].after:
            place = index.get(parent)
            if place is None:
                missing.add(parent)
            else:
                mask |= past[place] | (1 << place)
                parents.add(parent)
        past.append(mask)
    return Graph(
        entries=tuple(known[entry_id] for entry_id in ranked),
        index=index,
        past=tuple(past),
        heads=tuple(sorted(entry_id for entry_id in ranked if entry_id not in parents)),
        missing=tuple(sorted(missing)),
    )


def _depths(known: dict[str, Entry]) -> dict[str, int]:
    """Give each entry's depth; those in or under a circle never come free."""
    waiting: dict[str, int] = {}
    children: dict[str, list[str]] = {}
    for entry_id, entry in known.items():
        waiting[entry_id] = 0
        for parent in entry.after:
            if parent in known:
                waiting[entry_id] += 1
                children.setdefault(parent, []).append(entry_id)
    depth = {entry_id: 0 for entry_id, count in waiting.items() if count == 0}
    queue = list(depth)
    for entry_id in queue:
        for child in children.get(entry_id, ()):
            waiting[child] -= 1
            if waiting[child] == 0:
                # The queue runs by depth, so the last parent is the deepest.
                depth[child] = depth[entry_id] + 1
                queue.append(child)
    return depth
