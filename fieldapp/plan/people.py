"""Reads who is on the site: organisations and people with their roles."""

from collections.abc import Mapping
from pathlib import Path

from fieldapp.plan.csv_rows import id_list, identity, one_of, read_rows, text
from fieldapp.plan.faults import Faults
from fieldapp.plan.site import Organisation, Person

PARTS = ("contractor", "owner", "designer", "supplier")


def read_organisations(folder: Path, faults: Faults) -> tuple[Organisation, ...]:
    """Read organisations.csv: id, name, part."""
    columns = {"id": identity(), "name": text(), "part": one_of(*PARTS)}
    rows = read_rows(folder, "organisations.csv", columns, ("id",), faults)
    return tuple(
        Organisation(id=row["id"], name=row["name"], part=row["part"]) for row in rows
    )


def read_people(
    folder: Path,
    organisations: tuple[Organisation, ...],
    roles: Mapping[str, str],
    faults: Faults,
) -> tuple[Person, ...]:
    """Read people.csv: id, name, organisation, roles."""
    columns = {
        "id": identity(),
        "name": text(),
        "organisation": identity(),
        "roles": id_list(),
    }
    rows = read_rows(folder, "people.csv", columns, ("id",), faults)
    known = [each.id for each in organisations]
    for row in rows:
        row.refer("organisation", known, "organisations.csv")
        for role in row["roles"]:
            if role not in roles and not faults.touch("site.toml"):
                row.fault("roles", "roles of site.toml: " + ", ".join(roles), role)
    return tuple(
        Person(
            id=row["id"],
            name=row["name"],
            organisation=row["organisation"],
            roles=row["roles"],
        )
        for row in rows
    )
