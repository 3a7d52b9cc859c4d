"""How much water a batch of grout may still take, from its bags.

Water over cement is a ratio of two readings, which nothing here may form; the water
that the limit allows, less the water that was weighed, says the same.
"""

from decimal import Decimal
from fractions import Fraction

from fieldapp.plan.draft import Draft
from fieldapp.plan.expressions import linear
from fieldapp.plan.quantities import COUNT, Quantity, Value
from fieldapp.plan.toml_node import Node

LITRES = Quantity("L", 3)


def add(node: Node, draft: Draft) -> None:
    """Add the value named by `left`: most × bag_kg × bags less the water, L.

    A litre of water is a kilogram. Below zero there is too much water. A `recipe`, bags
    and water of a batch as the day's release knows it, is held to the limit here.
    """
    water, bags = (draft.field(node.child(key)) for key in ("water", "bags"))
    bag = Fraction(node.decimal("bag_kg", Decimal(1), Decimal(2000)))
    most = Fraction(node.decimal("most", Decimal("0.1"), Decimal(2)))
    name = node.text("left")
    if "recipe" in node:
        _check_recipe(node.child("recipe"), most * bag, draft)
    if not water[0] or not bags[0]:
        return
    poured, counted = (draft.shape(*each).quantity for each in (water, bags))
    same = water[0] == bags[0]
    if poured.unit != "L" or poured.places > LITRES.places or not same:
        node.child("water").fault("a field in L, of the step of the bags")
        return
    if counted != COUNT:
        node.child("bags").fault("a field without unit or places")
        return
    step = water[0]
    lines = frozenset({step}) if draft.steps[step].many else frozenset()
    scale = 10**LITRES.places
    parts = [
        (most * bag * scale, _reading(bags, counted, lines)),
        (-Fraction(scale, 10**poured.places), _reading(water, poured, lines)),
    ]
    draft.values[name] = linear(LITRES, Fraction(0), parts)


def _check_recipe(node: Node, litres_a_bag: Fraction, draft: Draft) -> None:
    """A batch mixed as the recipe needs no figure: the recipe must keep the limit."""
    bags = node.whole("bags", 1, 999)
    water = node.decimal("water_l", Decimal("0.1"), Decimal(10**5))
    allowed = litres_a_bag * bags
    if Fraction(water) > allowed:
        node.child("water_l").fault(f"at most {float(allowed):.1f} L for {bags} bags")
    draft.facts.append(
        {
            "label": "Recipe of a batch",
            "value": f"{bags} bags, {water} L; the limit is {float(allowed):.1f} L",
            "source": node.text("source"),
        }
    )
    node.finish()


def _reading(
    field: tuple[str, str], quantity: Quantity, lines: frozenset[str]
) -> Value:
    word = {"word": "reading", "step": field[0], "field": field[1]}
    return Value(word, quantity, lines)
