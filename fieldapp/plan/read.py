"""Reads and checks a site's folder of open formats, and tells all faults at once.

Nothing is changed and nothing is kept of a site with a fault. The only module of this
package's public door that opens a folder.
"""

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from fieldapp.plan.compile import Compiled, compile_files
from fieldapp.plan.faults import Faults
from fieldapp.plan.people import read_organisations, read_people
from fieldapp.plan.products import read_formulations
from fieldapp.plan.register import read_item_kinds, read_items, read_jacks
from fieldapp.plan.signers import read_plan_signers
from fieldapp.plan.site import Files, Organisation, Person, Pier
from fieldapp.plan.structure import read_bars, read_sections, read_segments
from fieldapp.plan.subjects import Parts, read_subjects
from fieldapp.plan.toml_node import Node, read_toml

SITE_FILE = "site.toml"
PLAN_FOLDER = "plan"


@dataclass(frozen=True, slots=True, kw_only=True)
class Staff:
    """Who is on the site, before the rest of it has been read."""

    people: tuple[Person, ...]
    organisations: tuple[Organisation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A checked site: what its files say, and what compiling them gave."""

    files: Files
    compiled: Compiled


PAPERS = ("a4", "letter")
"""Sizes of sheet that a site may print on; the first is used if none is named."""


def read_site(path: str | Path) -> Site:
    """Read and check a site's folder; compiling is part of the check.

    Errors: `SiteFaults` with every fault of every file, by file and line.
    """
    folder, faults = Path(path), Faults()
    files = _read_files(folder, faults)
    compiled = compile_files(files, faults)
    faults.raise_any()
    return Site(files=files, compiled=compiled)


def compile_site(site: Site) -> Compiled:
    """Give the sheets, tables, elevation and people of a checked site."""
    return site.compiled


def _read_files(folder: Path, faults: Faults) -> Files:
    site = read_toml(folder, SITE_FILE, faults)
    site.whole("format", 1, 1)
    zone = site.whole("zone_minutes", -720, 840)
    piers = tuple(_pier(node) for node in site.items("piers"))
    roles = {name: site.child("roles").text(name) for name, _ in site.named("roles")}
    organisations = read_organisations(folder, faults)
    parts = Parts(
        segments=read_segments(folder, piers, faults),
        sections=read_sections(folder, faults),
        bars=read_bars(folder, faults),
        piers=piers,
    )
    staff = Staff(
        people=read_people(folder, organisations, roles, faults),
        organisations=organisations,
    )
    kinds = _in_order(site, _read_kinds(folder, faults))
    item_kinds = read_item_kinds(site)
    jacks = read_jacks(folder, zone, faults)
    files = Files(
        id=site.identity("id"),
        title=site.text("title"),
        revision=site.whole("revision", 1, 9999),
        zone_minutes=zone,
        roles=roles,
        organisations=organisations,
        people=staff.people,
        piers=piers,
        segments=tuple(parts.segments.values()),
        subjects=read_subjects(folder, kinds, parts, faults),
        jacks=jacks,
        item_kinds=item_kinds,
        items=read_items(folder, zone, (jacks, item_kinds), faults),
        formulations=read_formulations(folder, faults),
        kinds=kinds,
        plan_signers=read_plan_signers(site, staff),
        paper=site.one_of("paper", PAPERS, PAPERS[0]),
    )
    site.finish()
    return files


def _pier(node: Node) -> Pier:
    arms = tuple(node.ids("arms"))
    if not 1 <= len(arms) <= 2:
        node.child("arms").fault("one arm or two", f"{len(arms)}")
    most = Decimal(100_000)
    pier = Pier(
        id=node.identity("id"),
        title=node.text("title"),
        arms=arms,
        half_length_m=float(node.decimal("half_length_m", Decimal("0.1"), Decimal(50))),
        at_m=float(node.decimal("at_m", -most, most)),
        level_m=float(node.decimal("level_m", -most, most)),
    )
    node.finish()
    return pier


def _read_kinds(folder: Path, faults: Faults) -> dict[str, Node]:
    """Read every kind of subject of the plan folder, by its id."""
    names = sorted(path.name for path in (folder / PLAN_FOLDER).glob("*.toml"))
    if not names:
        faults.add(
            PLAN_FOLDER, 1, "", "no TOML file", "a file for each kind of subject"
        )
    kinds: dict[str, Node] = {}
    for name in names:
        node = read_toml(folder, f"{PLAN_FOLDER}/{name}", faults)
        kind = node.identity("id")
        if kind in kinds:
            node.child("id").fault("each kind once")
        kinds[kind] = node
    return kinds


def _in_order(site: Node, kinds: dict[str, Node]) -> dict[str, Node]:
    """Give the kinds as site.toml orders them; without an order, as their files."""
    if "kinds" not in site:
        return kinds
    order = site.ids("kinds")
    for place in site.items("kinds"):
        if place.value not in kinds:
            place.lacks("a kind of the plan: " + ", ".join(kinds), PLAN_FOLDER)
    for name, kind in kinds.items():
        if name not in order:
            kind.child("id").lacks("a kind that site.toml orders", SITE_FILE)
    return {name: kinds[name] for name in [*order, *kinds] if name in kinds}
