"""Every calculation agrees with what documents print, each named with its place."""

import pytest

from fieldapp.calc.catalogue import names, run
from tests.published.check import Check, found
from tests.published.checks_of_adhesive import ADHESIVE, AIR, QUANTITIES
from tests.published.checks_of_sections import SECTIONS, STRESSES
from tests.published.checks_of_site import AIR_TESTS, GROUT, STATICS
from tests.published.checks_of_steel import BARS, EXTENSIONS, TENDONS

CHECKS = [
    *AIR,
    *ADHESIVE,
    *QUANTITIES,
    *SECTIONS,
    *STRESSES,
    *BARS,
    *TENDONS,
    *EXTENSIONS,
    *GROUT,
    *AIR_TESTS,
    *STATICS,
]
# No document prints a day's window; test_libraries.py draws it independently.
WITHOUT_A_DOCUMENT = {"joint-window"}


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_the_answer_is_the_one_printed(check: Check) -> None:
    answer = run(check.name, check.data)
    for key, (printed, tolerance) in check.printed.items():
        value = found(answer, key)
        if isinstance(printed, bool | list):
            assert value == printed, key
        else:
            assert value == pytest.approx(printed, abs=tolerance, rel=0), key


def test_there_are_at_least_thirty_and_every_calculation_has_one() -> None:
    places = {check.id for check in CHECKS}
    assert len(places) == len(CHECKS) >= 30
    assert {check.name for check in CHECKS} | WITHOUT_A_DOCUMENT == set(names())
