"""Force, extension and set along a tendon: exact forms, any cut, either end."""

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial.legendre import leggauss
from scipy.optimize import brentq

from fieldapp.calc.catalogue import run
from fieldapp.calc.refusals import CalcRefusal

# Twenty nodes in each part: exact to the last digits for smooth forces.
NODES = leggauss(20)
STEEL = {"area_mm2": 2850, "modulus_gpa": 195, "jacking_force_kn": 3531.15}
PIECES = [
    {"length_m": 12, "angle_rad": 0.1},
    {"length_m": 0, "angle_rad": 0.08},
    {"length_m": 20, "angle_rad": 0},
    {"length_m": 8, "angle_rad": 0.2},
]
LENGTHS = st.floats(5, 30)
ANGLES = st.floats(0, 0.4)
PIECE_LISTS = st.lists(
    st.builds(lambda a, b: {"length_m": a, "angle_rad": b}, LENGTHS, ANGLES),
    min_size=1,
    max_size=4,
)


def tendon(**changes: Any) -> dict[str, Any]:
    data = {
        **STEEL,
        "friction": {"mu": 0.25, "k_per_m": 0.0017, "form": "per-length"},
        "pieces": PIECES,
        "ends": 1,
        "draw_in_mm": 5,
        "jack_length_m": 0,
    }
    return run("tendon", {**data, **changes})


def exponents(
    pieces: list[dict[str, float]], mu: float = 0.25, k: float = 0.0017
) -> Any:
    """The friction exponent as a function of the place, per-length, to integrate."""

    def at(x: float) -> float:
        total = 0.0
        for piece in pieces:
            if piece["length_m"] == 0:
                total += mu * piece["angle_rad"] if x > 0 else 0
                continue
            part = min(x, piece["length_m"]) / piece["length_m"]
            total += part * (mu * piece["angle_rad"] + k * piece["length_m"])
            x -= piece["length_m"]
            if x <= 0:
                break
        return total

    return at


def borders(pieces: list[dict[str, float]]) -> list[float]:
    places = [0.0]
    for piece in pieces:
        places.append(places[-1] + piece["length_m"])
    return places


def area(
    function: Any, pieces: list[dict[str, float]], start: float, end: float
) -> float:
    """Integral from place to place, in parts that end where the pieces do."""
    cuts = sorted({start, end, *(b for b in borders(pieces) if start < b < end)})
    return math.fsum(
        weight * (b - a) / 2 * function((a + b) / 2 + node * (b - a) / 2)
        for a, b in pairwise(cuts)
        for node, weight in zip(*NODES, strict=True)
    )


def test_without_friction_the_tendon_is_a_bar() -> None:
    answer = tendon(friction={"mu": 0, "k_per_m": 0, "form": "per-angle"})
    assert answer["extension_mm"] == pytest.approx(3531.15 * 40 * 1000 / (2850 * 195))
    assert answer["far_force_kn"] == 3531.15
    # The draw-in is lost over the whole length: 5 / 40 000 of E A.
    assert answer["set_length_m"] == 40
    assert answer["anchor_force_kn"] == pytest.approx(3531.15 - 2850 * 195 * 5 / 40000)


def test_the_two_forms_agree_where_the_wobble_is_mu_times_k() -> None:
    angle = tendon(friction={"mu": 0.19, "k_per_m": 0.005, "form": "per-angle"})
    length = tendon(friction={"mu": 0.19, "k_per_m": 0.00095, "form": "per-length"})
    assert angle["extension_mm"] == pytest.approx(length["extension_mm"], rel=1e-14)
    assert angle["force_kn"] == pytest.approx(length["force_kn"], rel=1e-14)


def test_the_two_forms_differ_for_the_same_numbers() -> None:
    angle = tendon(friction={"mu": 0.19, "k_per_m": 0.005, "form": "per-angle"})
    length = tendon(friction={"mu": 0.19, "k_per_m": 0.005, "form": "per-length"})
    # Over 40 m: exp(-0.038) against exp(-0.2), times the same curvature.
    ratio = length["far_force_kn"] / angle["far_force_kn"]
    assert ratio == pytest.approx(math.exp(-0.2 + 0.038))


@given(PIECE_LISTS)
def test_extension_from_one_end_is_the_integral_of_force(
    pieces: list[dict[str, float]],
) -> None:
    exponent = exponents(pieces)
    length = borders(pieces)[-1]
    whole = area(lambda x: math.exp(-exponent(x)), pieces, 0, length)
    expected = 3531.15 * whole * 1000 / (2850 * 195)
    answer = tendon(pieces=pieces, draw_in_mm=0)
    assert answer["extension_mm"] == pytest.approx(expected, rel=1e-8)


@given(PIECE_LISTS, st.sampled_from([1, 2]), st.integers(0, 3), st.floats(0.05, 0.95))
def test_cutting_a_piece_in_two_changes_nothing(
    pieces: list[dict[str, float]], ends: int, which: int, part: float
) -> None:
    which %= len(pieces)
    piece = pieces[which]
    halves = [
        {key: value * ratio for key, value in piece.items()}
        for ratio in (part, 1 - part)
    ]
    cut = [*pieces[:which], *halves, *pieces[which + 1 :]]
    whole, parts = tendon(pieces=pieces, ends=ends), tendon(pieces=cut, ends=ends)
    for key in ("extension_mm", "least_force_kn", "anchor_force_kn"):
        assert parts[key] == pytest.approx(whole[key], rel=1e-9)
    assert parts["force_kn"][-1] == pytest.approx(whole["force_kn"][-1], rel=1e-12)


@given(PIECE_LISTS, st.floats(0, 10))
def test_a_tendon_stressed_from_both_ends_is_the_same_seen_from_either(
    pieces: list[dict[str, float]], draw_in_mm: float
) -> None:
    one = tendon(pieces=pieces, ends=2, draw_in_mm=draw_in_mm)
    other = tendon(pieces=pieces[::-1], ends=2, draw_in_mm=draw_in_mm)
    assert other["extension_mm"] == pytest.approx(one["extension_mm"])
    assert other["force_kn"][::-1] == pytest.approx(one["force_kn"])
    assert other["anchor_force_kn"][::-1] == pytest.approx(
        one["anchor_force_kn"], rel=1e-6
    )


def test_two_ends_meet_half_way_of_the_friction_and_both_extensions_add() -> None:
    answer = tendon(ends=2, draw_in_mm=0, jack_length_m=0.5)
    exponent = exponents(PIECES)
    total = exponent(40)
    meet = brentq(lambda x: exponent(x) - total / 2, 12.001, 40)
    drawn = area(lambda x: math.exp(-exponent(x)), PIECES, 0, meet)
    drawn += area(lambda x: math.exp(exponent(x) - total), PIECES, meet, 40)
    expected = 3531.15 * drawn * 1000 / (2850 * 195)
    assert answer["extension_mm"] == pytest.approx(expected, rel=1e-9)
    assert answer["least_at_m"] == pytest.approx(meet)
    assert answer["least_force_kn"] == pytest.approx(3531.15 * math.exp(-total / 2))
    strand = 2 * 3531.15 * 0.5 * 1000 / (2850 * 195)
    assert answer["jack_extension_mm"] == pytest.approx(expected + strand)
    assert answer["force_kn"][0] == answer["force_kn"][-1] == 3531.15
    assert "far_force_kn" not in answer


def test_the_list_of_forces_has_one_more_than_the_pieces_and_drops_at_a_kink() -> None:
    forces = tendon()["force_kn"]
    assert len(forces) == 5
    assert forces[2] / forces[1] == pytest.approx(math.exp(-0.25 * 0.08))


@given(PIECE_LISTS, st.floats(0.01, 10))
def test_the_set_takes_out_the_area_of_the_draw_in(
    pieces: list[dict[str, float]], draw_in_mm: float
) -> None:
    answer = tendon(pieces=pieces, draw_in_mm=draw_in_mm)
    exponent, length = exponents(pieces), answer["set_length_m"]
    lost = area(
        lambda x: (
            3531.15 * math.exp(-exponent(x))
            - answer["anchor_force_kn"] * math.exp(exponent(x))
        ),
        pieces,
        0,
        length,
    )
    assert lost * 1000 / (2850 * 195) == pytest.approx(draw_in_mm, rel=1e-6)
    assert length <= borders(pieces)[-1]


@given(PIECE_LISTS, st.floats(0.01, 10))
def test_two_sets_take_out_the_same_draw_in_at_each_end(
    pieces: list[dict[str, float]], draw_in_mm: float
) -> None:
    answer = tendon(pieces=pieces, ends=2, draw_in_mm=draw_in_mm)
    exponent, length = exponents(pieces), borders(pieces)[-1]
    total = exponent(length)
    (left_m, right_m), (left_kn, right_kn) = (
        answer["set_length_m"],
        answer["anchor_force_kn"],
    )
    assert left_m + right_m <= length * (1 + 1e-9)

    def jacked(x: float) -> float:
        return 3531.15 * math.exp(-min(exponent(x), total - exponent(x)))

    def parts(start: float, end: float) -> list[float]:
        middle = brentq(lambda x: exponent(x) - total / 2, 0, length)
        return [start, *([middle] if start < middle < end else []), end]

    def lost(function: Any, start: float, end: float) -> float:
        cuts = parts(start, end)
        return sum(area(function, pieces, a, b) for a, b in pairwise(cuts))

    one = lost(lambda x: jacked(x) - left_kn * math.exp(exponent(x)), 0, left_m)
    other = lost(
        lambda x: jacked(x) - right_kn * math.exp(total - exponent(x)),
        length - right_m,
        length,
    )
    assert one * 1000 / (2850 * 195) == pytest.approx(draw_in_mm, rel=1e-5)
    assert other * 1000 / (2850 * 195) == pytest.approx(draw_in_mm, rel=1e-5)
    after = answer["force_after_set_kn"]
    assert (after[0], after[-1]) == pytest.approx((left_kn, right_kn), rel=1e-6)
    if left_m + right_m > length * (1 - 1e-9):
        # Where two sets meet the strand stands still under one force.
        peak = left_kn * math.exp(exponent(left_m))
        assert right_kn * math.exp(total - exponent(left_m)) == pytest.approx(
            peak, rel=1e-6
        )


def test_no_draw_in_leaves_the_jacking_force() -> None:
    answer = tendon(draw_in_mm=0)
    assert (answer["set_length_m"], answer["anchor_force_kn"]) == (0, 3531.15)
    assert answer["force_after_set_kn"] == answer["force_kn"]


def test_a_short_tendon_loses_over_its_whole_length() -> None:
    # 10 m without friction, 6 mm: 117 MPa (trade arithmetic: 6/10 000 x 195 GPa).
    answer = tendon(
        pieces=[{"length_m": 10, "angle_rad": 0}],
        friction={"mu": 0, "k_per_m": 0, "form": "per-length"},
        draw_in_mm=6,
    )
    assert (3531.15 - answer["anchor_force_kn"]) / 2.850 == pytest.approx(117)
    assert answer["set_length_m"] == 10


@pytest.mark.parametrize("ends", [1, 2])
def test_a_draw_in_that_leaves_nothing_is_refused(ends: int) -> None:
    # All of the extension drawn in, at both ends together, and the strand is slack.
    most_mm = tendon(ends=ends)["extension_mm"] / ends
    with pytest.raises(CalcRefusal) as refusal:
        tendon(draw_in_mm=most_mm * 1.001, ends=ends)
    assert refusal.value.allowed == f"0 to {most_mm:.6g}, the strand slack"
    left = tendon(draw_in_mm=most_mm * 0.999, ends=ends)["anchor_force_kn"]
    assert 0 < min(left if ends == 2 else [left]) < 5


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        (
            [{"length_m": 0, "angle_rad": 0}, {"length_m": 9, "angle_rad": 0}],
            "pieces[0].length_m is 0; allowed: above 0, or 0 with an angle",
        ),
        (
            [{"length_m": 0, "angle_rad": 0.1}],
            "pieces is '1 kinks'; allowed: one piece with a length",
        ),
        ([], "pieces is []; allowed: a list of 1 to 500"),
    ],
)
def test_a_tendon_of_no_length_is_refused(
    pieces: list[dict[str, float]], words: str
) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        tendon(pieces=pieces)
    assert str(refusal.value) == words


@pytest.mark.parametrize(("key", "value"), [("ends", 3), ("ends", True), ("ends", "1")])
def test_only_one_or_two_ends_can_be_stressed(key: str, value: Any) -> None:
    with pytest.raises(CalcRefusal, match=r"ends is .*; allowed: one of 1, 2"):
        tendon(**{key: value})


def test_a_friction_form_is_never_guessed() -> None:
    with pytest.raises(CalcRefusal) as refusal:
        tendon(friction={"mu": 0.2, "k_per_m": 0.005, "form": "exp"})
    assert str(refusal.value) == (
        "friction.form is 'exp'; allowed: one of per-angle, per-length"
    )
    with pytest.raises(CalcRefusal, match=r"friction\.form is missing"):
        tendon(friction={"mu": 0.2, "k_per_m": 0.005})
