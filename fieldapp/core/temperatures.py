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
    def of(
        cls, scene: Scene, clock: dict[str, Any], line: str, sources: list[Source]
    ) -> "Temperatures":
        """Give the readings that drive a clock; sources: what it runs by, read from."""
        own_line = any(each["step"] == clock["start"] for each in clock["temps"])
        if scene.changed or own_line:
            memo, key = scene.memo, ("temps", clock["id"], line)
        else:
            # Scenes and clocks that read the same lines share them.
            fields = [each["field"] for each in clock["temps"]]
            memo, key = scene.case.runs, ("temps", *sources, *fields)
        if key not in memo:
            memo[key] = _read(scene, clock, line)
        found: Temperatures = memo[key]
        return found


def _read(scene: Scene, clock: dict[str, Any], line: str) -> Temperatures:
    found: dict[int, tuple[Moment, int]] = {}
    for source in clock["temps"]:
        own = not clock.get("per_line") or source["step"] != clock["start"]
        for name, each in scene.lines(source["step"]).items():
            value = each.values.get(source["field"])
            if isinstance(value, int) and not each.disputed and (own or name == line):
                before = found.get(each.root)
                hottest = value if before is None else max(value, before[1])
                found[each.root] = (scene.view.moment(each), hottest)
    walls = [(0 if m.unknown else m.at, place) for place, (m, _) in found.items()]
    return Temperatures(
        mask=sum(1 << place for place in found), found=found, by_wall=sorted(walls)
    )
