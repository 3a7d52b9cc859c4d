"""Everything wrong with a site's files is told at once: file, line, found, allowed."""

from contextlib import suppress
from pathlib import Path

import pytest

from fieldapp.plan import SiteFaults, read_site
from tests.plan.sample import copied, faults_of, spoil

PLAN = "plan/glued_joint.toml"

# file, what stands there, what is put there, the place told, part of what is allowed
ONE_FAULT = [
    ("site.toml", "format = 1", "format = 2", "format", "from 1 to 1"),
    ("site.toml", 'id = "tisk-crossing"', 'id = "tisk crossing"', "id", "a letter"),
    ("site.toml", "revision = 1", 'revision = "one"', "revision", "a whole number"),
    ("site.toml", "zone_minutes = 60", "zone_minutes = 900", "zone_minutes", "840"),
    ("site.toml", "at_m = 118.0", "at_m = nan", "piers[1].at_m", "a number"),
    ("site.toml", "level_m = 45.0", "level_m = 4.0\nhue = 1", "piers[1].hue", "title"),
    ("site.toml", 'title = "Pier 2"', 'title = "Pier', "", "TOML"),
    ("people.csv", "jorun,", "jo run,", "id", "a letter"),
    ("people.csv", "tamsin,", "jorun,", "id", "each id once"),
    ("people.csv", ",corvane,foreman", ",carvone,foreman", "organisation", "corvane"),
    ("people.csv", "corvane,stores", "corvane,cook", "roles", "foreman"),
    ("people.csv", "id,name,", "id,nom,", "nom", "columns id, name"),
    ("people.csv", "Odalys Wren", "", "name", "text"),
    ("people.csv", ",qa-manager", ",qa-manager,x", "", "4 cells"),
    ("people.csv", "Jorun Faleck", '"Jorun Faleck', "", "CSV"),
    ("organisations.csv", ",owner", ",owners", "part", "contractor, owner"),
    ("segments.csv", ",3.0,", ",3.0m,", "length_m", "a number from 0.1 to 20"),
    ("segments.csv", ",3.0,", ",-3.0,", "length_m", "a number from 0.1 to 20"),
    ("segments.csv", ",east,9,", ",east,10,", "order", "without a gap"),
    ("segments.csv", ",p2,", ",p7,", "pier", "p2"),
    ("sections.csv", "face-1,outline,2.6,0", "face-1,outline,-2.8,9", "section", ""),
    ("bars.csv", ",450,507", ",550,507", "force_kn", "at most the bar's cap"),
    ("joints.csv", ",face-1,", ",face-0,", "section", "face-1"),
    ("joints.csv", ",W2,", ",W1,", "segment", "each segment in one"),
    ("joints.csv", "j-w2,", "j-w1,", "id", "each id once"),
    ("life.csv", "cool,pot,10,44", "cool,pot,10,64", "life_min", "hotter is never"),
    ("life.csv", "cool,pot,10,44", "cool,pot,10.55,44", "temp_c", "1 decimal places"),
    ("life.csv", "warm,open,35", "worm,open,35", "formulation", "cool, warm"),
    ("products.toml", "low_c = 15", "low_c = 16", "formulations.warm.low_c", "5 °C"),
    ("products.toml", "number = 2", "number = 1", "formulations.warm.number", "once"),
    ("products.toml", "kit_kg = 10", "kit_kg = 0", "formulations.cool.kit_kg", "0.5"),
    ("products.toml", "high_c = 20", "high_c = 21", "formulations.cool.high_c", "pot"),
    ("jacks.csv", ",5,2036-12-31", ",5,2036-13-31", "expires", "a day"),
    ("calibrations.csv", "jack-a,100", "jack-c,100", "jack", "jack-a, jack-b"),
    ("calibrations.csv", ",292.3", ",200.0", "force_kn", "a force above"),
    ("items.csv", "thermo-2,", "jack-a,", "id", "an id no jack has"),
    (PLAN, "use = \"window\"", "use = \"door\"", "calculations[2].use", "dew_margin"),
    (PLAN, 'air = "faces.air"', 'air = "faces.wind"', "calculations[1].air", "faces.a"),
    (PLAN, "waste_percent = 10", "waste_percent = -1", "waste_percent", "from 0"),
    (PLAN, "residual_percent = 1", "residual_percent = 0.01",
     "residual", "within 0.01"),
    (PLAN, "high_percent = 110", "high_percent = 290", "high_percent", "200"),
    (PLAN, "datum_kn = 90", "datum_kn = 190", "datum_kn", "below the least target"),
    (PLAN, "seating_mm = 0.5", "seating_mm = 6", "seating_mm", "from 0 to 5"),
    (PLAN, "mean = 0.276", "mean = 0.9", "limits", "within the limits"),
    (PLAN, "mean = 0.276", "mean = 0.27655", "limits.mean", "4 decimal places"),
    (PLAN, '{ between = "coldest", low = 0.1 }', '{ above = "coldest" }', "no-frost",
     "one word of between, in, reached, all, any"),
    (PLAN, '"coldest", low = 0.1', '"coldest", low = 0.15',
     "no-frost.low", "°C with 1"),
    (PLAN, '"coldest", low = 0.1', '"coldest"', "no-frost", "a low or a high bound"),
    (PLAN, '"coldest", low = 0.1', '"coldest", low = "force"', "no-frost.low", "°C"),
    (PLAN, '"coldest", low = 0.1', '"coldest", low = 2, high = 1',
     "low", "no more than"),
    (PLAN, "faces.rag-new\" }, set = [1]", "faces.rag-new\" }, set = [3]", "set[1]",
     "1, 2"),
    (PLAN, 'reduce = "max", values', 'reduce = "mean", values',
     "reduce", "first, last"),
    (PLAN, "hottest = {", 'hottest = { reading = "faces.thermometer" }\nwarmest = {',
     "values.hottest.reading", "a number or a choice"),
    (PLAN, "hottest = {", "force = {", "values.force", "no calculation gives"),
    (PLAN, "pressed = {", 'pressed = "pressed"\nold = {', "pressed",
     "a condition made"),
    (PLAN, 'title = "Faces and air"', 'title = "Faces of {where}"', "title", "{id}"),
    (PLAN, 'class = "gated"', 'class = "loose"', "class", "gated, raced, make_safe"),
    (PLAN, 'by = ["foreman", "timekeeper"]', 'by = ["cook"]', "by[1]", "the roles"),
    (PLAN, "typical_s = 600", "typical_s = 0", "typical_s", "86400"),
    (PLAN, 'unit = "°C", places = 1, low = -20, high = 60 }',
     'unit = "°C", places = 1, low = 70, high = 60 }', "low", "below high"),
    (PLAN, 'items = "thermometer"', 'items = "ruler"', "items", "thermometer"),
    (PLAN, 'among = ["lots-cool.lot"', 'among = ["lots-cool.pot"',
     "among[1]", "a field"),
    (PLAN, 'among = ["lots-cool.lot"', 'among = ["lots-warm.lot"',
     "among[1]", "of the kind lot-cool"),
    (PLAN, 'among = ["lots-cool.lot", "lots-cool.second"]', "among = 3",
     "among", "a list"),
    (PLAN, '"VDOT 453-5.2, 5.7.1", blocks', '"", blocks', "source", "text"),
    (PLAN, 'blocks = ["mixing"] },', 'blocks = ["mix"] },', "blocks[1]", "mixing"),
    (PLAN, 'raises = "nonconformance", text = "The bead', 'raises = "block", text = "T',
     "raises", "no block in a raced step"),
    (PLAN, 'id = "dry", must', 'id = "frost", must', "id", "each id once"),
    (PLAN, 'scope = "line", label = "Force"', 'label = "Force"',
     "value", "reduce over"),
    (PLAN, "least = 3", "least = 6", "least", "from 1 to 5"),
    (PLAN, 'lines = "rounds"\ntypical', 'lines = "turns"\ntypical', "lines", "rounds"),
    (PLAN, '"ready", "cleaned", "mixing",', '"ready", "mixing",',
     "flow", "every step and point once"),
    (PLAN, '"ready", "cleaned", "mixing",', '"cleaned", "mixing", "ready",',
     "points.mixing.covers[3]", "a step before mixing"),
    (PLAN, 'covers = ["faces", "face-temp",', 'covers = ["faces", "reedy",',
     "covers[2]", "a step: "),
    (PLAN, "life_min = 30", "life_min = 0", "life_min", "a whole number from 1"),
    (PLAN, 'lapses = ["rain", "landed",', 'lapses = ["snow",', "lapses[1]", "a card"),
    (PLAN, 'organisation = ["tisk-board"] },', 'organisation = ["corvane"] },',
     "dispose[2].role", "of that organisation"),
    (PLAN, 'table = "open-cool"\ntemps', 'table = "dew-point"\ntemps',
     "table", "a life"),
    (PLAN, 'temps = ["mix-cool.mixed"]', 'temps = ["spots.film"]', "temps[1]", "°C"),
    (PLAN, 'until = "spread"', 'until = "bead"', "until", "the same lines"),
    (PLAN, 'until = "pressure"', 'until = "weight"', "until", "a step or a milestone"),
    (PLAN, "percent = 70, raises", "percent = 0.5, raises", "percent", "from 1"),
    (PLAN, "hours = 24", "hours = 0", "hours", "a whole number from 1"),
    (PLAN, 'milestone = "weight-off"', 'milestone = "hung"', "milestone", "on-bars"),
    (PLAN, 'title = "Rain"', 'title = "Rain"\nring = 1',
     "cards.rain.ring", "do, title"),
    (PLAN, "[milestones.on-bars]", "[milestones.bars]", "milestones.bars", "an id no"),
]  # fmt: skip


@pytest.mark.parametrize("spoiled", ONE_FAULT, ids=lambda each: f"{each[3]}:{each[2]}")
def test_a_fault_is_told_with_its_place_and_what_is_allowed(
    tmp_path: Path, spoiled: tuple[str, str, str, str, str]
) -> None:
    name, old, new, where, allowed = spoiled
    folder = copied(tmp_path / "site")
    line = spoil(folder, name, old, new)
    told = [
        fault
        for fault in faults_of(folder)
        if fault.file == name and where in fault.where and allowed in fault.allowed
    ]
    assert told, "\n".join(map(str, faults_of(folder)))
    assert any(abs(fault.line - line) <= new.count("\n") + 1 for fault in told) or (
        any(word in where for word in ("section", "milestones", "flow", "covers"))
    ), told


def test_all_faults_of_all_files_are_told_at_once_and_nothing_else(
    tmp_path: Path,
) -> None:
    folder = copied(tmp_path / "site")
    wanted = {
        ("site.toml", spoil(folder, "site.toml", "revision = 1", "revision = 0")),
        ("people.csv", spoil(folder, "people.csv", ",stores", ",")),
        ("segments.csv", spoil(folder, "segments.csv", "E3,segment", "E 3,segment")),
        ("bars.csv", spoil(folder, "bars.csv", ",804,", ",0,")),
        ("life.csv", spoil(folder, "life.csv", "warm,pot,20,42", "warm,pot,20,never")),
        ("jacks.csv", spoil(folder, "jacks.csv", "gauge B1,5", "gauge B1,five")),
        (PLAN, spoil(folder, PLAN, "life_min = 30", 'life_min = "half an hour"')),
        (PLAN, spoil(folder, PLAN, "hours = 24", "hours = 24.5")),
        (PLAN, spoil(folder, PLAN, "age_min = 15", "age_minutes = 15")),
    }
    found = {(fault.file, fault.line) for fault in faults_of(folder)}
    assert wanted <= found
    assert {file for file, _ in found} == {file for file, _ in wanted}
    # The clock's missing age is told at its table's head, its unknown key at the key.
    assert len(found) == len(wanted) + 1


def test_a_file_that_cannot_be_read_is_told_once(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    line = spoil(folder, "site.toml", 'title = "Pier 2"', 'title = "Pier 2')
    assert [(f.file, f.line) for f in faults_of(folder)] == [("site.toml", line)]


def test_a_name_nobody_made_because_of_a_fault_is_not_told_again(
    tmp_path: Path,
) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, 'pressure = "bars.pressure"', 'pressure = "bars.presure"')
    assert [f.where for f in faults_of(folder)] == ["calculations[10].pressure"]


def test_a_limit_that_is_missing_is_held_against_nothing(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, "residual_percent = 1\n", "\n")
    (fault,) = faults_of(folder)
    assert fault.where.endswith("residual_percent")


def test_a_fault_in_one_table_hides_no_fault_of_another_but_invents_none(
    tmp_path: Path,
) -> None:
    folder = copied(tmp_path / "site")
    spoil(
        folder, "segments.csv", "W1,segment W1,p2,west,1,3.0", "W1,segment,p2,west,1,x"
    )
    assert [(f.file, f.where) for f in faults_of(folder)] == [
        ("segments.csv", "length_m")
    ]


@pytest.mark.parametrize("name", ["site.toml", "people.csv", "products.toml", PLAN])
def test_a_missing_file_is_a_fault(tmp_path: Path, name: str) -> None:
    folder = copied(tmp_path / "site")
    (folder / name).unlink()
    files = {fault.file for fault in faults_of(folder)}
    # A kind without its file is missed where the site orders its kinds.
    assert name in files or (name == PLAN and "site.toml" in files)


@pytest.mark.parametrize("name", ["site.toml", "bars.csv"])
def test_bytes_that_are_no_text_are_a_fault(tmp_path: Path, name: str) -> None:
    folder = copied(tmp_path / "site")
    (folder / name).write_bytes(b"\xff\xfe\x00")
    assert any("not UTF-8" in f.found for f in faults_of(folder) if f.file == name)


def test_an_empty_folder_raises_faults_and_no_other_error(tmp_path: Path) -> None:
    with pytest.raises(SiteFaults) as caught:
        read_site(tmp_path)
    assert {"site.toml", "people.csv", "plan"} <= {f.file for f in caught.value.faults}
    assert "site.toml:1: found" in str(caught.value)


@pytest.mark.parametrize(
    "value",
    ["1e999999", "1e-999999", "inf", "99999999999999999999", "[]", "{}", "2026-11-25"],
)
def test_a_number_beyond_all_reason_is_a_fault(tmp_path: Path, value: str) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, '"coldest", low = 0.1', f'"coldest", low = {value}')
    assert all(fault.file == PLAN for fault in faults_of(folder))


def test_conditions_nested_without_end_are_a_fault(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    deep = "{ all = [" * 40 + '"no-frost"' + "] }" * 40
    spoil(folder, PLAN, "pressed = {", f"deep = {deep}\npressed = {{")
    assert any("in one another" in fault.allowed for fault in faults_of(folder))


@pytest.mark.parametrize("name", ["site.toml", "products.toml", "joints.csv", PLAN])
def test_a_line_left_out_raises_faults_or_nothing(tmp_path: Path, name: str) -> None:
    folder = copied(tmp_path / "site")
    path = folder / name
    lines = path.read_text("utf-8").splitlines(keepends=True)
    for place in range(0, len(lines), max(1, len(lines) // 25)):
        path.write_text("".join(lines[:place] + lines[place + 1 :]), "utf-8")
        with suppress(SiteFaults):
            read_site(folder)


def test_a_missing_table_is_told_once(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    (folder / "ducts.csv").unlink()
    found = [fault for fault in faults_of(folder) if fault.file == "ducts.csv"]
    assert [fault.allowed for fault in found] == ["a CSV table that can be read"]
