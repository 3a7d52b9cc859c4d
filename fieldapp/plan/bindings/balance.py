"""What hangs on both arms of a pier while this segment is lifted: a fact of the sheet.

The plan's prerequisites say what must hang before; this says how far the pier is out of
balance then, with the lift itself, and refuses a plan that goes beyond the limit. It
does not know what hangs today: that is the prerequisites'.
"""

from decimal import Decimal

from fieldapp.calc.balance import Load, arm_moment_knm
from fieldapp.calc.bands import at_most
from fieldapp.plan.draft import Draft
from fieldapp.plan.site import Pier, Segment
from fieldapp.plan.toml_node import Node


def add(node: Node, draft: Draft) -> None:
    """Add the moment during the lift, kNm, the other arm level or one behind.

    point: optional, the gate that whoever reads the figure decides at.
    """
    most = node.decimal("most_knm", Decimal(0), Decimal(10**7))
    source = node.text("source")
    point = draft.point(node.child("point")) if "point" in node else ""
    if not draft.has_segment(node):
        return
    mine = draft.subject.segment
    assert mine is not None, "said by has_segment"
    pier = next((each for each in draft.site.piers if each.id == mine.pier), None)
    if pier is None:
        return
    own = _loads(draft, pier, mine.arm, mine.order)
    others = [arm for arm in pier.arms if arm != mine.arm]
    behind = [_loads(draft, pier, arm, mine.order - 1) for arm in others]
    level = [_loads(draft, pier, arm, mine.order) for arm in others]
    worst = arm_moment_knm(own) - sum(map(arm_moment_knm, behind))
    usual = arm_moment_knm(own) - sum(map(arm_moment_knm, level))
    if not at_most(worst, float(most)):
        allowed = f"at most {most} kNm out of balance during the lift"
        node.child("most_knm").fault(allowed, f"{draft.subject.id}: {worst:.0f} kNm")
    towards = f"{worst:.0f} kNm towards {mine.arm}"
    draft.facts.append(
        {
            "label": f"Out of balance at {pier.title} during this lift",
            "value": f"{towards} with the other arm one segment behind,"
            f" {usual:.0f} kNm with it level; at most {most} kNm",
            "source": source,
            **({"point": point} if point else {}),
        }
    )


def _loads(draft: Draft, pier: Pier, arm: str, last: int) -> list[Load]:
    """The segments of an arm up to a place, each at its lever from the pier's axis."""
    hung = sorted(
        (s for s in draft.site.segments if (s.pier, s.arm) == (pier.id, arm)),
        key=lambda segment: segment.order,
    )
    out, loads = pier.half_length_m, []
    for segment in hung:
        if segment.order <= last:
            loads.append(_load(segment, out))
        out += segment.length_m
    return loads


def _load(segment: Segment, out_m: float) -> Load:
    return Load(weight_kn=segment.weight_kn, lever_m=out_m + segment.lever_m)
