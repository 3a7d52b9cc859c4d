"""One demand of a step on what is recorded of it."""

from dataclasses import dataclass
from typing import Any, Self

from fieldapp.core.kernel import Kernel, Test


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One demand on a step: its test and what a failure raises.

    `begins`: the steps from whose first reading on it is raised so; before, the step
    fails until read again, or until one that `settles` it is read by who knew of it.
    """

    id: str
    scope: str
    raises: str
    blocks: tuple[str, ...]
    must: Test
    begins: tuple[str, ...]
    settles: tuple[str, ...]

    @classmethod
    def every(cls, kernel: Kernel, step: dict[str, Any]) -> tuple[Self, ...]:
        """Make the checks of a step ready, in the order of the sheet."""
        return tuple(
            cls(
                id=each["id"],
                scope=each["scope"],
                raises=each["raises"],
                blocks=tuple(each.get("blocks", ())),
                must=kernel.condition(each["must"]),
                begins=tuple(each.get("begins", ())),
                settles=tuple(each.get("settles", ())),
            )
            for each in step.get("checks", ())
        )
