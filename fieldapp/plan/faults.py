"""What is wrong with a site's files, gathered so that all of it is told at once.

A fault names the file, the line, the place within it, what was found and what is
allowed. Nothing here reads a file or decides what is a fault.
"""

from collections.abc import Iterator
from dataclasses import dataclass

FOUND_LENGTH, WHERE_LENGTH = 80, 200


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Fault:
    """One thing wrong; `where` is a column or a key, `line` counts from 1."""

    file: str
    line: int
    where: str
    found: str
    allowed: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}"
        named = f"{place}: {self.where}" if self.where else place
        return f"{named}: found {self.found}; allowed: {self.allowed}"


class SiteFaults(ValueError):
    """The faults of a site's files, in the order of file and line."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


class Faults:
    """A gatherer of faults; the same fault told twice is kept once.

    `told` counts every telling, also what was spared: it says whether a part was sound.
    """

    def __init__(self) -> None:
        self._found: dict[Fault, None] = {}
        self.told = 0

    def add(
        self, file: str, line: int, where: str, found: object, allowed: str
    ) -> None:
        """Keep one fault; `found` is shown as its writer would know it."""
        fault = Fault(
            file=file,
            line=line,
            where=where[:WHERE_LENGTH],
            found=shown(found),
            allowed=allowed,
        )
        self._found.setdefault(fault)
        self.told += 1

    def spare(self) -> None:
        """Count a fault that only follows from another one and is not told."""
        self.told += 1

    def __iter__(self) -> Iterator[Fault]:
        return iter(sorted(self._found))

    def __len__(self) -> int:
        return len(self._found)

    def touch(self, file: str) -> bool:
        """Say whether a file has a fault, or one below a folder."""
        return any(fault.file.startswith(file) for fault in self._found)

    def touch_tables(self) -> bool:
        """Say whether any table, or the site's own file, has a fault."""
        return any(fault.file.endswith((".csv", "site.toml")) for fault in self._found)

    def raise_any(self) -> None:
        """Raise `SiteFaults` with all that was gathered, if anything was."""
        if self._found:
            raise SiteFaults(tuple(self))


class Missing:
    """Stands for what was not given."""

    def __repr__(self) -> str:
        return "nothing"


MISSING = Missing()


def shown(found: object) -> str:
    """Give a found value as text, quoted if it was text, cut where it is long."""
    text = f'"{found}"' if isinstance(found, str) else str(found)
    text = {"True": "true", "False": "false"}.get(text, text)
    return text if len(text) <= FOUND_LENGTH else text[: FOUND_LENGTH - 1] + "…"
