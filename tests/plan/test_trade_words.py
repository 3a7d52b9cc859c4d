"""What the sample site's sheets say beside a limit: source, caution, figure.

A source is a document or says that there is none; what is known from memory alone says
so. A caution names the danger where somebody can be hurt by it.
"""

import re
from collections.abc import Iterator
from typing import Any

import pytest

from tests.plan.sample import FIRST, compiled, told

DUCT, DAY, OUT = "t-1L", "g2-1", "x-w1"
ONE_OF_EACH = (FIRST, DUCT, DAY, OUT)
READ = (
    "VDOT 453", "WSDOT", "PTIA GN03", "HSE", "GB 55034", "JGJ 33", "DMC ARP/DMC/21",
    "CPA TIN 101", "Indian practice pages", "a test laboratory's page", "Magnus form",
)  # fmt: skip
"""Documents whose text was read, or is quoted with its clause."""
REMEMBERED = (
    "FDOT", "FIP 1978", "AASHTO", "EN 446", "EN 447", "EN 13670", "ISO 8502", "TR 47",
    "ASTM C939", "ASBI", "US practice", ", practice",
)  # fmt: skip
"""Named in a source only with the word that they are from memory."""
THE_SITES_OWN = (
    "common practice, no source", "from memory, confirm", "invented", "geometry",
    "maker's certificate", "stressing calculations", "what dew point means",
)  # fmt: skip


def sources(part: Any) -> Iterator[str]:
    """Give every source anywhere in a sheet."""
    if isinstance(part, dict):
        if isinstance(part.get("source"), str):
            yield part["source"]
        for each in part.values():
            yield from sources(each)
    elif isinstance(part, list):
        for each in part:
            yield from sources(each)


@pytest.mark.parametrize("subject", ONE_OF_EACH)
def test_a_source_is_a_document_or_says_that_there_is_none(subject: str) -> None:
    known = (*READ, *THE_SITES_OWN)
    every = set(sources(compiled().sheets[subject]))
    assert every
    assert [s for s in every if not any(k.lower() in s.lower() for k in known)] == []


@pytest.mark.parametrize("subject", ONE_OF_EACH)
def test_what_is_remembered_says_so_and_asks_to_be_confirmed(subject: str) -> None:
    every = set(sources(compiled().sheets[subject]))
    remembered = {s for s in every if any(each in s for each in REMEMBERED)}
    assert {s for s in remembered if "from memory, confirm" not in s} == set()
    # A word that no document stands behind is never left half said.
    assert {s for s in every if "from memory)" in s} == set()


def cautions(subject: str) -> dict[str, str]:
    steps = compiled().sheets[subject]["steps"]
    return {name: step.get("caution", "") for name, step in steps.items()}


RESIN = (
    "cleaned", "mix-cool", "mix-warm", "mix-hot", "spread", "pot-kept", "spots",
    "bead", "ducts", "duct-stuck",
)  # fmt: skip
DANGERS = [
    ("gloves", {FIRST: RESIN, DUCT: ("grout-batch",), DAY: ("trial-mix", "samples")}),
    ("nobody below|nobody under", {FIRST: (
        "cleaned", "segment-in", "lift-ready", "trial-lift", "hung-up", "set-down",
        "weight-off", "recheck",
    )}),
    ("in line with a bar|line of the bar", {FIRST: (
        "survey", "bars", "bar-lost", "recheck",
    ), OUT: ("bars-down",)}),
    ("either end|both ends", {FIRST: ("bars",), DUCT: ("tendon-force",),
                              OUT: ("bars-down",)}),
    ("hose under pressure", {FIRST: ("bars",), DUCT: ("tendon-force", "shut-off"),
                             OUT: ("bars-down",)}),
    ("oil under the skin: hospital", {FIRST: ("bars",), DUCT: ("tendon-force",),
                                      OUT: ("bars-down",)}),
    ("gap", {FIRST: ("dry-fit", "gap-open", "faces", "ready", "spread", "spots",
                     "face-temp", "close", "set-down")}),
    ("relief valve", {FIRST: ("squeeze-air",), DUCT: ("grout-air",)}),
    ("goggles", {FIRST: ("mix-cool", "spread"), DUCT: ("strand-in", "grout-batch",
     "flow-time", "mud-balance"), DAY: ("trial-mix",)}),
    ("zero pressure", {DUCT: ("batch-in",)}),
    ("harness", {FIRST: ("survey", "bead", "final-marks"), DUCT: ("damper",
     "next-day"), DAY: ("frost-free",)}),
    ("flame|fire watch", {FIRST: ("cleaned", "cold-route", "cold-kept"),
                          DUCT: ("tails-off",)}),
]  # fmt: skip


@pytest.mark.parametrize(("danger", "where"), DANGERS)
def test_a_caution_names_the_danger_of_its_step(
    danger: str, where: dict[str, tuple[str, ...]]
) -> None:
    for subject, steps in where.items():
        said = cautions(subject)
        assert [s for s in steps if not re.search(danger, said[s].lower())] == []


def test_whoever_opens_a_hold_or_stands_by_is_cautioned() -> None:
    for subject in ONE_OF_EACH:
        points = compiled().sheets[subject]["points"]
        dangerous = {n for n, p in points.items() if p["class"] in ("hold", "witness")}
        assert {n for n in dangerous if not points[n].get("caution")} == set()


def test_stop_has_a_reason_to_tap_on_every_subject_and_one_for_the_hurt() -> None:
    for sheet in compiled().sheets.values():
        ids = [card["id"] for card in sheet["cards"]]
        assert ids[0] == "hurt"
        assert len(ids) > 2
        # Whatever no card says has one of its own, told last.
        assert ids[-1] == "something"


def figures(text: str) -> set[float]:
    return {float(each) for each in re.findall(r"\d+(?:\.\d+)?", text)}


@pytest.mark.parametrize("subject", ONE_OF_EACH)
def test_a_limit_told_beside_a_field_is_the_one_it_is_held_to(subject: str) -> None:
    for name, step in compiled().sheets[subject]["steps"].items():
        for field in step["fields"]:
            reading = {"word": "reading", "step": name, "field": field["id"]}
            for check in step["checks"]:
                must = check["must"]
                if isinstance(must, str) or must.get("value") != reading:
                    continue
                held = [must.get(key) for key in ("low", "high")]
                scale = 10 ** field.get("places", 0)
                wanted = {abs(b) / scale for b in held if isinstance(b, int)}
                assert "limit" not in field or wanted <= figures(field["limit"])


def test_the_adhesives_are_told_with_the_windows_they_are_held_to() -> None:
    sheet = compiled().sheets[FIRST]
    (field,) = (
        f for f in sheet["steps"]["faces"]["fields"] if f["id"] == "formulation"
    )
    ends = [
        [number / 10 for _, number in sheet["values"][name]["cases"]]
        for name in ("window-low", "window-high")
    ]
    wanted = [f"{low:g} to {high:g} °C" for low, high in zip(*ends, strict=True)]
    told = re.findall(r"(\d+)…(\d+)", field["limit"])
    assert [f"{low} to {high} °C" for low, high in told] == wanted


def test_a_recipe_is_one_wherever_it_is_told() -> None:
    duct, day = compiled().sheets[DUCT], compiled().sheets[DAY]
    labels = [
        field["label"]
        for sheet, step, name in (
            (duct, "grout-batch", "mix"),
            (day, "trial-mix", "recipe"),
        )
        for field in sheet["steps"][step]["fields"]
        if field["id"] == name
    ]
    (fact,) = (f["value"] for f in duct["facts"] if f["label"] == "Recipe of a batch")
    # Bags, a bag's weight, water; the fact leaves the weight to the water's limit:
    # 0.45 of 6 bags of 25 kg.
    assert [sorted(figures(label)) for label in labels] == [[6, 25, 60]] * 2
    assert figures(fact) == {6, 60, 6 * 25 * 0.45}


def test_a_bar_lost_or_a_segment_set_down_ends_a_release_without_any_stop() -> None:
    joint = told("clean")
    joint.at(46).release("weight", by="edric")
    assert joint.state()["points"]["weight"]["status"] == "released"
    joint.at(47).done("bar-lost", by="tamsin", line="b1", values={})
    assert joint.state()["points"]["weight"]["status"] == "lapsed"
    joint = told("mixing")
    assert joint.state()["points"]["mixing"]["status"] == "released"
    joint.at(6).done("set-down", by="tamsin", line="down", values={})
    assert joint.state()["points"]["mixing"]["status"] == "lapsed"
