"""An answer the plan calls not good must be asked for, or it would end as a tick."""

from pathlib import Path

import pytest

from fieldapp.plan import read_site
from tests.plan.sample import copied, faults_of, spoil

PLAN = "plan/glued_joint.toml"
GAP = '{ in = { reading = "ready.gap" }, set = [1] }'
"""What a check asks of a field of which not every answer is good."""
KIT = GAP.replace("gap", "kit")
IN_VALUES = "[values]\n"
SHOWN = 'shows = [{ id = "told", label = "Told", value = "told" }]\nchecks = [\n'
IN_CHECKS = 'checks = [\n  { id = "gap", must = '
IN_FRESH = '{ id = "fresh", must = '


@pytest.mark.parametrize("shown", [False, True])
def test_an_answer_not_good_that_nothing_asks_for_is_a_fault(
    tmp_path: Path, *, shown: bool
) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, GAP, KIT)
    if shown:
        # Figures hold nothing back.
        spoil(folder, PLAN, IN_VALUES, IN_VALUES + 'told = { reading = "ready.gap" }\n')
        spoil(folder, PLAN, IN_CHECKS, SHOWN + IN_CHECKS.removeprefix("checks = [\n"))
    (fault,) = faults_of(folder)
    line = spoil(folder, PLAN, "Load restrained, spacers", "")
    assert (fault.file, fault.line) == (PLAN, line)
    assert fault.where == "steps.ready.fields[1].options"
    assert "Not yet: not good, and nothing asks for it" in fault.found
    assert "a check or a condition of the plan reads ready.gap" in fault.allowed


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (IN_FRESH, IN_FRESH + "{ all = [" + GAP + ", "),
        (KIT, '"safe"'),
        # One that is faulty itself is told, and nothing besides.
        (KIT, GAP.replace("gap", "gaps")),
    ],
)
def test_an_answer_asked_for_at_a_gate_or_by_name_is_no_such_fault(
    tmp_path: Path, old: str, new: str
) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, GAP, KIT)
    spoil(folder, PLAN, old, new)
    if old == IN_FRESH:
        spoil(folder, PLAN, "high = 3_600_000 }, text = \"Faces",
              "high = 3_600_000 }] }, text = \"Faces")  # fmt: skip
    spoil(folder, PLAN, "[conditions]\n", f"[conditions]\nsafe = {GAP}\n")
    if "gaps" not in new:
        read_site(folder)
        return
    (fault,) = faults_of(folder)
    assert fault.where == "steps.ready.checks[1].must.in.reading"
