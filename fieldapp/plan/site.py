"""A site as its files tell it, once they have been checked.

Plain facts in the units of the files (m, kN, °C, MPa); no rule and no rounding here.
Everything is in the order of the files, so that compiling gives the same bytes.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.calc.jack import Calibration
from fieldapp.calc.polygon import Polygon
from fieldapp.calc.section import SectionProperties
from fieldapp.calc.tables import LifeTable
from fieldapp.plan.quantities import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Organisation:
    """An employer; `part` is contractor, owner, designer or supplier."""

    id: str
    name: str
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A person with the roles they may sign in."""

    id: str
    name: str
    organisation: str
    roles: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pier:
    """A pier with its arms; the pier segment reaches `half_length_m` each way."""

    id: str
    title: str
    arms: tuple[str, ...]
    half_length_m: float
    at_m: float
    level_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A segment, hung `order`-th on its arm; its weight acts `lever_m` out."""

    id: str
    title: str
    pier: str
    arm: str
    order: int
    length_m: float
    depth_m: float
    level_m: float
    weight_kn: float
    lever_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The face of a joint: outline and voids in m, x right, y up."""

    id: str
    outline: Polygon
    voids: tuple[Polygon, ...]
    properties: SectionProperties


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPlace:
    """A bar of a pattern: where it crosses the joint and what it is."""

    id: str
    title: str
    x_m: float
    y_m: float
    length_m: float
    area_mm2: float
    modulus_gpa: float
    force_kn: float
    cap_kn: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What a sheet is about: a row of the table its kind names.

    `cells` are all columns of the row as written, and the numbers of its segment;
    `table` and `line` say where the row stands. What a row does not name is None.
    """

    id: str
    title: str
    kind: str
    table: str
    line: int
    cells: Mapping[str, str]
    pier: str = ""
    arm: str = ""
    order: int | None = None
    segment: Segment | None = None
    section: Section | None = None
    bars: tuple[BarPlace, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Jack:
    """A jack with its own gauge, calibrated as a pair."""

    id: str
    title: str
    kind: str
    gauge: str
    expires_ms: int
    graduation_bar: float
    calibration: Calibration
    certificate: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Equipment or material of another kind, chosen when a step is recorded."""

    id: str
    title: str
    kind: str
    expires_ms: int | None
    certificate: str
    numbers: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemKind:
    """A kind of item: the numbers its certificate states, by name and quantity.

    `calibrated`: after its last day it is out of calibration, where others expire;
    `planned`: its last day is a day of the programme, after which nothing has expired.
    """

    id: str
    title: str
    calibrated: bool
    planned: bool
    numbers: Mapping[str, Quantity]


@dataclass(frozen=True, slots=True, kw_only=True)
class Formulation:
    """An adhesive for one window of temperature; `number` is its choice value."""

    id: str
    number: int
    title: str
    density_kg_per_l: float
    kit_kg: float
    low_c: float
    high_c: float
    source: str
    lives: Mapping[str, LifeTable]


@dataclass(frozen=True, slots=True, kw_only=True)
class Files:
    """All of a site's facts; the kinds of subject are kept as the plan wrote them."""

    id: str
    title: str
    revision: int
    zone_minutes: int
    roles: Mapping[str, str]
    organisations: tuple[Organisation, ...]
    people: tuple[Person, ...]
    piers: tuple[Pier, ...]
    segments: tuple[Segment, ...]
    subjects: tuple[Subject, ...]
    jacks: tuple[Jack, ...]
    item_kinds: Mapping[str, ItemKind]
    items: tuple[Item, ...]
    formulations: Mapping[str, Formulation]
    kinds: Mapping[str, Any]
    plan_signers: Mapping[str, Any] | None = None
    paper: str = "a4"
