"""A plan in which something waits for itself, or has no effect, is refused."""

from pathlib import Path

import pytest

from fieldapp.plan import read_site
from tests.plan.sample import copied, faults_of, spoil

PLAN, SITE = "plan/glued_joint.toml", "site.toml"
Change = tuple[str, str, str]
ANY = "-called = { any = ["
COLD = ("cold" + ANY, "cold" + ANY + '\n  { reached = "hot-route" },')
HOT = ("hot" + ANY, "hot" + ANY + '\n  { reached = "cold-route" },')
OFFSET = (
    'id = "offset", must = { between = { reading = "dry-fit.offset" }, high = 6 }',
    'id = "offset", scope = "line", must = "fitted"',
)
HUNG = ("[conditions]", '[conditions]\nfitted = { reached = "dry-fit" }')
CAUTION = 'id = "gust", must = '
CHECKED = 'checked = [{ role = "designers-engineer", organisation = ["ostrel"]'
DESIGNER = 'dispose = [\n  { role = "designers-engineer"'


@pytest.mark.parametrize(
    ("changes", "where", "found", "allowed"),
    [
        # Two routes each of which exists only if the other has been taken.
        (
            [(PLAN, *COLD), (PLAN, *HOT)],
            "steps.cold-route",
            "cold-route for hot-route for cold-route",
            "nothing that waits for itself",
        ),
        (
            [(PLAN, 'needs = ["hung-up"]', 'needs = ["gap-open"]')],
            "steps.",
            "gap-open",
            "nothing that waits for itself",
        ),
        (
            [(PLAN, 'when = "pressed"', 'when = { reached = "pressure" }')],
            "milestones.pressure",
            "pressure for pressure",
            "nothing that waits for itself",
        ),
        # A check of a line, by name, and a caution ask whether their own step is done.
        (
            [(PLAN, *OFFSET), (PLAN, *HUNG)],
            "steps.dry-fit",
            "dry-fit for dry-fit",
            "nothing that waits for itself",
        ),
        (
            [(PLAN, CAUTION + '{ between = "gust-aloft", high = 12 }',
              CAUTION + '{ reached = "day-before" }')],
            "steps.day-before",
            "day-before for day-before",
            "nothing that waits for itself",
        ),
        # A point that waits for what it shuts itself.
        (
            [(PLAN, 'after = ["cleaned"]', 'after = ["mix-cool"]')],
            "mix",
            "mixing",
            "nothing that waits for itself",
        ),
        (
            [(PLAN, 'least = "face-readings"', 'lines = [{ id = "a", label = "A" }]')],
            "steps.face-temp.lines",
            "a list",
            "every reading is a line",
        ),
        (
            [(PLAN, "sign_off = true\ntypical_s = 120", "first = true")],
            "steps.ready.first",
            "true",
            "a step that a point shuts",
        ),
        (
            [(PLAN, "(from memory, confirm)\" },\n]\n\n[steps.cold-route]",
              "from memory\", blocks = [\"mixing\"] },\n]\n\n[steps.cold-route]")],
            "blocks",
            "a list",
            "a caution shuts nothing",
        ),
        (
            [(PLAN, 'label = "Film", kind', 'label = "Film", aim = true, kind')],
            "aim",
            "true",
            "lines with a target",
        ),
        (
            [(PLAN, 'step = "bars", round = 3 }', 'step = "bars", round = 4 }')],
            "steps.bars",
            "round 4",
            "round 3",
        ),
        (
            [(PLAN, DESIGNER, DESIGNER + ", deputies = []")],
            "dispose[1].deputies",
            "deputies",
            "role",
        ),
        # Edric would check what he prepared; nobody else holds the role.
        (
            [(SITE, CHECKED,
              'checked = [{ role = "erection-engineer"')],
            "plan_signers",
            "a table",
            "three people",
        ),
        (
            [(SITE, 'prepared = [{ role = "erection-engineer" }]', "")],
            "plan_signers.prepared",
            "nothing",
            "",
        ),
        (
            [(SITE, 'independent = "organisation"', 'independent = "house"')],
            "plan_signers.independent",
            '"house"',
            "organisation, person",
        ),
    ],
    ids=range(15),
)  # fmt: skip
def test_what_waits_for_itself_or_has_no_effect_is_a_fault(
    tmp_path: Path, changes: list[Change], where: str, found: str, allowed: str
) -> None:
    folder = copied(tmp_path / "site")
    for name, old, new in changes:
        spoil(folder, name, old, new)
    told = faults_of(folder)
    assert any(
        where in fault.where and found in fault.found and allowed in fault.allowed
        for fault in told
        if fault.file.endswith((PLAN, SITE)) and fault.line > 0
    ), "\n".join(map(str, told))


def test_a_series_may_ask_for_more_readings_than_one(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, 'least = "face-readings"', "least = 3")
    step = read_site(folder).compiled.sheets["j-w1"]["steps"]["face-temp"]
    assert step["least"] == 3
