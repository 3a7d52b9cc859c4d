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
    depth = _depths(known)
    by_depth = sorted(zip(depth.values(), depth, strict=True))
    ranked = [entry_id for _, entry_id in by_depth]
    ordered = [known[entry_id] for entry_id in ranked]
    index = {entry_id: place for place, entry_id in enumerate(ranked)}
    past: list[int] = []
    reach: list[int] = []
    parents: set[str] = set()
    for place, entry in enumerate(ordered):
        mask = 0
        after = entry.after
        parents.update(after)
        for parent in after:
            before = index.get(parent)
            if before is not None:
                mask |= reach[before]
        past.append(mask)
        reach.append(mask | 1 << place)
    return Graph(
        entries=tuple(ordered),
        index=index,
        past=tuple(past),
        heads=tuple(sorted(index.keys() - parents)),
        missing=tuple(sorted(parents - index.keys())),
    )


def _depths(known: dict[str, Entry]) -> dict[str, int]:
    """Give each entry's depth; those in or under a circle never come free.

    Most come after their parents. One that does not waits for a parent of its own and
    is looked at again when that has its depth.
    """
    depth: dict[str, int] = {}
    waiting: dict[str, list[str]] = {}
    for first in known:
        queue = [first]
        for entry_id in queue:
            mine = 0
            for parent in known[entry_id].after:
                if parent in depth:
                    below = depth[parent]
                    mine = mine if mine > below else below + 1
                elif parent in known:
                    waiting.setdefault(parent, []).append(entry_id)
                    break
            else:
                depth[entry_id] = mine
                if entry_id in waiting:
                    queue += waiting.pop(entry_id)
    return depth
