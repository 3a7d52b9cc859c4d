"""Reads the subjects: each kind of the plan names the table its subjects stand in.

A table may name a segment, a face, bars, a pier with its arm; every other column is
the plan's own, for its texts and numbers. A row that names something missing is
reported and left out.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fieldapp.plan.csv_rows import Row, identity, read_rows, text, whole
from fieldapp.plan.faults import Faults
from fieldapp.plan.site import BarPlace, Pier, Section, Segment, Subject
from fieldapp.plan.structure import check_arm
from fieldapp.plan.toml_node import Node

TABLE = re.compile(r"[a-z0-9_-]+\.csv")
NAMED = {"segment": "segments.csv", "section": "sections.csv", "bars": "bars.csv"}
OF_SEGMENT = ("length_m", "depth_m", "level_m", "weight_kn", "lever_m")


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What a subject may name: segments, faces, patterns of bars, piers."""

    segments: Mapping[str, Segment]
    sections: Mapping[str, Section]
    bars: Mapping[str, tuple[BarPlace, ...]]
    piers: tuple[Pier, ...]


def read_subjects(
    folder: Path, kinds: Mapping[str, Node], parts: Parts, faults: Faults
) -> tuple[Subject, ...]:
    """Read the tables the kinds name; kinds in their order, rows in the table's."""
    tables: dict[str, list[Row]] = {}
    found: list[Subject] = []
    taken: dict[str, str] = {}
    for kind, node in kinds.items():
        name = node.text("subjects")
        if not TABLE.fullmatch(name):
            if name:
                node.child("subjects").fault("the name of a table, as ducts.csv")
            continue
        if name not in tables:
            tables[name] = _read_table(folder, name, kinds, parts, faults)
        mine = [row for row in tables[name] if row["kind"] in (None, kind)]
        _check_once(mine, taken, kind)
        found += [_subject(row, kind, parts) for row in mine]
    return tuple(found)


def _read_table(
    folder: Path, name: str, kinds: Mapping[str, Node], parts: Parts, faults: Faults
) -> list[Row]:
    columns = {"id": identity(), "title": text()}
    optional = {
        **{key: identity(need=False) for key in ("kind", *NAMED, "pier", "arm")},
        "order": whole(1, 999, need=False),
    }
    rows = read_rows(
        folder, name, columns, ("id",), faults, optional=optional, free=True
    )
    return [row for row in rows if _names_known(row, kinds, parts)]


def _names_known(row: Row, kinds: Mapping[str, Node], parts: Parts) -> bool:
    """Report every name of a subject that is not there."""
    known: dict[str, tuple[str, ...]] = {
        "segment": tuple(parts.segments),
        "section": tuple(parts.sections),
        "bars": tuple(parts.bars),
    }
    found = [row["kind"] is None or row.refer("kind", kinds, "plan")]
    found += [
        row[column] is None or row.refer(column, known[column], file)
        for column, file in NAMED.items()
    ]
    if row["arm"] is not None:
        found.append(check_arm(row, parts.piers))
    elif row["pier"] is not None:
        piers = [pier.id for pier in parts.piers]
        found.append(row.refer("pier", piers, "site.toml"))
    return all(found)


def _check_once(rows: list[Row], taken: dict[str, str], kind: str) -> None:
    """An id stands for one subject of the site, a segment for one of its kind."""
    for row in rows:
        if row["id"] in taken:
            row.fault("id", f"an id no other subject has; {taken[row['id']]} has it")
        taken[row["id"]] = row.file
    segments = [row["segment"] for row in rows if row["segment"]]
    for place, row in enumerate(rows):
        if row["segment"] and row["segment"] in segments[:place]:
            row.fault("segment", f"each segment in one {kind} only")


def _subject(row: Row, kind: str, parts: Parts) -> Subject:
    segment = parts.segments.get(row["segment"])
    place = (row["pier"] or "", row["arm"] or "", row["order"])
    if segment is not None:
        place = (segment.pier, segment.arm, segment.order)
    return Subject(
        id=row["id"],
        title=row["title"],
        kind=kind,
        table=row.file,
        line=row.line,
        cells=_cells(row, segment),
        pier=place[0],
        arm=place[1],
        order=place[2],
        segment=segment,
        section=parts.sections.get(row["section"]),
        bars=parts.bars.get(row["bars"], ()),
    )


def _cells(row: Row, segment: Segment | None) -> dict[str, str]:
    """Every cell as text, empty where it is, and the numbers of the segment."""
    found = {
        name: "" if cell is None else str(cell)
        for name, cell in row.cells.items()
        if name
    }
    if segment is not None:
        found |= {name: f"{getattr(segment, name):.10g}" for name in OF_SEGMENT}
    return found
