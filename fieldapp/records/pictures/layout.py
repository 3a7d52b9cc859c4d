"""Which clocks are drawn how, and how pictures share a page's width.

Nothing is left out for want of room: what does not fit beside goes under.
"""

from collections import Counter
from collections.abc import Iterable

from fieldapp.records.clocks import ClockPart
from fieldapp.records.opened import Opened
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.life import life_bars, life_curve, unit_of

Groups = tuple[tuple[tuple[Drawing, ...], tuple[Drawing, ...]], ...]
"""Pictures in groups that stay on a page, each of a left and a right column."""
GROUP_MM, PAIR_MM = 44.0, 30.0
PICTURE_HEAD_MM = 6.0


def clock_drawings(
    opened: Opened, clocks: tuple[ClockPart, ...]
) -> tuple[Drawing, ...]:
    """Draw clocks that run by temperature as curves, the others as bars together.

    Minutes among days would be no more than a line: each unit has its own axis.
    """
    drawn: list[Drawing] = []
    steady = [each for each in clocks if each.steady and not each.per_line]
    by_title: dict[str, list[ClockPart]] = {}
    for each in clocks:
        if each.per_line:
            by_title.setdefault(each.title, []).append(each)
        elif not each.steady:
            drawn.append(life_curve(each, opened.zone))
    by_unit: dict[str, list[ClockPart]] = {}
    for each in steady:
        by_unit.setdefault(unit_of([each])[0], []).append(each)
    for same in (*by_unit.values(), *by_title.values()):
        drawn += life_bars(same)
    return tuple(drawn)


def in_columns(drawn: Iterable[Drawing]) -> Groups:
    """Lay the pictures of half a page's width into two columns, a group a stretch.

    Those of one height come first, side by side, then the highest; each goes under
    the shorter column, so that little paper stays empty.
    """
    narrow = [each for each in drawn if not each.wide]
    alike = Counter(each.height_mm for each in narrow)

    def order(drawing: Drawing) -> tuple[bool, float]:
        return alike[drawing.height_mm] == 1, -drawing.height_mm

    groups: list[tuple[list[Drawing], list[Drawing]]] = []
    for each in sorted(narrow, key=order):
        if not groups or _full(groups[-1]):
            groups.append(([], []))
        min(groups[-1], key=_height_mm).append(each)
    return tuple((tuple(left), tuple(right)) for left, right in groups)


def _full(group: tuple[list[Drawing], list[Drawing]]) -> bool:
    left, right = map(_height_mm, group)
    return min(left, right) > (PAIR_MM if left == right else GROUP_MM)


def _height_mm(column: list[Drawing]) -> float:
    return sum(each.height_mm + PICTURE_HEAD_MM for each in column)
