"""The vents of a duct are shut in the order of the flow, as far as times can tell."""

import pytest

from tests.plan.grouted import faults, pumped


def test_a_vent_shut_before_the_one_between_is_told_when_it_happens() -> None:
    told = pumped(vents=("v1", "v3"))
    assert faults(told) == ["order"]
    told.at(140).done("vents-shut", by="wystan", line="v2", values={"runs": 1})
    assert faults(told) == ["order"]
    assert faults(pumped(vents=("v1", "v2"))) == []


def test_vents_copied_from_paper_of_the_same_minute_are_in_order() -> None:
    told = pumped(vents=())
    for place, vent in enumerate(("v1", "v2"), 1):
        # Both written as done at the same minute; the phone's two clocks differ by
        # milliseconds from one tap to the next.
        told.at(150 + place)
        mono = round((150 + place) * 60_000) - place
        told.done("vents-shut", by="wystan", line=vent, ago=20 + place, mono=mono,
                  values={"runs": 1})  # fmt: skip
    assert faults(told) == []


@pytest.mark.parametrize(
    ("first", "then", "found"),
    [
        # Beside a time that was typed only a whole minute is out of order.
        ((150 + 40 / 60, None), (170, 20), []),
        ((150 + 40 / 60, None), (170, 20 + 20 / 60), ["order"]),
        ((171, 20), (150 + 40 / 60, None), []),
        # Two taps are out of order by a second.
        ((150 + 40 / 60, None), (150 + 39 / 60, None), ["order"]),
        ((150 + 40 / 60, None), (150 + 40 / 60, None), []),
    ],
)
def test_a_vent_whose_minute_was_typed_is_out_of_order_by_a_minute(
    first: tuple[float, float | None],
    then: tuple[float, float | None],
    found: list[str],
) -> None:
    told = pumped(vents=())
    for vent, (minute, ago) in sorted(
        {"v1": first, "v2": then}.items(), key=lambda said: said[1][0]
    ):
        parts = {} if ago is None else {"ago": ago}
        told.at(minute).done(
            "vents-shut", by="wystan", line=vent, values={"runs": 1}, **parts
        )
    assert faults(told) == found
