"""What the kernel may ask of the world while it evaluates an expression."""

from typing import Any, Protocol

from fieldapp.core.numbers import Value


class Situation(Protocol):
    """What the kernel may ask of the world: readings, lines, moments, standing."""

    memo: dict[tuple[str, str], Any]

    def reading(self, step: str, line: str, field: str) -> int | str | None:
        """Give the current reading of a field on one line."""

    def item_number(self, item: str, name: str) -> int | None:
        """Give a number of an item's certificate."""

    def line_ids(self, step: str, among: list[str] | None = None) -> list[str]:
        """Give the lines of a step that have been read, in order, less discarded.

        among: only of these, in the order given.
        """

    def disputed(self, step: str, line: str) -> bool:
        """Say whether two readings of a line contradict each other unresolved."""

    def line_of(self, step: str) -> str | None:
        """Give the line that stands for a step read outside its lines."""

    def elapsed_ms(
        self, start: Any, end: Any, use_by: bool, typed_ms: int = 0
    ) -> int | None:
        """Give the time between two references, ms; more where one was typed."""

    def life_used(self, clock: str, line: str, end: Any) -> Value:
        """Give the share of a clock's life used at a reference."""

    def reached(self, what: str, name: str, subject: str | None) -> bool:
        """Say whether a step, point or milestone is reached."""
