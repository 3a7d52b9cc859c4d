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
WITH = {
    "adhesive": 2, "lots": "lots-warm", "lot": "lot-w1", "forecast": 6,
    "wind": 4, "gust": 6, "hook": 489, "offset": 2, "level": 1, "level-b": 1,
    **{f"bar-{number}": f"bar-0{number}" for number in range(1, 7)},
}  # fmt: skip


def hang_segment(data: Path, subject: str) -> None:
    """Play a joint of the sample site up to its open gap, ending now."""
    began = utc_now_ms() / 1_000 - LEAD_UP_S
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
