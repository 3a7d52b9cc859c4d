"""Recording is nearly free: figures typed and taps made for one joint that goes well.

Practice 6: at most 30 typed figures a joint; in the race at most 20 taps plus one
figure a bar and round. How it is counted: an entry costs the tap that saves it; each
choice or item it needs costs one more, unless it is carried over from the entry
before; a number costs a typed figure, one with a target on its line a tap.
"""

from typing import Any

from tests.plan.sample import FIRST, compiled

OFF_ON_A_GOOD_DAY = {
    "cold-route", "hot-route", "cold-kept", "cleaned", "mix-warm", "mix-hot",
    "lots-warm", "lots-hot", "bar-lost", "duct-stuck", "cubes",
}  # fmt: skip
IN_THE_RACE = ("mix-cool", "spread", "pot-kept", "face-temp", "spots", "close", "bars")
MOST_FIGURES, MOST_TAPS = 30, 20


def steps() -> dict[str, dict[str, Any]]:
    """Give the steps of a joint that a good day asks for."""
    every = compiled().sheets[FIRST]["steps"]
    return {k: step for k, step in every.items() if k not in OFF_ON_A_GOOD_DAY}


def entries(step: dict[str, Any]) -> int:
    """Give how many entries a step needs."""
    needed = sum(line["need"] for line in step.get("lines", [{"need": 1}]))
    least = step.get("least", needed)
    # The face is read once the pot is kept: as often as one was.
    return int(least) if isinstance(least, int) else 1


def figures(step: dict[str, Any]) -> int:
    """Give how many figures a step needs typed; a target is tapped."""
    numbers = [f for f in step["fields"] if f["kind"] == "number" and f["need"]]
    aimed = [field for field in numbers if field.get("aim")]
    lines = step.get("lines", ())
    free = sum(not any(key.startswith("aim") for key in n["numbers"]) for n in lines)
    return (len(numbers) - len(aimed)) * entries(step) + len(aimed) * free


def taps(step: dict[str, Any]) -> int:
    """Give how many taps a step needs: its entries, and what they choose."""
    chosen = [
        f for f in step["fields"] if f["kind"] in ("choice", "item") and f["need"]
    ]
    carried = sum(1 for field in chosen if field.get("same"))
    fresh = len(chosen) - carried
    return entries(step) * (1 + fresh) + carried


def test_a_joint_asks_for_at_most_thirty_typed_figures() -> None:
    typed = {name: figures(step) for name, step in steps().items()}
    # The last round also wants the extension of every bar, as its confirmation.
    last_round = sum(line["round"] == 3 for line in steps()["bars"]["lines"])
    assert last_round == 6
    print({name: count for name, count in typed.items() if count})
    assert sum(typed.values()) + last_round <= MOST_FIGURES


def test_the_race_asks_for_at_most_twenty_taps_beside_the_bars() -> None:
    race = {name: taps(steps()[name]) for name in IN_THE_RACE}
    bars = entries(steps()["bars"])
    assert bars == 18
    assert sum(race.values()) - bars <= MOST_TAPS


def test_nothing_in_the_race_needs_a_text() -> None:
    for name in IN_THE_RACE:
        kinds = {f["kind"] for f in steps()[name]["fields"] if f["need"]}
        assert "text" not in kinds
