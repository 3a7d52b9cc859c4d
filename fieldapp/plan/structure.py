"""Reads what is built: segments, the faces of joints, and bars across them.

Outlines are checked as geometry when they are read.
"""

from pathlib import Path

from fieldapp.calc.polygon import Polygon
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.section import section_properties
from fieldapp.plan.csv_rows import Row, identity, number, read_rows, text, whole
from fieldapp.plan.faults import Faults
from fieldapp.plan.site import BarPlace, Pier, Section, Segment

OUTLINE = "outline"
PLACE = number("-100", "100")


def read_segments(
    folder: Path, piers: tuple[Pier, ...], faults: Faults
) -> dict[str, Segment]:
    """Read segments.csv; each arm is numbered from 1 without gaps."""
    columns = {
        "id": identity(),
        "title": text(),
        "pier": identity(),
        "arm": identity(),
        "order": whole(1, 200),
        "length_m": number("0.1", "20"),
        "depth_m": number("0.1", "20"),
        "level_m": number("-500", "5000"),
        "weight_kn": number("1", "20000"),
        "lever_m": number("0", "20"),
    }
    rows = read_rows(folder, "segments.csv", columns, ("id",), faults)
    for row in rows:
        check_arm(row, piers)
    _check_orders(rows, faults)
    return {row["id"]: _segment(row) for row in rows}


def check_arm(row: Row, piers: tuple[Pier, ...]) -> bool:
    """Say whether a row's pier and arm are the site's, and report it if not."""
    arms = {pier.id: pier.arms for pier in piers}
    known = row.refer("pier", arms, "site.toml")
    return known and row.refer("arm", arms[row["pier"]], "site.toml")


def _check_orders(rows: list[Row], faults: Faults) -> None:
    taken: dict[tuple[str, str], list[int]] = {}
    for row in rows:
        orders = taken.setdefault((row["pier"], row["arm"]), [])
        if row["order"] in orders:
            row.fault("order", "each place on an arm once")
        orders.append(row["order"])
    for row in rows if not faults.touch("segments.csv") else ():
        if row["order"] > len(taken[row["pier"], row["arm"]]):
            row.fault("order", "the places on an arm numbered from 1 without a gap")


def _segment(row: Row) -> Segment:
    return Segment(
        id=row["id"],
        title=row["title"],
        pier=row["pier"],
        arm=row["arm"],
        order=row["order"],
        length_m=float(row["length_m"]),
        depth_m=float(row["depth_m"]),
        level_m=float(row["level_m"]),
        weight_kn=float(row["weight_kn"]),
        lever_m=float(row["lever_m"]),
    )


def read_sections(folder: Path, faults: Faults) -> dict[str, Section]:
    """Read sections.csv: the points of each section's outline and voids, in order."""
    columns = {"section": identity(), "ring": identity(), "x_m": PLACE, "y_m": PLACE}
    rows = read_rows(
        folder, "sections.csv", columns, ("section", "ring", "x_m", "y_m"), faults
    )
    rings: dict[str, dict[str, list[tuple[float, float]]]] = {}
    first: dict[str, Row] = {}
    for row in rows:
        first.setdefault(row["section"], row)
        ring = rings.setdefault(row["section"], {}).setdefault(row["ring"], [])
        ring.append((float(row["x_m"]), float(row["y_m"])))
    found = {name: _section(name, rings[name], first[name]) for name in rings}
    return {name: section for name, section in found.items() if section is not None}


def _section(
    name: str, rings: dict[str, list[tuple[float, float]]], row: Row
) -> Section | None:
    outline: Polygon = tuple(rings.get(OUTLINE, ()))
    voids = tuple(tuple(ring) for key, ring in rings.items() if key != OUTLINE)
    if not outline:
        row.fault("ring", f"a ring named {OUTLINE} in every section", f"none in {name}")
        return None
    try:
        properties = section_properties(outline, voids)
    except CalcRefusal as refusal:
        row.fault("section", f"{refusal.key}: {refusal.allowed}", f"{refusal.value}")
        return None
    return Section(id=name, outline=outline, voids=voids, properties=properties)


def read_bars(folder: Path, faults: Faults) -> dict[str, tuple[BarPlace, ...]]:
    """Read bars.csv: the patterns of bars across joints."""
    columns = {
        "pattern": identity(),
        "id": identity(),
        "title": text(),
        "x_m": PLACE,
        "y_m": PLACE,
        "length_m": number("0.1", "100"),
        "area_mm2": number("10", "20000"),
        "modulus_gpa": number("50", "300"),
        "force_kn": number("1", "10000"),
        "cap_kn": number("1", "10000"),
    }
    rows = read_rows(folder, "bars.csv", columns, ("pattern", "id"), faults)
    patterns: dict[str, list[BarPlace]] = {}
    for row in rows:
        if row["force_kn"] > row["cap_kn"]:
            row.fault("force_kn", f"at most the bar's cap, {row['cap_kn']} kN")
        patterns.setdefault(row["pattern"], []).append(_bar(row))
    return {name: tuple(bars) for name, bars in patterns.items()}


def _bar(row: Row) -> BarPlace:
    return BarPlace(
        id=row["id"],
        title=row["title"],
        x_m=float(row["x_m"]),
        y_m=float(row["y_m"]),
        length_m=float(row["length_m"]),
        area_mm2=float(row["area_mm2"]),
        modulus_gpa=float(row["modulus_gpa"]),
        force_kn=float(row["force_kn"]),
        cap_kn=float(row["cap_kn"]),
    )
