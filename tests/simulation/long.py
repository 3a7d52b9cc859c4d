"""Runs seed after seed for as long as told and prints what was found.

    python -m tests.simulation.long [browsers] SECONDS [FIRST_SEED]

Seeds that once failed go first. Ends with status 1 if anything was lost.
"""

import sys
import tempfile
from itertools import count
from pathlib import Path
from time import monotonic

from playwright.sync_api import sync_playwright

from tests.javascript import JavaScript
from tests.simulation import browsers
from tests.simulation.account import Tally
from tests.simulation.mishaps import simulate
from tests.simulation.seeds import NAMED_SEEDS

STEPS = 150
FIRST_SEED = 1_000
MOST_TOLD = 10
BROWSERS = 3


def main(arguments: list[str]) -> int:
    """Run; gives 0, or 1 if anything was lost."""
    if arguments[0] == "browsers":
        return _in_browsers(arguments[1:])
    until = monotonic() + float(arguments[0])
    first = int(arguments[1]) if len(arguments) > 1 else FIRST_SEED
    told: list[Tally] = []
    with JavaScript() as engine:
        waiting = [*NAMED_SEEDS, *range(first, first + 100_000)]
        for number, seed in enumerate(waiting):
            if monotonic() > until:
                break
            # Every other seed has the program's own phones among the others.
            told.append(_one(seed, engine if number % 2 else None))
    return _summary(told)


def _in_browsers(arguments: list[str]) -> int:
    until = monotonic() + float(arguments[0])
    first = int(arguments[1]) if len(arguments) > 1 else FIRST_SEED
    told: list[Tally] = []
    with sync_playwright() as driver:
        for seed in count(first):
            if monotonic() > until:
                break
            with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
                told.append(
                    browsers.simulate(
                        driver, Path(folder), seed, phones=BROWSERS, steps=STEPS // 4
                    )
                )
            _tell(told[-1])
    return _summary(told)


def _one(seed: int, engine: JavaScript | None) -> Tally:
    with tempfile.TemporaryDirectory() as folder:
        tally = simulate(seed, Path(folder), steps=STEPS, engine=engine)
    _tell(tally)
    return tally


def _tell(tally: Tally) -> None:
    print(tally.told(), flush=True)
    for loss in tally.losses[:MOST_TOLD]:
        print(f"    {loss}", flush=True)


def _summary(told: list[Tally]) -> int:
    losses = sum(len(each.losses) for each in told)
    print(
        f"{len(told)} runs: {sum(len(each.saved) for each in told)} entries simulated,"
        f" {sum(sum(each.faults.values()) for each in told)} faults injected,"
        f" {sum(each.returned for each in told)} phones came back by proof,"
        f" {losses} losses"
    )
    return 1 if losses else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
