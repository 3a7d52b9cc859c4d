"""A segment hung and fitted before the phone comes: told by other phones, in no time.

What the gang would tap for a minute is played from the sample site's own chapter, so
that a test may begin at the faces.
"""

from datetime import UTC, datetime
from pathlib import Path

from fieldapp.clock import utc_now_ms
from fieldapp.config import open_door, running
from fieldapp.play.history import replay
from fieldapp.play.story import story_of
from fieldapp.play.world import World
from fieldapp.store.database import connected

CHAPTERS = Path(__file__).resolve().parents[2] / "sample_site" / "chapters"
LEAD_UP_S = 19 * 3_600
RELEASED_S, HUNG_S = 16 * 3_600 + 37 * 60, 17 * 3_600 + 15 * 60
SHIFT_ENDS_S = (7 * 3_600, 19 * 3_600)
"""When a release of a lift ends, in the hours of the phones that play (UTC)."""
DAY_S = 86_400
WITH = {
    "adhesive": 2, "lots": "lots-warm", "lot": "lot-w1", "forecast": 6,
    "wind": 4, "gust": 6, "hook": 489, "offset": 2, "level": 1, "level-b": 1,
    **{f"bar-{number}": f"bar-0{number}" for number in range(1, 7)},
}  # fmt: skip


def hang_segment(data: Path, subject: str) -> None:
    """Play a joint of the sample site up to its open gap, ending now.

    An hour earlier where a shift would end between the lift's release and the lift.
    """
    began = utc_now_ms() / 1_000 - LEAD_UP_S
    released = (began + RELEASED_S) % DAY_S
    if any(0 <= end - released <= HUNG_S - RELEASED_S for end in SHIFT_ENDS_S):
        began -= 3_600
    chapter = {"at": "0:00", "chapter": "lead-up.toml", "with": WITH}
    people = ("jorun", "leofric", "edric", "brannoc")
    told = {
        "subject": subject,
        "start": datetime.fromtimestamp(began, UTC),
        "people": {who: {"person": who, "phone": "yard"} for who in people},
        "story": {"lines": [chapter]},
    }
    wired = running(open_door(data), utc_now_ms)
    with connected(wired.door.store):
        world = World(door=wired.door)
        list(replay(world, wired.reader, [story_of(told, CHAPTERS)]))
