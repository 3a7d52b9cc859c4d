"""Reads the adhesives of the site with their windows and certified lives."""

from decimal import Decimal
from itertools import pairwise
from pathlib import Path

from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.tables import LifeTable
from fieldapp.plan.csv_rows import Row, identity, number, one_of, read_rows
from fieldapp.plan.faults import Faults
from fieldapp.plan.site import Formulation
from fieldapp.plan.toml_node import Node, read_toml

LIVES = ("pot", "open")
LEAST_OVERLAP_C = 5


def read_formulations(folder: Path, faults: Faults) -> dict[str, Formulation]:
    """Read products.toml and life.csv; the windows must overlap by 5 °C.

    Source of the overlap: trade reference 2.15.
    """
    file = read_toml(folder, "products.toml", faults)
    lives = _read_lives(folder, faults)
    named = file.named("formulations")
    for rows in lives.values():
        rows[0].refer("formulation", [each for each, _ in named], "products.toml")
    found = {}
    for name, node in named:
        found[name] = _formulation(name, node, lives)
    file.finish()
    _check_windows(file, found)
    return found


def _read_lives(folder: Path, faults: Faults) -> dict[tuple[str, str], list[Row]]:
    columns = {
        "formulation": identity(),
        "life": one_of(*LIVES),
        "temp_c": number("-30", "60", places=1),
        "life_min": number("0.1", "10000", places=2),
    }
    rows = read_rows(
        folder, "life.csv", columns, ("formulation", "life", "temp_c"), faults
    )
    lives: dict[tuple[str, str], list[Row]] = {}
    for row in rows:
        lives.setdefault((row["formulation"], row["life"]), []).append(row)
    return lives


def _formulation(
    name: str, node: Node, lives: dict[tuple[str, str], list[Row]]
) -> Formulation:
    low = node.decimal("low_c", Decimal(-30), Decimal(60))
    high = node.decimal("high_c", Decimal(-30), Decimal(60))
    if low >= high:
        node.child("low_c").fault("below high_c")
    tables = {}
    for life in LIVES:
        rows = lives.get((name, life), [])
        table = _life_table(rows, life) if rows else None
        if not rows:
            node.lacks(f"a formulation with its {life} life in life.csv", "life.csv")
        elif table is not None:
            _check_covers(node, table, (float(low), float(high)), life)
            tables[life] = table
    formulation = Formulation(
        id=name,
        number=node.whole("number", 1, 99),
        title=node.text("title"),
        density_kg_per_l=float(
            node.decimal("density_kg_per_l", Decimal(1), Decimal(3))
        ),
        kit_kg=float(node.decimal("kit_kg", Decimal("0.5"), Decimal(100))),
        low_c=float(low),
        high_c=float(high),
        source=node.text("source"),
        lives=tables,
    )
    node.finish()
    return formulation


def _life_table(rows: list[Row], life: str) -> LifeTable | None:
    points = tuple((float(row["temp_c"]), float(row["life_min"])) for row in rows)
    try:
        return LifeTable(points=points, key=f"{life} life")
    except CalcRefusal as refusal:
        row = row_named(refusal, rows)
        row.fault(
            "life_min" if "life" in refusal.allowed else "temp_c", refusal.allowed
        )
        return None


def row_named(refusal: CalcRefusal, rows: list[Row]) -> Row:
    """Give the row a refusal counts, as in life[3]; the first where it counts none."""
    at = refusal.key.rpartition("[")[2].rstrip("]")
    return rows[int(at)] if at.isdigit() else rows[0]


def _check_covers(
    node: Node, table: LifeTable, window: tuple[float, float], life: str
) -> None:
    if not table.low_c <= window[0] < window[1] <= table.high_c:
        node.child("high_c").fault(
            f"a window inside the certified {life} life, "
            f"{table.low_c:g} to {table.high_c:g} °C",
            f"{window[0]:g} to {window[1]:g} °C",
        )


def _check_windows(file: Node, found: dict[str, Formulation]) -> None:
    numbers: set[int] = set()
    for name, each in found.items():
        place = file.child("formulations").child(name).child("number")
        if each.number in numbers:
            place.fault("each number once")
        numbers.add(each.number)
    ordered = sorted(found.values(), key=lambda each: each.low_c)
    for cool, warm in pairwise(ordered):
        if cool.high_c - warm.low_c < LEAST_OVERLAP_C:
            file.child("formulations").child(warm.id).child("low_c").fault(
                f"at least {LEAST_OVERLAP_C} °C below the end of {cool.id}, "
                f"{cool.high_c:g} °C"
            )
