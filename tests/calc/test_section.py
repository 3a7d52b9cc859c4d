"""Section properties: any shape, either way round, wherever it lies."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.polygon import MOST_POINTS, Polygon
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.section import SectionProperties, section_properties


def box(x: float, y: float, width: float, height: float) -> Polygon:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


RECTANGLE = box(0, 0, 2, 4)
CROOKED = ((0.0, 0.0), (6.0, 0.0), (6.0, 0.3), (0.4, 0.5), (0.3, 3.0), (0.0, 3.0))
CROOKED_VOID = ((0.1, 0.1), (1.0, 0.1), (0.15, 0.35))


def moved(ring: Polygon, turn: float, dx: float, dy: float) -> Polygon:
    c, s = math.cos(turn), math.sin(turn)
    return tuple((c * x - s * y + dx, s * x + c * y + dy) for x, y in ring)


def test_a_rectangle_has_its_textbook_properties() -> None:
    # b h, b h^3 / 12, h b^3 / 12 with b 2 and h 4.
    properties = section_properties(RECTANGLE)
    assert properties.area_m2 == pytest.approx(8)
    assert properties.centroid_x_m == pytest.approx(1)
    assert properties.centroid_y_m == pytest.approx(2)
    assert properties.ixx_m4 == pytest.approx(2 * 4**3 / 12)
    assert properties.iyy_m4 == pytest.approx(4 * 2**3 / 12)
    assert properties.ixy_m4 == pytest.approx(0, abs=1e-12)


def test_a_right_triangle_has_a_negative_product_of_inertia() -> None:
    # Legs b along x and h along y from the origin: about the centroid
    # b h^3 / 36, h b^3 / 36 and - b^2 h^2 / 72.
    properties = section_properties(((0, 0), (3, 0), (0, 2)))
    assert properties.ixx_m4 == pytest.approx(3 * 2**3 / 36)
    assert properties.iyy_m4 == pytest.approx(2 * 3**3 / 36)
    assert properties.ixy_m4 == pytest.approx(-(3**2) * 2**2 / 72)


def test_a_void_is_taken_out() -> None:
    # 4 x 4 less 2 x 2 in the middle: 12 m2 and (256 - 16) / 12 m4.
    properties = section_properties(box(0, 0, 4, 4), [box(1, 1, 2, 2)])
    assert properties.area_m2 == pytest.approx(12)
    assert properties.ixx_m4 == pytest.approx(20)


@given(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4))
def test_moving_a_section_moves_its_centroid_only(dx: float, dy: float) -> None:
    here = section_properties(CROOKED, [CROOKED_VOID])
    there = section_properties(
        moved(CROOKED, 0, dx, dy), [moved(CROOKED_VOID, 0, dx, dy)]
    )
    assert there.area_m2 == pytest.approx(here.area_m2, rel=1e-6)
    assert there.centroid_x_m - dx == pytest.approx(here.centroid_x_m, abs=1e-6)
    assert there.ixx_m4 == pytest.approx(here.ixx_m4, rel=1e-6)
    assert there.ixy_m4 == pytest.approx(here.ixy_m4, rel=1e-6)


@given(st.floats(-math.pi, math.pi))
def test_turning_a_section_turns_its_tensor_of_inertia(turn: float) -> None:
    here = section_properties(CROOKED, [CROOKED_VOID])
    there = section_properties(
        moved(CROOKED, turn, 0, 0), [moved(CROOKED_VOID, turn, 0, 0)]
    )
    c, s = math.cos(turn), math.sin(turn)
    # y' = s x + c y and x' = c x - s y, squared and multiplied under the integral.
    ixx = c * c * here.ixx_m4 + s * s * here.iyy_m4 + 2 * s * c * here.ixy_m4
    ixy = s * c * (here.iyy_m4 - here.ixx_m4) + (c * c - s * s) * here.ixy_m4
    assert there.ixx_m4 == pytest.approx(ixx, rel=1e-9)
    assert there.ixy_m4 == pytest.approx(ixy, rel=1e-9, abs=1e-9)


@given(st.integers(0, 5), st.booleans(), st.booleans())
def test_start_and_sense_of_an_outline_do_not_matter(
    start: int, back: bool, void_back: bool
) -> None:
    ring = CROOKED[start:] + CROOKED[:start]
    ring = ring[::-1] if back else ring
    void = CROOKED_VOID[::-1] if void_back else CROOKED_VOID
    here, there = (
        section_properties(CROOKED, [CROOKED_VOID]),
        section_properties(ring, [void]),
    )
    for name in SectionProperties.__slots__:
        assert getattr(there, name) == pytest.approx(getattr(here, name), rel=1e-12)


@pytest.mark.parametrize("reverse", [False, True])
@pytest.mark.parametrize(
    ("outline", "key"),
    [
        (((0, 0), (2, 2), (2, 0), (0, 2)), "outline"),
        (((0, 0), (4, 0), (4, 2), (2, 0), (0, 2)), "outline"),
        (((0, 0), (4, 0), (2, 0), (2, 3)), "outline"),
        (((0, 0), (1, 0), (2, 0)), "outline"),
        (((0, 0), (1, 0)), "outline"),
        (((0, 0), (1, 0), (1, 1), (0, 0)), "outline"),
    ],
    ids=["bow tie", "touching itself", "folded", "no area", "two points", "repeated"],
)
def test_an_impossible_outline_is_refused(
    outline: Polygon, key: str, reverse: bool
) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        section_properties(outline[::-1] if reverse else outline)
    assert refusal.value.key == key


NOTCHED = ((0, 0), (6, 0), (6, 4), (4, 4), (4, 2), (2, 2), (2, 4), (0, 4))


@pytest.mark.parametrize(
    ("outline", "voids", "key"),
    [
        (box(0, 0, 4, 4), [box(5, 5, 1, 1)], "voids[0]"),
        (box(0, 0, 4, 4), [box(3, 3, 2, 0.5)], "voids[0]"),
        (box(0, 0, 4, 4), [box(-1, 1, 6, 1)], "voids[0]"),
        (box(0, 0, 4, 4), [box(-1, -1, 6, 6)], "voids[0]"),
        (NOTCHED, [box(1, 2.5, 4, 1)], "voids[0]"),
        (NOTCHED, [((2, 4), (4, 4), (3, 1))], "voids[0]"),
        (box(0, 0, 4, 4), [box(1, 1, 2, 2), box(2, 2, 1.5, 1.5)], "voids[1]"),
        (box(0, 0, 4, 4), [box(1, 1, 2, 2), box(1.5, 1.5, 1, 1)], "voids[1]"),
        (box(0, 0, 4, 4), [box(1.5, 1.5, 1, 1), box(1, 1, 2, 2)], "voids[1]"),
        (box(0, 0, 4, 4), [box(1, 1, 2, 2), box(1, 1, 2, 2)], "voids[1]"),
        (box(0, 0, 4, 4), [box(1, 1, 1, 2), box(1, 1, 2, 1)], "voids[1]"),
        (box(0, 0, 4, 4), [((1, 1), (3, 3), (3, 1), (1, 3))], "voids[0]"),
        (box(0, 0, 4, 4), [box(0, 0, 4, 4)], "voids"),
    ],
)
def test_a_void_outside_or_over_another_is_refused(
    outline: Polygon, voids: list[Polygon], key: str
) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        section_properties(outline, voids)
    assert refusal.value.key == key


@pytest.mark.parametrize(
    ("outline", "voids", "area"),
    [
        (box(0, 0, 4, 4), [box(0, 1, 1, 1)], 15),
        (box(0, 0, 4, 4), [box(1, 1, 1, 1), box(2, 1, 1, 1)], 14),
        (box(0, 0, 4, 4), [box(1, 1, 1, 1), box(2, 2, 1, 1)], 14),
        (NOTCHED, [box(2, 1, 2, 1)], 18),
        (box(0, 0, 4, 4), [((0, 2), (2, 0), (4, 2), (2, 4))], 8),
    ],
)
def test_a_void_may_touch_the_outline_or_another(
    outline: Polygon, voids: list[Polygon], area: float
) -> None:
    assert section_properties(outline, voids).area_m2 == pytest.approx(area)


def circle(x: float, y: float, radius: float, points: int) -> Polygon:
    turns = (2 * math.pi * index / points for index in range(points))
    return tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns)


def test_a_face_of_a_few_millimetres_is_a_face_too() -> None:
    thin = section_properties(box(0, 0, 0.002, 0.003), [box(0, 0, 0.001, 0.002)])
    assert thin.area_m2 == pytest.approx(4e-6)


def test_a_face_of_many_points_and_voids_has_its_area() -> None:
    # A regular polygon of n corners on radius r: n r^2 sin(2 pi / n) / 2.
    voids = [circle(3 * i - 6, 3 * j - 4.5, 1, 80) for i in range(5) for j in range(4)]
    properties = section_properties(circle(0, 0, 12, 400), voids)
    gross = 400 * 144 * math.sin(2 * math.pi / 400) / 2
    taken = 20 * 80 * math.sin(2 * math.pi / 80) / 2
    assert properties.area_m2 == pytest.approx(gross - taken)


def test_more_points_than_are_checked_in_a_moment_are_refused() -> None:
    ring = circle(0, 0, 12, MOST_POINTS - 4)
    assert section_properties(ring, [box(0, 0, 1, 1)]).area_m2 > 0
    with pytest.raises(CalcRefusal) as refusal:
        section_properties(ring, [box(0, 0, 1, 1), ((2, 2), (3, 2), (2, 3))])
    assert refusal.value.key == "outline"
    assert "at most 2000 with the voids" in str(refusal.value)
