"""The blank sheet on paper: it asks for everything the sheet asks, in room to write."""

import re
from copy import deepcopy
from decimal import Decimal
from functools import cache
from typing import Any

import pytest

from fieldapp.core.sheet import prepare
from fieldapp.records.blank import blank_pdf, blank_view
from fieldapp.records.blank_boxes import BY, TIME, Box, merged, packed, shares
from fieldapp.records.blank_clocks import alternatives
from fieldapp.records.files import SHEET
from fieldapp.records.names import Names
from fieldapp.records.verify import unpack
from tests.plan.sample import compiled, sheet_of
from tests.records.joint import FROZEN
from tests.records.paper import PAPER, opened, pages, structure

pytestmark = PAPER
NOW = 1_800_000_000_000
RAW = FROZEN["sheet"]
NAMES = Names(site=FROZEN["site"])


@cache
def printed(paper: str = "A4") -> bytes:
    return blank_pdf(prepare(RAW, FROZEN["tables"]), NAMES, NOW, paper)


def squeezed(text: str) -> str:
    return "".join(text.split())


@cache
def said() -> str:
    return squeezed(" ".join(pages(printed())))


def has_title(title: str) -> bool:
    """Say whether a step's title is there, or shared with one of which either is done.

    What tells those apart is left out of the title and ticked below it.
    """
    words = title.split()
    shared = (
        (" ".join([*words[:place], "…", *words[place + 1 :]]), f"☐{words[place]}")
        for place in range(len(words))
    )
    return squeezed(title) in said() or any(
        squeezed(head) in said() and squeezed(tick) in said() for head, tick in shared
    )


def is_seen(must: Any) -> bool:
    """Say whether a condition on a reading is there by bad ticks or by its ends."""
    body = RAW["conditions"][must] if isinstance(must, str) else must
    if body["word"] == "all":
        return all(map(is_seen, body["of"]))
    asked = body["value"]
    fields = RAW["steps"][asked["step"]]["fields"]
    (field,) = (each for each in fields if each["id"] == asked["field"])
    if body["word"] == "in":
        bad = [o["label"] for o in field["options"] if o["value"] not in body["set"]]
        return all(squeezed(f"☐{label}!") in said() for label in bad)
    ends = [Decimal(body[end]) for end in ("low", "high") if end in body]
    return all(str(end.scaleb(-field["places"])) in said() for end in ends)


def test_every_step_field_unit_line_and_choice_is_there() -> None:
    for step in RAW["steps"].values():
        assert has_title(step["title"]), step["title"]
        for field in step.get("fields", ()):
            unit = f", {field['unit']}" if field.get("unit") else ""
            assert squeezed(field["label"] + unit) in said(), field
            for option in field.get("options", ()):
                assert squeezed("☐" + option["label"]) in said(), option
        for line in step.get("lines", ()):
            if "round" in line:
                # A bar a row, its rounds side by side.
                label = RAW["items"][line["item"]]["label"]
                assert squeezed(label) in said(), line
                assert f"Round{line['round']}" in said()
            else:
                assert squeezed(line["label"]) in said(), line


def test_cautions_and_what_is_held_against_a_reading_are_there() -> None:
    for step in RAW["steps"].values():
        assert squeezed(step.get("caution", "")) in said()
    # What no box shows by its ticks or its limit is told; the rest is seen there.
    assert squeezed("A face is less than 3 °C above the dew point") in said()
    assert squeezed("A face is wet: dry it and wipe again.") not in said()
    assert squeezed("☐ Rag comes away damp !") in said()
    for step in RAW["steps"].values():
        for check in step.get("checks", ()):
            assert squeezed(check["text"]) in said() or is_seen(check["must"]), check


def test_force_and_pressure_stand_side_by_side_for_each_jack() -> None:
    # joint.json, jack-a: F = -2.4143 + 1.473619 p. The band of round 3 is 427.5 to
    # 472.5 kN: p = 291.7 to 322.3 bar, inwards 292 to 322; the aim is the plan's own.
    force = squeezed("Round 3 450.0 (427.5 to 472.5; at most 507.0) 305 (292 to 322)")
    assert force in said()


@pytest.mark.parametrize(
    ("low", "high", "told"), [(300, 315, "305 (300 to 315)"), (350, 400, "305")]
)
def test_pressures_never_lie_beyond_the_certificate(
    low: int, high: int, told: str
) -> None:
    raw = deepcopy(RAW)
    for item in raw["items"].values():
        if "slope" in item["numbers"]:
            item["numbers"] |= {"low": low, "high": high}
    view = blank_view(prepare(raw, FROZEN["tables"]), NAMES, NOW)
    (rounds,) = (p.rounds for s, p in view.parts if s == "step" and p.rounds)
    assert rounds.targets[-1][2] == told


def test_a_reading_with_places_has_its_band_in_the_same_places() -> None:
    raw = deepcopy(RAW)
    (field,) = (f for f in raw["steps"]["bars"]["fields"] if f["id"] == "pressure")
    field["places"] = 1
    view = blank_view(prepare(raw, FROZEN["tables"]), NAMES, NOW)
    (rounds,) = (p.rounds for s, p in view.parts if s == "step" and p.rounds)
    assert rounds.targets[-1][2] == "30.5 (29.2 to 32.2)"


def test_a_jack_whose_force_is_no_line_of_its_own_gets_its_mark_alone() -> None:
    raw = deepcopy(RAW)
    raw["values"]["force"]["terms"].append(raw["values"]["force"]["terms"][0])
    view = blank_view(prepare(raw, FROZEN["tables"]), NAMES, NOW)
    (rounds,) = (p.rounds for s, p in view.parts if s == "step" and p.rounds)
    assert rounds.targets[-1][2] == "305"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(("subject", "most"), [("j-e1", 5), ("t-1L", 2), ("g2-1", 1)])
def test_a_gang_has_few_pages_in_its_hand(subject: str, most: int, paper: str) -> None:
    site = Names(site=compiled().picture)
    told = pages(blank_pdf(sheet_of(subject), site, NOW, paper))
    assert len(told) <= most
    assert "STOP at" in told[-1]
    assert f"{compiled().site_id}-{subject}-blank" in told[0]
    # Nothing on paper is tapped, and nothing is typed.
    assert not re.search(r"\b(tap|type)\b", " ".join(told), re.IGNORECASE)


def test_what_hangs_on_the_other_arm_is_no_clock_of_this_sheet() -> None:
    view = blank_view(sheet_of("j-e1"), NAMES, NOW)
    clocks = [c for sort, p in view.parts if sort == "step" for c in p.clocks]
    assert {c.title for c in clocks} == {"Open time", "Pot life"}


def test_a_limit_of_one_line_stands_at_that_line() -> None:
    view = blank_view(sheet_of("j-e1"), NAMES, NOW)
    table = next(
        p.table
        for s, p in view.parts
        if s == "step" and p.title == "Weight off the gear"
    )
    hooks = [row.cells[0].said for lines in table.rows for row in lines]
    # What may be left at the last, and not the band every stage has.
    assert [each.endswith("; 0 to 10") for each in hooks] == [False] * 4 + [True]
    assert hooks[1] == "about 367; 318 to 415"


def test_steps_held_to_other_limits_are_not_asked_together() -> None:
    mixing = ["mix-cool", "mix-warm"]
    assert mixing in alternatives(prepare(RAW, FROZEN["tables"]))
    raw = deepcopy(RAW)
    reading = {"word": "reading", "step": "mix-warm", "field": "mixed"}
    must = {"word": "between", "value": reading, "high": 300}
    hot = {"id": "hot", "scope": "line", "must": must, "raises": "caution", "text": ""}
    raw["steps"]["mix-warm"]["checks"] = [hot]
    found = alternatives(prepare(raw, FROZEN["tables"]))
    assert [[each] in found for each in mixing] == [True, True]


def test_titles_are_merged_by_what_they_share() -> None:
    kits = [f"Kits mixed, {each} formulation" for each in ("cool", "warm")]
    assert merged(kits) == ("Kits mixed, … formulation", ("cool", "warm"))
    assert merged(["Dry fit"]) == ("Dry fit", ())
    assert merged(["One", "Two"]) == ("…", ("One", "Two"))
    assert merged(["a b", "a"]) == ("a …", ("b", ""))


def test_a_row_is_full_and_time_and_name_stay_with_their_step() -> None:
    wide = Box(label="What", sort="text", units=12)
    assert packed([wide, wide, TIME, BY]) == ((wide, wide, TIME, BY),)
    assert packed([wide, wide, wide]) == ((wide, wide), (wide,))
    assert shares([7, 7, 7]) == [33, 34, 33]


def test_a_gate_has_a_signature_line_for_each_who_must_sign() -> None:
    wanted = sum(len(point["releases"]) for point in RAW["points"].values())
    assert said().count("Signature") == wanted
    assert squeezed("A release on paper is not a release") in said()


def test_clocks_to_note_stand_with_the_minutes_of_the_certified_table() -> None:
    # joint.json, open-cool: at 5.0 °C the certified rate is 111 111 112e-15 of the life
    # a ms: 150 min. Seven tenths of it are 105 min, 23/20 are 172.5 min, cut to 172.
    view = blank_view(prepare(RAW, FROZEN["tables"]), NAMES, NOW)
    steps = [part for sort, part in view.parts if sort == "step"]
    clock = next(c for s in steps for c in s.clocks if c.title.startswith("Open time"))
    assert clock.tables[0].temperatures[0] == "5.0\N{NO-BREAK SPACE}°C"
    life = clock.tables[0]
    assert [life.times(place)[0] for place in range(3)] == ["1:45", "2:30", "2:52"]
    for title in clock.deadlines:
        assert squeezed(title) in said()
    assert "Opentimebeganat" in said()


def test_a_clock_of_days_is_noted_with_its_day_and_speaks_of_no_temperature() -> None:
    site = Names(site=compiled().picture)
    told = squeezed(" ".join(pages(blank_pdf(sheet_of("t-2L"), site, NOW, "A4"))))
    # Strand may stay under tension for 14 days: an hour alone would name none of them.
    assert squeezed("Strand under tension began, day and time") in told
    assert squeezed("Grout by, day and time") in told
    assert squeezed("Grout by 14 d 00 h.") in told
    # No table of a tendon is by temperature; a pot life's is, whatever its answers.
    assert squeezed("temperature of the certificate") not in told
    assert squeezed("temperature of the certificate") in said()
    assert "began,dayandtime" not in said()


def test_the_sheet_is_named_by_hash_and_attached() -> None:
    whole = prepare(RAW, FROZEN["tables"])
    assert whole.hash in said()
    files = unpack(printed())
    assert list(files) == [SHEET]


@pytest.mark.parametrize(
    ("paper", "sides"), [("A4", [595, 841]), ("Letter", [612, 792])]
)
def test_it_is_set_on_the_paper_asked_for(paper: str, sides: list[int]) -> None:
    pdf = opened(printed(paper))
    assert [int(float(side)) for side in pdf.pages[0].MediaBox][2:] == sides


def test_it_is_tagged_and_its_code_is_told_in_words() -> None:
    pdf = opened(printed())
    figures = [str(e.Alt) for e in structure(pdf) if e.S == "/Figure"]
    assert len(figures) == 1
    assert f"FR1:SUBJECT:{RAW['site']}:{RAW['subject']}:" in figures[0]
    assert {"/H1", "/H2", "/Table"} <= {str(e.S) for e in structure(pdf)}
