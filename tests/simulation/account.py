"""The account of what was told and found, which is held against the books."""

from collections import Counter
from dataclasses import dataclass, field


@dataclass(slots=True, kw_only=True)
class Tally:
    """What a run did and found; `losses` must stay empty.

    saved: ids a phone called saved; acknowledged: ids the office answered for;
    photos: hashes the office answered for; returned: how often a phone that the office
    did not know came back by the proof of a key; beyond_reach: ids and photos of which
    every copy drowned or went back before it was made.
    """

    seed: int
    saved: set[str] = field(default_factory=set)
    acknowledged: set[str] = field(default_factory=set)
    photos: set[str] = field(default_factory=set)
    beyond_reach: set[str] = field(default_factory=set)
    returned: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    alarms: Counter[str] = field(default_factory=Counter)
    losses: list[str] = field(default_factory=list)

    def told(self) -> str:
        """Say it in one line."""
        return (
            f"seed {self.seed}: {len(self.saved)} entries, {len(self.acknowledged)}"
            f" acknowledged, {len(self.photos)} photos,"
            f" {sum(self.faults.values())} faults,"
            f" {self.returned} came back by proof,"
            f" {len(self.beyond_reach)} drowned with every copy,"
            f" {len(self.losses)} losses"
        )
