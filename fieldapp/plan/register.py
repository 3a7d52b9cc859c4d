"""Reads what the site starts with: jacks, thermometers, lots, bars, certificates.

These are the first registrations; stores register more as the work goes on. A number
of a certificate must be one its kind of item declares.
"""

from collections.abc import Mapping
from datetime import UTC, datetime, time, timedelta
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from fieldapp.calc.jack import fit_calibration
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.plan.csv_rows import Row, day, identity, number, read_rows, text
from fieldapp.plan.faults import Faults
from fieldapp.plan.products import row_named
from fieldapp.plan.quantities import Quantity
from fieldapp.plan.site import Item, ItemKind, Jack
from fieldapp.plan.toml_node import Node, report_repeats

CERTIFICATE = {"certificate": text(need=False)}
ITEM_COLUMNS = ("id", "title", "kind", "expires", "certificate")
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def read_jacks(folder: Path, zone_minutes: int, faults: Faults) -> tuple[Jack, ...]:
    """Read jacks.csv and calibrations.csv: each jack with its own gauge."""
    columns = {
        "id": identity(),
        "title": text(),
        "kind": identity(),
        "gauge": text(),
        "graduation_bar": number("0.1", "50", places=1),
        "expires": day(),
    }
    rows = read_rows(
        folder, "jacks.csv", columns, ("id",), faults, optional=CERTIFICATE
    )
    points = _read_calibrations(folder, [row["id"] for row in rows], faults)
    found = [_jack(row, points.get(row["id"], []), zone_minutes) for row in rows]
    return tuple(jack for jack in found if jack is not None)


def _read_calibrations(
    folder: Path, jacks: list[str], faults: Faults
) -> dict[str, list[Row]]:
    columns = {
        "jack": identity(),
        "pressure_bar": number("0", "3000", places=1),
        "force_kn": number("0", "20000", places=2),
    }
    rows = read_rows(
        folder, "calibrations.csv", columns, ("jack", "pressure_bar"), faults
    )
    points: dict[str, list[Row]] = {}
    for row in rows:
        row.refer("jack", jacks, "jacks.csv")
        points.setdefault(row["jack"], []).append(row)
    return points


def _jack(row: Row, points: list[Row], zone_minutes: int) -> Jack | None:
    if not points:
        if not row.faults.touch("calibrations.csv"):
            row.fault("id", "a jack with certified points in calibrations.csv")
        return None
    pairs = [(float(each["pressure_bar"]), float(each["force_kn"])) for each in points]
    try:
        calibration = fit_calibration(pairs)
    except CalcRefusal as refusal:
        row_named(refusal, points).fault("force_kn", refusal.allowed)
        return None
    return Jack(
        id=row["id"],
        title=row["title"],
        kind=row["kind"],
        gauge=row["gauge"],
        expires_ms=end_of_day_ms(row["expires"], zone_minutes),
        graduation_bar=float(row["graduation_bar"]),
        calibration=calibration,
        certificate=row["certificate"] or "",
    )


def read_item_kinds(site: Node) -> dict[str, ItemKind]:
    """Read which numbers certificates of each kind of item state, and what ends."""
    found = {}
    for name, node in site.named("item_kinds", need=False):
        places = node.items("numbers", need=False)
        report_repeats(places)
        numbers = dict(map(_number, places))
        found[name] = ItemKind(
            id=name,
            title=node.text("title"),
            calibrated=node.flag("calibrated"),
            planned=node.flag("planned"),
            numbers=numbers,
        )
        node.finish()
    return found


def _number(node: Node) -> tuple[str, Quantity]:
    name = node.identity("id")
    quantity = Quantity(
        node.text("unit", need=False), node.whole("places", 0, 6, default=0)
    )
    node.finish()
    return name, quantity


def read_items(
    folder: Path,
    zone_minutes: int,
    known: tuple[tuple[Jack, ...], Mapping[str, ItemKind]],
    faults: Faults,
) -> tuple[Item, ...]:
    """Read items.csv: thermometers, lots of adhesive, bars, whatever is chosen."""
    columns = {
        "id": identity(),
        "title": text(),
        "kind": identity(),
        "expires": day(need=False),
    }
    rows = read_rows(
        folder, "items.csv", columns, ("id",), faults, optional=CERTIFICATE, free=True
    )
    jacks, kinds = known
    for row in rows:
        if row["id"] in [jack.id for jack in jacks]:
            row.fault("id", "an id no jack has")
    return tuple(
        Item(
            id=row["id"],
            title=row["title"],
            kind=row["kind"],
            expires_ms=row["expires"] and end_of_day_ms(row["expires"], zone_minutes),
            certificate=row["certificate"] or "",
            numbers=_numbers(row, kinds.get(row["kind"])),
        )
        for row in rows
    )


def _numbers(row: Row, kind: ItemKind | None) -> dict[str, int]:
    """Give the numbers of an item's certificate as whole numbers of their quantity."""
    known = kind.numbers if kind else {}
    found = {}
    for name, cell in row.cells.items():
        if name in ITEM_COLUMNS or not name or cell is None:
            continue
        if name not in known:
            if not row.faults.touch("site.toml"):
                allowed = f"a number of {row['kind']}: "
                row.fault(name, allowed + (", ".join(known) or "-"))
            continue
        whole = _whole(cell, known[name])
        if whole is None:
            row.fault(name, f"a number of {known[name]}")
        else:
            found[name] = whole
    return found


def _whole(cell: str, quantity: Quantity) -> int | None:
    try:
        value = Decimal(cell)
    except InvalidOperation:
        return None
    return quantity.whole(value) if value.is_finite() else None


def end_of_day_ms(last_day: Any, zone_minutes: int) -> int:
    """Give the end of a last valid day on the site, in ms UTC."""
    midnight = datetime.combine(last_day, time(), tzinfo=UTC) + timedelta(days=1)
    passed = midnight - timedelta(minutes=zone_minutes) - EPOCH
    return passed // timedelta(milliseconds=1)
