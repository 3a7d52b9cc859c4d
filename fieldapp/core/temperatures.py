"""The temperatures that drive a clock: the hottest reading of each entry, by place.

Read once for all scenes and clocks that read the same lines.
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.core.clocks import Moment
from fieldapp.core.scene import Scene
from fieldapp.core.view import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Temperatures:
    """What drives a clock: by place the moment and the hottest reading there.

    `mask` of the places; `by_wall`: (wall ms, place) in order, unknown times first.
    """

    mask: int
    found: dict[int, tuple[Moment, int]]
    by_wall: list[tuple[int, int]]

    @classmethod
    def of(cls, scene: Scene, clock: dict[str, Any], line: str) -> "Temperatures":
        """Give the readings that drive a clock."""
        own_line = any(each["step"] == clock["start"] for each in clock["temps"])
        key: tuple[Any, ...] = ("temps", clock["id"], line if own_line else "")
        if key not in scene.memo:
            memo, shared = scene.memo, key
            if not (scene.changed or own_line):
                # Scenes and clocks that read the same lines share them.
                fields = [each["field"] for each in clock["temps"]]
                memo = scene.case.runs
                shared = ("temps", *cls.sources(scene, clock)[1:], *fields)
            if shared not in memo:
                memo[shared] = _read(scene, clock, line)
            scene.memo[key] = memo[shared]
        found: Temperatures = scene.memo[key]
        return found

    @staticmethod
    def sources(scene: Scene, clock: dict[str, Any]) -> list[Source]:
        """Give what the lines are read from that a clock runs by, its start's first."""
        key = ("sources", clock["id"])
        if key not in scene.memo:
            steps = (clock["start"], *[each["step"] for each in clock["temps"]])
            scene.memo[key] = [scene.view.source(step) for step in steps]
        found: list[Source] = scene.memo[key]
        return found


def _read(scene: Scene, clock: dict[str, Any], line: str) -> Temperatures:
    found: dict[int, tuple[Moment, int]] = {}
    moments, mask, walls = scene.view.history.moments, 0, []
    for source in clock["temps"]:
        own, field = not clock.get("per_line"), source["field"]
        own = own or source["step"] != clock["start"]
        for name, each in scene.lines(source["step"]).items():
            _, root, _, values, disputed, _, _, plain = each
            value = values.get(field)
            if isinstance(value, int) and not disputed and (own or name == line):
                hottest = max(value, found[root][1]) if root in found else value
                moment = moments[root] if plain else scene.view.moment(each)
                found[root] = (moment, hottest)
    for place, (moment, _) in found.items():
        mask |= 1 << place
        walls.append((0 if moment.unknown else moment.at, place))
    return Temperatures(mask=mask, found=found, by_wall=sorted(walls))
