"""Lines that are read in rounds over the same items, set as one row an item.

So a stressing sheet reads as an engineer knows it: a bar a row, its rounds side by
side. Only lines that name an item and a round are set so; nothing is left out, and
what cannot be shown in so small a cell is told under the table by the caller.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldapp.records.lines import Lines, Row
from fieldapp.records.opened import Opened

MOST_COLUMNS = 13
NOTHING = "–"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundHead:
    """A round's title and the heads of its figures."""

    title: str
    columns: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundCell:
    """One item in one round: its figures, the time, the entry; `tone` of a fault."""

    texts: tuple[str, ...]
    when: str
    entry: str
    tone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundRow:
    """An item and what was read of it in every round."""

    label: str
    cells: tuple[RoundCell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounds:
    """A step's lines by item and round; `limits` are told under the table."""

    heads: tuple[RoundHead, ...]
    rows: tuple[RoundRow, ...]
    limits: tuple[str, ...]


def rounds_of(
    opened: Opened, name: str, lines: Lines, ids: Sequence[str]
) -> Rounds | None:
    """Set a step's lines in rounds; None where they are not read so.

    ids: of the lines, as `lines.rows` has them.
    """
    stated = {each["id"]: each for each in opened.raw["steps"][name].get("lines", ())}
    told = [stated.get(each, {}) for each in ids]
    if not lines.rows or not all("item" in each and "round" in each for each in told):
        return None
    rounds = sorted({int(each["round"]) for each in told})
    plain = lines.by and all(sort != "text" for _, sort in lines.heads)
    if len(rounds) < 2 or not plain or not _narrow(lines, rounds):
        return None
    placed = {
        (each["item"], int(each["round"])): row
        for each, row in zip(told, lines.rows, strict=True)
    }
    used = {number: _used(lines, placed, number) for number in rounds}
    items = dict.fromkeys(each["item"] for each in told)
    return Rounds(
        heads=tuple(_head(lines, number, used[number]) for number in rounds),
        rows=tuple(
            RoundRow(
                label=str(opened.items.get(item, {}).get("label", item)),
                cells=tuple(_cell(placed.get((item, n)), used[n]) for n in rounds),
            )
            for item in items
        ),
        limits=(*_limits(lines, placed, rounds), *_zones(lines)),
    )


def _narrow(lines: Lines, rounds: list[int]) -> bool:
    return len(rounds) * (1 + len(_figures(lines))) <= MOST_COLUMNS


def _figures(lines: Lines) -> list[int]:
    return [n for n, (_, sort) in enumerate(lines.heads) if sort == "number"]


def _used(
    lines: Lines, placed: Mapping[tuple[str, int], Row], number: int
) -> tuple[int, ...]:
    """Give the columns that hold a figure somewhere in a round."""
    rows = [row for (_, n), row in placed.items() if n == number]
    return tuple(
        place
        for place in _figures(lines)
        if any(row.cells[place].text != NOTHING for row in rows)
    )


def _head(lines: Lines, number: int, used: tuple[int, ...]) -> RoundHead:
    heads = tuple(lines.heads[place][0].partition(" (")[0] for place in used)
    return RoundHead(title=f"Round {number}", columns=heads)


def _cell(row: Row | None, used: tuple[int, ...]) -> RoundCell:
    if row is None:
        return RoundCell(texts=(NOTHING,) * len(used), when="", entry="", tone="")
    tones = [tone for tone, _ in row.remarks] or [row.mark.tone]
    tone = next((each for each in ("red", "yellow") if each in tones), "")
    sign = {"red": " ✕", "yellow": " △"}.get(tone, "")
    texts = [row.cells[place].text for place in used]
    if texts:
        texts[-1] += sign
    return RoundCell(texts=tuple(texts), when=row.clock, entry=row.entry, tone=tone)


def _zones(lines: Lines) -> list[str]:
    """Say whose clock the cells show, where a phone stood at another."""
    away = sorted({row.away for row in lines.rows if row.away})
    told = f"Times by the site's clock; a phone stood at {', '.join(away)}."
    return [told] if away else []


def _limits(
    lines: Lines,
    placed: Mapping[tuple[str, int], Row],
    rounds: list[int],
) -> list[str]:
    """Tell the limits of the figures: those of all lines, then those of a round."""
    said = [head for head, sort in lines.heads if sort == "number" and " (" in head]
    for place, (_, sort) in enumerate(lines.heads):
        if sort == "limits":
            for number in rounds:
                rows = [row for (_, n), row in placed.items() if n == number]
                texts = dict.fromkeys(row.cells[place].text for row in rows)
                head = lines.heads[place - 1][0].partition(" (")[0]
                said.append(f"{head}, round {number}: {' or '.join(texts)}")
    return [f"Limits: {'; '.join(said)}."] if said else []
