"""The whole site read once after a start, so that no page has to do it.

Sheets first, then what each subject used, then every state, in small pieces with a
pause for others in between. How far it is can be told meanwhile. What it leaves is the
cache of `facts` and `kept` and nothing else: without it everything is answered the
same, only later.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from threading import Event

from fieldapp.lookups.facts import facts_one_by_one
from fieldapp.lookups.kept import states_one_by_one
from fieldapp.lookups.reading import Reader, sheet_of, subjects_issued


def _nothing_to_wait_for() -> Event:
    done = Event()
    done.set()
    return done


@dataclass(slots=True, kw_only=True)
class Warming:
    """How far the reading is: `read` of `total` subjects; `done` once it has ended.

    `asking`: the threads that are answering a request just now.
    """

    read: int = 0
    total: int = 0
    done: Event = field(default_factory=_nothing_to_wait_for)
    asking: set[int] = field(default_factory=set)


def warm(reader: Reader, now: int, warming: Warming, pause: Callable[[], bool]) -> None:
    """Read the whole site at a moment (ms UTC; connected to the store by the caller).

    pause: lets others have the processor for a moment; True ends the reading.
    """
    for _ in _pieces(reader, now, warming):
        if pause():
            return


def _pieces(reader: Reader, now: int, warming: Warming) -> Iterator[None]:
    subjects = subjects_issued(reader)
    warming.total = len(subjects)
    for subject in subjects:
        sheet_of(reader, subject)
        warming.read += 1
        yield
    yield from facts_one_by_one(reader)
    yield from states_one_by_one(reader, now)
