"""A nonconformance as the fold derives it, before it is laid out as plain data.

Which there are is said in `faults`; here stands only what one is.
"""

from dataclasses import dataclass

from fieldapp.core.dispositions import Disposal


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A nonconformance: what raised it, where, which gates it shuts, its disposal.

    `item` and `lines`: what is named at several places, and at which. `running`: of a
    clock that is over and has not ended, so that nothing has come yet.
    """

    id: str
    code: str
    derived: bool = True
    step: str | None = None
    line: str = ""
    place: int | None = None
    check: str | None = None
    blocks: tuple[str, ...]
    disposal: Disposal
    item: str | None = None
    lines: tuple[str, ...] = ()
    running: bool = False

    @property
    def shuts(self) -> tuple[str, ...]:
        """Give the gates it shuts as things stand."""
        return self.blocks if self.disposal.blocks else ()
