"""What hangs on a joint: its own segment, and the next one beyond it.

Weights and levers are the segments' own; nothing is said here of what carries them.
"""

from dataclasses import dataclass

from fieldapp.calc.balance import Load, arm_moment_knm
from fieldapp.plan.draft import Draft
from fieldapp.plan.toml_node import Node


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """A state of loading: without the hung segment's weight, with it, or with the next.

    `later`: the next segment hangs on this joint too, which its bars alone need not
    carry: no planned force is asked of it, and it is not drawn.
    """

    id: str
    title: str
    moment_x_knm: float
    later: bool


def read_state(node: Node, draft: Draft) -> State:
    """Read a state of a joint: id, title, and what hangs (`hung`, `next`)."""
    later = node.flag("next")
    hung = node.flag("hung") or later
    state = State(
        id=node.identity("id"),
        title=node.text("title"),
        moment_x_knm=-_hung_knm(draft, later) if hung else 0.0,
        later=later,
    )
    node.finish()
    return state


def _hung_knm(draft: Draft, later: bool) -> float:
    """The moment at the joint of its own segment, and of the next beyond it."""
    mine = draft.subject.segment
    if mine is None:
        return 0.0
    hung = [Load(weight_kn=mine.weight_kn, lever_m=mine.lever_m)]
    for other in draft.site.segments if later else ():
        if (other.pier, other.arm, other.order) == (
            mine.pier,
            mine.arm,
            mine.order + 1,
        ):
            lever_m = mine.length_m + other.lever_m
            hung.append(Load(weight_kn=other.weight_kn, lever_m=lever_m))
    return arm_moment_knm(hung)
