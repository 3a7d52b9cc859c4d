"""Reads the plan's value expressions into the kernel's value words, with their units.

One key of a table names the word: reading, constant, field, form, table, choose,
reduce, slope, elapsed, life. Numbers are written in their own unit and scaled exactly;
a number that would need rounding is a fault, never rounded.
"""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from math import lcm
from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.moments import read_elapsed, read_life
from fieldapp.plan.quantities import COUNT, NO_LINES, Quantity, Value
from fieldapp.plan.toml_node import LARGEST, Node, as_decimal

REDUCERS = ("first", "last", "min", "max", "sum", "count")
Reader = Callable[[Node, Draft], Value | None]


def read_value(node: Node, draft: Draft, want: Quantity | None = None) -> Value | None:
    """Read a value; None after a fault. A bare number takes the wanted quantity."""
    if node.too_deep:
        return None
    if isinstance(node.value, str):
        return _named(node, draft)
    if isinstance(node.value, dict):
        return _word(node, draft)
    number = as_decimal(node)
    if number is None:
        return None
    if want is None:
        node.fault("a name or a word; a bare number has no unit here")
        return None
    whole = want.whole(number)
    if whole is None or abs(whole) > LARGEST:
        node.fault(f"a number of {want}")
        return None
    return Value(whole, want)


def same_quantity(node: Node, value: Value | None, want: Quantity) -> Value | None:
    """Report a value that is not counted like another one it meets."""
    if value is not None and value.quantity != want:
        node.fault(f"a value in {want}", f"{value.quantity}")
        return None
    return value


def declare_value(name: str, node: Node, draft: Draft) -> None:
    """Read a value the plan declares, once; one that refers to itself is none."""
    draft.declare(name, draft.values, lambda: read_value(node, draft))


def _named(node: Node, draft: Draft) -> Value | None:
    name = str(node.value)
    declared = draft.kind.child("values")
    if name in declared:
        declare_value(name, declared.child(name), draft)
    known = draft.made(node, draft.values, "a value")
    return Value(name, known.quantity, known.lines) if known else None


def _word(node: Node, draft: Draft) -> Value | None:
    words = [key for key in node.value if key in READERS]
    if len(words) != 1:
        node.fault("one word of " + ", ".join(READERS), ", ".join(node.value))
        return None
    found = READERS[words[0]](node, draft)
    node.finish()
    return found


def _reading(node: Node, draft: Draft) -> Value | None:
    place = node.child("reading")
    step, name = draft.field(place)
    if not step:
        return None
    shape = draft.shape(step, name)
    if not shape.kind:
        return None
    if shape.kind not in {"number", "choice"}:
        place.fault("a number or a choice")
        return None
    word: dict[str, Any] = {"word": "reading", "step": step, "field": name}
    return Value(word, shape.quantity, _line_of(node, draft, step, word))


def _field(node: Node, draft: Draft) -> Value | None:
    place = node.child("field")
    step, name = draft.field(place)
    if not step:
        return None
    numbers = draft.item_numbers.get(draft.shape(step, name).item, {})
    number = node.text("name")
    if number not in numbers:
        allowed = "a number of that item: " + (", ".join(numbers) or "it has none")
        node.child("name").fault(allowed)
        return None
    word = {"word": "field", "step": step, "field": name, "name": number}
    return Value(word, numbers[number], _line_of(node, draft, step, word))


def _line_of(
    node: Node, draft: Draft, step: str, word: dict[str, Any]
) -> frozenset[str]:
    """Add a named line to a word, or say whose current line the word reads."""
    if node.child("line").given:
        word["line"] = node.text("line")
        return NO_LINES
    return frozenset({step}) if draft.steps[step].many else NO_LINES


def _constant(node: Node, draft: Draft) -> Value | None:
    place = node.child("constant")
    step, _, name = str(place.value).partition(".")
    shape = draft.steps.get(step)
    made = draft.lines.get(shape.lines_from) if shape else None
    if shape and shape.lines_from in draft.spoiled:
        return None
    if made is None or name not in made.numbers:
        known = ", ".join(made.numbers) if made else ""
        place.fault(f"a number of a step's lines as step.number: {known or 'none yet'}")
        return None
    word = {"word": "constant", "name": name}
    return Value(word, made.numbers[name], frozenset({step}))


def _form(node: Node, draft: Draft) -> Value | None:
    quantity = Quantity(
        node.text("unit", need=False), node.whole("places", 0, 9, default=0)
    )
    terms: list[tuple[Fraction, Value]] = []
    for place in node.items("form"):
        pair = list(place.elements())
        if len(pair) != 2:
            place.fault("a pair: factor and value")
            continue
        factor, value = as_decimal(pair[0]), read_value(pair[1], draft)
        if factor is None or value is None:
            continue
        if value.quantity.unit != quantity.unit:
            pair[1].fault(f"a value in {quantity.unit or 'no unit'}", value.quantity)
            continue
        scale = Fraction(10) ** (quantity.places - value.quantity.places)
        terms.append((Fraction(factor) * scale, value))
    constant = node.decimal("plus", Decimal(-(10**9)), Decimal(10**9), Decimal(0))
    start = Fraction(constant) * 10**quantity.places
    if not terms:
        return None
    return linear(quantity, start, terms)


def linear(
    quantity: Quantity, start: Fraction, terms: list[tuple[Fraction, Value]]
) -> Value:
    """Make an exact linear form over the least common divisor."""
    divisor = lcm(start.denominator, *(factor.denominator for factor, _ in terms))
    word: dict[str, Any] = {
        "word": "form",
        "constant": int(start * divisor),
        "terms": [[int(factor * divisor), value.word] for factor, value in terms],
        "divisor": divisor,
    }
    return Value(word, quantity, frozenset().union(*(v.lines for _, v in terms)))


def _table(node: Node, draft: Draft) -> Value | None:
    place = node.child("table")
    straight = {k: each for k, each in draft.tables.items() if "rates" not in each.body}
    table = draft.made(place, straight, "a table with straight lines")
    if table is None:
        return None
    word: dict[str, Any] = {"word": "table", "table": place.value}
    lines: frozenset[str] = NO_LINES
    for key, quantity in (("x", table.x), ("y", table.y)):
        if quantity is None:
            continue
        value = read_value(node.child(key), draft, quantity)
        if same_quantity(node.child(key), value, quantity) is None or value is None:
            return None
        word[key] = value.word
        lines |= value.lines
    return Value(word, table.v, lines)


def _choose(node: Node, draft: Draft) -> Value | None:
    by = read_value(node.child("choose"), draft)
    cases: list[list[Any]] = []
    known: list[Value] = [by] if by else []
    quantity: Quantity | None = None
    places = [tuple(place.elements()) for place in node.items("cases")]
    pairs = [pair for pair in places if len(pair) == 2]
    if len(pairs) < len(places):
        node.child("cases").fault("pairs: choice value and value")
    other = node.child("otherwise")
    for key, place in [*pairs, *([(None, other)] if other.given else [])]:
        value = read_value(place, draft, quantity)
        quantity = quantity or (value.quantity if value else None)
        if value is None or same_quantity(place, value, value.quantity) is None:
            return None
        if same_quantity(place, value, quantity or COUNT) is None:
            return None
        known.append(value)
        cases.append([key.value if key else None, value.word])
    if by is None or quantity is None:
        return None
    word: dict[str, Any] = {"word": "choose", "by": by.word}
    if other.given:
        word["otherwise"] = cases.pop()[1]
    word["cases"] = cases
    return Value(word, quantity, frozenset().union(*(value.lines for value in known)))


def _reduce(node: Node, draft: Draft) -> Value | None:
    how = node.one_of("reduce", REDUCERS)
    if node.child("values").given:
        return _reduce_listed(node, draft, how)
    step = draft.step(node.child("step"))
    word: dict[str, Any] = {"word": "reduce", "how": how, "step": step}
    quantity, lines = COUNT, NO_LINES
    if how != "count" or node.child("value").given:
        value = read_value(node.child("value"), draft)
        if value is None:
            return None
        word["value"] = value.word
        quantity = COUNT if how == "count" else value.quantity
        lines = value.lines - {step}
    _narrow(node, word)
    return Value(word, quantity, lines) if step else None


def _narrow(node: Node, word: dict[str, Any]) -> None:
    """Add the item or the round to which lines are narrowed."""
    if node.child("item").given:
        word["item"] = node.text("item")
    if node.child("round").given:
        word["round"] = node.whole("round", 1, 99)


def _reduce_listed(node: Node, draft: Draft, how: str) -> Value | None:
    values: list[Value] = []
    for place in node.items("values"):
        want = values[0].quantity if values else None
        value = read_value(place, draft, want)
        if value and (want is None or same_quantity(place, value, want)):
            values.append(value)
    if not values:
        return None
    return reduced(how, values)


def reduced(how: str, values: list[Value]) -> Value:
    """Reduce a list of values of one quantity."""
    word = {"word": "reduce", "how": how, "values": [value.word for value in values]}
    quantity = COUNT if how == "count" else values[0].quantity
    return Value(word, quantity, frozenset().union(*(value.lines for value in values)))


def _slope(node: Node, draft: Draft) -> Value | None:
    step = draft.step(node.child("slope"))
    x, y = (read_value(node.child(key), draft) for key in ("x", "y"))
    if not step or x is None or y is None:
        return None
    places = y.quantity.places - x.quantity.places
    if places < 0:
        node.child("y").fault("at least as many places as x has", y.quantity)
        return None
    word = {"word": "slope", "step": step, "x": x.word, "y": y.word}
    if node.child("item").given:
        word["item"] = node.text("item")
    quantity = Quantity(f"{y.quantity.unit}/{x.quantity.unit}", places)
    return Value(word, quantity, (x.lines | y.lines) - {step})


READERS: dict[str, Reader] = {
    "reading": _reading,
    "constant": _constant,
    "field": _field,
    "form": _form,
    "table": _table,
    "choose": _choose,
    "reduce": _reduce,
    "slope": _slope,
    "elapsed": read_elapsed,
    "life": read_life,
}
