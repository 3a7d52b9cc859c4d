"""joint-stress as it is asked for: states, lost bars, limits and caps together."""

from typing import Any

import pytest

from fieldapp.calc.catalogue import run

# 2 x 4 m solid face: A 8 m2, Ixx 10.667 m4, Iyy 2.667 m4; 800 kN is 0.1 MPa, a moment
# of 100 kNm presses the upper edge with 100 x 2 / 10.667 = 18.75 kPa.
FACE = {
    "outline": [[0, 0], [2, 0], [2, 4], [0, 4]],
    "voids": [],
    "bars": [
        {"x_m": 1, "y_m": 3, "force_kn": 400},
        {"x_m": 1, "y_m": 1, "force_kn": 400},
    ],
}


def stress(**changes: Any) -> dict[str, Any]:
    return run("joint-stress", FACE | changes)


def state(name: str, moment_x: float, moment_y: float = 0) -> dict[str, Any]:
    return {"name": name, "moment_x_knm": moment_x, "moment_y_knm": moment_y}


def test_without_limits_and_caps_nothing_is_judged() -> None:
    answer = stress()
    assert not {"ok", "reasons", "headroom_kn", "states"} & set(answer)
    assert [corner["stress_mpa"] for corner in answer["corners"]] == pytest.approx(
        [0.1] * 4
    )


def test_a_states_moments_are_added_to_those_given_for_all() -> None:
    answer = stress(
        moment_x_knm=100, moment_y_knm=20, states=[state("one", -300), state("two", 60)]
    )
    assert answer["states"]["one"] == {
        key: pytest.approx(value) if key != "corners" else value
        for key, value in stress(moment_x_knm=-200, moment_y_knm=20).items()
    }


def test_over_the_states_the_worst_of_each_figure_is_given() -> None:
    answer = stress(states=[state("up", 100), state("down", -200)])
    assert answer["mean_mpa"] == pytest.approx(0.1)
    assert answer["min_mpa"] == pytest.approx(0.1 - 0.0375)
    assert answer["max_mpa"] == pytest.approx(0.1 + 0.0375)
    assert answer["spread_mpa"] == pytest.approx(0.075)
    assert set(answer["states"]) == {"up", "down"}


def test_all_states_must_pass_and_the_one_that_does_not_is_named() -> None:
    limits = {"local_min_mpa": 0.07}
    answer = stress(states=[state("up", 100), state("down", -200)], limits=limits)
    assert answer["ok"] is False
    assert answer["reasons"] == [
        "down: least 0.0625 MPa, at least 0.07 MPa wanted",
    ]
    assert answer["states"]["up"]["ok"] is True
    assert answer["states"]["down"]["ok"] is False


def test_a_state_that_opens_the_joint_is_reported() -> None:
    answer = stress(states=[state("hung", -800)])
    assert answer["min_mpa"] == pytest.approx(0.1 - 0.15)
    assert "ok" not in answer


def test_a_lost_bar_is_counted_from_nought() -> None:
    # Only the lower bar: 400 kN, mean 0.05, moment -400: 0.05 - 0.075 at the top.
    answer = stress(lost=[0])
    assert answer["mean_mpa"] == pytest.approx(0.05)
    assert answer["min_mpa"] == pytest.approx(-0.025)


def test_a_bar_above_its_cap_fails_even_without_limits() -> None:
    bars = [{**FACE["bars"][0], "cap_kn": 399}, {**FACE["bars"][1], "cap_kn": 410}]
    answer = stress(bars=bars)
    assert answer["ok"] is False
    assert answer["reasons"] == ["bar 0: 400 kN above its cap of 399 kN"]
    assert answer["headroom_kn"] == [-1, 10]


def test_a_bar_at_its_cap_passes_and_a_lost_one_has_no_headroom() -> None:
    bars = [{**FACE["bars"][0], "cap_kn": 400}, FACE["bars"][1]]
    answer = stress(bars=bars, lost=[1])
    assert answer["ok"] is True
    assert answer["headroom_kn"] == [0, 0]


def test_limits_met_exactly_are_met() -> None:
    limits = {"mean_min_mpa": 0.1, "local_min_mpa": 0.1, "spread_max_mpa": 1e-9}
    answer = stress(limits=limits)
    assert (answer["ok"], answer["reasons"]) == (True, [])


@pytest.mark.parametrize(
    ("limits", "ok"),
    [
        ({"mean_min_mpa": 0.1}, True),
        ({"mean_min_mpa": 0.10001}, False),
        ({"local_min_mpa": 0.0625}, True),
        ({"local_min_mpa": 0.06251}, False),
        ({"spread_max_mpa": 0.075}, True),
        ({"spread_max_mpa": 0.07499}, False),
    ],
)
def test_each_limit_is_inclusive(limits: dict[str, float], ok: bool) -> None:
    assert stress(states=[state("down", -200)], limits=limits)["ok"] is ok


def test_bars_may_lie_in_the_void() -> None:
    void = [[0.5, 0.5], [1.5, 0.5], [1.5, 3.5], [0.5, 3.5]]
    answer = stress(voids=[void])
    # 800 kN on 8 - 3 = 5 m2.
    assert answer["mean_mpa"] == pytest.approx(0.16)


def test_voids_may_be_left_out() -> None:
    rest = {key: value for key, value in FACE.items() if key != "voids"}
    assert run("joint-stress", rest) == stress()
