"""One line of a step, as its readings, corrections and discards leave it."""

from typing import NamedTuple


class Line(NamedTuple):
    """One line of a step as read: `root` is the reading, `current` what stands now.

    `plain`: read once, never corrected or discarded.
    """

    id: str
    root: int
    current: int
    values: dict[str, int | str]
    disputed: bool
    discarded: bool
    asserted: tuple[int, ...]
    plain: bool = False
