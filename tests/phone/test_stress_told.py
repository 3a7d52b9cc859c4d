"""Stresses and forces on a STOP card read as on the desk and on paper."""

from types import SimpleNamespace
from typing import Any

import pytest

from fieldapp.records.figures import computed
from fieldapp.records.pictures.counted import counted
from fieldapp.records.pictures.stress_told import shown_as
from tests.phone.handset import Handset
from tests.phone.test_judged import call
from tests.plan.sample import FIRST, sheet_of


@pytest.fixture(scope="module")
def sheet() -> Any:
    """A joint of the sample site."""
    return sheet_of(FIRST).raw


def test_every_stress_of_the_card_is_the_figure_on_paper(
    bare_phone: Handset, sheet: Any
) -> None:
    drawn = _drawn(sheet)
    opened: Any = SimpleNamespace(raw=sheet)
    names = [state[name] for state in drawn["states"] for name in ("mean", "least")]
    names += [drawn["most"], *(state["most"] for state in drawn["states"])]
    for name in names:
        for value in (2_759, 2_760, -7, 0):
            told = call(bare_phone, "stress", "stressText", sheet, drawn, name, value)
            assert told == computed(value, shown_as(opened, drawn, name), "MPa"), name


def test_the_card_says_what_the_forces_are_less_than_was_read(
    bare_phone: Handset, sheet: Any
) -> None:
    drawn = _drawn(sheet)
    opened: Any = SimpleNamespace(raw=sheet)
    paper = counted(opened, drawn)
    span = paper.split(" less ")[1].removesuffix(" as the nut seats")
    told = call(bare_phone, "stress", "countedText", sheet, drawn)
    assert told == (
        f"Force counted: the last at the jack, less {span}\N{NO-BREAK SPACE}kN "
        "as the nut seats."
    )
    read = {**sheet, "values": {**sheet["values"], "locked": sheet["values"]["force"]}}
    told = call(bare_phone, "stress", "countedText", read, drawn)
    assert told == "Force counted: as last read at the jack."


def _drawn(sheet: Any) -> Any:
    return next(e for e in sheet["pictures"] if e["binding"] == "joint_stress")
