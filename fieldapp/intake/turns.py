"""Lets the batches that wait for the same turn to write share one transaction.

A flush to the disk costs the same for one batch as for ten. Whoever has the turn
takes along what the others have brought meanwhile; they find their answer there when
their own turn comes. Nobody is answered before the one commit is on disk.
"""

from collections import deque
from collections.abc import Callable, Sequence
from threading import Lock
from typing import Generic, Protocol, TypeVar

MOST_TOGETHER = 16


class Job(Protocol):
    """Something that waits for the turn; `done` once it has its answer."""

    @property
    def done(self) -> bool:
        """Say whether it has its answer."""


J = TypeVar("J", bound=Job)


class Turns(Generic[J]):
    """The queue in front of one database."""

    def __init__(self) -> None:
        self._waiting: deque[J] = deque()
        self._turn = Lock()

    def take(self, job: J, work: Callable[[Sequence[J]], None]) -> None:
        """Wait for the turn, then work on this job and on others that wait.

        `work` gives each job its answer, whole or not at all. What it raises is raised
        here; the others of the group then wait for a turn of their own.
        """
        self._waiting.append(job)
        with self._turn:
            while not job.done:
                group = [self._waiting.popleft() for _ in range(self._together())]
                try:
                    work(group)
                finally:
                    left = (each for each in reversed(group) if not each.done)
                    self._waiting.extendleft(each for each in left if each is not job)

    def _together(self) -> int:
        return min(len(self._waiting), MOST_TOGETHER)
