"""What was decided about a nonconformance, and the computed ids of derived ones.

A derived nonconformance is never an entry, or every node would raise its own: its id
is a hash of what it is about, so that a disposition made on one phone names the same
thing everywhere.
"""

from dataclasses import dataclass

from fieldapp.core.canonical import sha256_hex
from fieldapp.core.scene import Scene
from fieldapp.core.view import allowed, decides, may_dispose, strictest

GATE = "gate"
"""The check name of an act that a gate forbade."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Disposal:
    """Status open, proposed, disposed or closed; the verdict and its entry's place."""

    status: str
    verdict: str | None = None
    place: int | None = None

    @property
    def blocks(self) -> bool:
        """Say whether gates stay shut: undecided, rejected, or not yet repaired."""
        if self.status in ("open", "proposed"):
            return True
        return self.verdict == "reject" or (
            self.verdict == "repair" and self.status != "closed"
        )


def computed_id(*parts: str) -> str:
    """Give the id of a derived nonconformance: SHA-256 of its parts."""
    return sha256_hex("|".join(("nonconformance", *parts)).encode())


def reading_fault_id(check: str, entry_id: str) -> str:
    """Give the id of a reading's failure of a check."""
    return computed_id("reading", check, entry_id)


def step_fault_id(scene: Scene, step: str, check: str) -> str:
    """Give the id of a whole step's failure of a check, in its attempt."""
    attempt = scene.view.attempt_of(step) or "first"
    return computed_id("step", scene.view.sheet.subject, attempt, step, check)


def clock_fault_id(scene: Scene, attempt: str | None, clock: str, ratio: str) -> str:
    """Give the id of a clock that has run over one of its ratios."""
    subject = scene.view.sheet.subject
    return computed_id("clock", subject, attempt or "first", clock, ratio)


def disposal(scene: Scene, fault_id: str) -> Disposal:
    """Give what was decided about a nonconformance, as this scene knows it.

    Of decisions none of which saw another the strictest stands until one that has
    seen them all.
    """
    view, history = scene.view, scene.view.history
    about = view.among(history.by_target.get(fault_id))
    if not about:
        return Disposal(status="open")
    decided = [
        place
        for place in about
        if history.entry(place).kind == "disposition" and decides(view, place)
    ]
    if not decided:
        proposed = any(_may_propose(scene, place) for place in about)
        return Disposal(status="proposed" if proposed else "open")
    place = strictest(view, decided)
    closed = any(
        history.entry(other).kind == "closing"
        and history.saw(other, place)
        and may_dispose(view, other)
        for other in about
    )
    return Disposal(
        status="closed" if closed else "disposed",
        verdict=history.entry(place).about["verdict"],
        place=place,
    )


def accepted(scene: Scene, fault_id: str) -> bool:
    """Say whether a failure was decided in a way that lets its step count."""
    found = disposal(scene, fault_id)
    return found.verdict in ("use_as_is", "repair") and not found.blocks


def _may_propose(scene: Scene, place: int) -> bool:
    entry = scene.view.history.entry(place)
    wanted = scene.view.sheet.raw.get("propose", [])
    return entry.kind == "proposal" and allowed(
        scene.view.standing, entry.person, wanted
    )
