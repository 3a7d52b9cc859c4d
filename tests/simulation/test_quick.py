"""A few minutes' worth of misfortune in seconds; `long.sh` goes on for as long as told.

What a run of a stranger's phones proves: the office and the protocol lose nothing. What
a run with the program's own phones (`static/device` in Node) proves besides: neither
does the phone, killed at any step of a write or with its flash full. Both end with
the books compared by hand, by `fieldapp check`, and folded on every node.
"""

from pathlib import Path

import pytest

from tests.javascript import JavaScript
from tests.simulation.mishaps import simulate
from tests.simulation.seeds import NAMED_SEEDS

STEPS = 40


@pytest.mark.parametrize("seed", [3])
def test_nothing_is_lost_among_a_strangers_phones(seed: int, tmp_path: Path) -> None:
    tally = simulate(seed, tmp_path, steps=STEPS)
    assert tally.losses == []
    assert tally.acknowledged
    assert tally.faults


@pytest.mark.parametrize("seed", NAMED_SEEDS)
def test_nothing_is_lost_among_the_programs_own_phones(
    seed: int, tmp_path: Path, javascript: JavaScript
) -> None:
    tally = simulate(seed, tmp_path, steps=STEPS, engine=javascript)
    assert tally.losses == []
    assert tally.acknowledged
