"""The kernel: fifteen words, and nothing else, say what a sheet computes and demands.

Values: reading, constant, field, form, table, choose, reduce, slope, elapsed, life.
Conditions: between, in, reached, all, any. Each expression is turned once into a
function of (situation, line); values are exact ratios, `None` when something is
missing, `OUT` when a table does not reach that far. Conditions are True, False or
None (not known yet). A word never changes its meaning: old records must verify.

Longer than a module's budget on purpose (decision 46): a reviewer reads the closed list
of words from end to end, beside its twin in JavaScript.
"""

from bisect import bisect_right
from collections.abc import Callable
from typing import Any, cast

from fieldapp.core.asks import Asks
from fieldapp.core.numbers import OUT, Ratio, Value, compare, ratio
from fieldapp.core.situation import Situation

Evaluate = Callable[[Situation, str], Value]
Test = Callable[[Situation, str], bool | None]


class UnknownWord(ValueError):
    """An expression the kernel cannot read; the message shows it."""


class Kernel:
    """Turns the expressions of one sheet into functions, sharing the named ones."""

    def __init__(self, sheet: dict[str, Any], tables: dict[str, Any]) -> None:
        """Take a sheet and its table bodies by name."""
        self.tables, self.amended = tables, sheet.get("amended", 0)
        self.asks = Asks(sheet)
        self.lines = {
            step_id: {line["id"]: line for line in step.get("lines", ())}
            for step_id, step in sheet["steps"].items()
        }
        self.named_values = sheet.get("values", {})
        self.named_conditions = sheet.get("conditions", {})
        self._shared: dict[str, Any] = {}

    def value(self, expression: Any) -> Evaluate:
        """Turn a VALUE into a function of (situation, line) giving a ratio."""
        if isinstance(expression, int):
            whole = (expression, 1)
            return lambda at, line: whole
        if isinstance(expression, str):
            made: Evaluate = self._named("v", expression, self.named_values, self.value)
            return made
        word = expression.get("word")
        if word not in _VALUES:
            raise UnknownWord(f"not a value: {expression!r}")
        return cast(Evaluate, _VALUES[word](self, expression))

    def condition(self, expression: Any) -> Test:
        """Turn a CONDITION into a function giving True, False or None."""
        if isinstance(expression, str):
            made: Test = self._named(
                "c", expression, self.named_conditions, self.condition
            )
            return made
        word = expression.get("word")
        if word not in _CONDITIONS:
            raise UnknownWord(f"not a condition: {expression!r}")
        return cast(Test, _CONDITIONS[word](self, expression))

    def chosen_lines(self, word: dict[str, Any]) -> list[str] | None:
        """Give the lines a fold over lines is limited to; None: every line."""
        if "item" not in word and "round" not in word:
            return None
        return [
            line_id
            for line_id, line in self.lines[word["step"]].items()
            if word.get("item", line.get("item")) == line.get("item")
            and word.get("round", line.get("round")) == line.get("round")
        ]

    def _named(self, sort: str, name: str, bodies: dict[str, Any], make: Any) -> Any:
        key = f"{sort}:{name}"
        if key not in self._shared:
            if name not in bodies:
                raise UnknownWord(f"no value or condition is named {name!r}")
            self._shared[key] = None
            by_line = self.asks.by_line(bodies[name])
            self._shared[key] = self.asks.remembered(key, make(bodies[name]), by_line)
        if self._shared[key] is None:
            raise UnknownWord(f"{name!r} refers to itself")
        return self._shared[key]


def _reading(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    step, field, fixed = word["step"], word["field"], word.get("line")

    def read(at: Situation, line: str) -> Value:
        # Nothing is asked more often: the current line needs no further call.
        prefix, _, here = line.partition("/")
        mine = prefix == step and fixed is None
        place = here if mine else _line_in(at, step, line, fixed)
        found = None if place is None else at.reading(step, place, field)
        return (found, 1) if isinstance(found, int) else None

    return read


def _line_in(at: Situation, step: str, line: str, fixed: str | None) -> str | None:
    """Pick the line a reading means: named, the current one, or the step's own."""
    if fixed is not None:
        return fixed
    prefix, _, here = line.partition("/")
    return here if prefix == step else at.line_of(step)


def _constant(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    name = word["name"]

    def read(at: Situation, line: str) -> Value:
        step, _, here = line.partition("/")
        found = kernel.lines.get(step, {}).get(here, {}).get("numbers", {}).get(name)
        return None if found is None else (found, 1)

    return read


def _field(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    step, field, name = word["step"], word["field"], word["name"]
    fixed = word.get("line")

    def read(at: Situation, line: str) -> Value:
        place = _line_in(at, step, line, fixed)
        item = None if place is None else at.reading(step, place, field)
        found = at.item_number(item, name) if isinstance(item, str) else None
        return None if found is None else (found, 1)

    return read


def _form(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    start = kernel.value(word.get("constant", 0))
    terms = [
        (
            factor if isinstance(factor, int) else kernel.value(factor),
            kernel.value(body),
        )
        for factor, body in word["terms"]
    ]
    divisor = word.get("divisor", 1)

    def total(at: Situation, line: str) -> Value:
        first = start(at, line)
        if first is None or first is OUT:
            return first
        top, bottom = first
        for factor, body in terms:
            value = body(at, line)
            if value is None or value is OUT:
                return value
            weight: Any = factor
            if not isinstance(factor, int):
                scale = factor(at, line)
                if scale is None:
                    return None
                weight = scale[0]
            if value[1] == bottom:
                top += weight * value[0]
            else:
                top = top * value[1] + weight * value[0] * bottom
                bottom *= value[1]
        return ratio(top, bottom * divisor)

    return total


def _table(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    body = kernel.tables[word["table"]]
    across = kernel.value(word["x"])
    along = kernel.value(word["y"]) if "y" in word else None

    def look_up(at: Situation, line: str) -> Value:
        x = across(at, line)
        if x is None or x is OUT:
            return x
        if along is None:
            return straight(body["x"], body["v"], x)
        y = along(at, line)
        if y is None or y is OUT:
            return y
        return _bilinear(body, x, y)

    return look_up


def straight(xs: list[int], values: list[int], x: Ratio) -> Ratio:
    """Read a table by a straight line between its nodes; OUT beyond them."""
    place = _segment(xs, x)
    if place is None:
        return OUT
    low, high = values[place], values[min(place + 1, len(values) - 1)]
    return _between_nodes(xs, place, x, (low, 1), (high, 1))


def _bilinear(body: dict[str, Any], x: Ratio, y: Ratio) -> Ratio:
    place = _segment(body["x"], x)
    if place is None:
        return OUT
    rows = body["v"]
    low = straight(body["y"], rows[place], y)
    high = straight(body["y"], rows[min(place + 1, len(rows) - 1)], y)
    if low is OUT or high is OUT:
        return OUT
    return _between_nodes(body["x"], place, x, low, high)


def _segment(xs: list[int], x: Ratio) -> int | None:
    top, bottom = x
    if top < xs[0] * bottom or top > xs[-1] * bottom:
        return None
    return max(min(bisect_right(xs, top // bottom) - 1, len(xs) - 2), 0)


def _between_nodes(
    xs: list[int], place: int, x: Ratio, low: Ratio, high: Ratio
) -> Ratio:
    if len(xs) == 1:
        return low
    width = xs[place + 1] - xs[place]
    part = x[0] - xs[place] * x[1]
    top = low[0] * high[1] * (width * x[1] - part) + high[0] * low[1] * part
    return ratio(top, low[1] * high[1] * width * x[1])


def _choose(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    by = kernel.value(word["by"])
    cases = {case: kernel.value(body) for case, body in word["cases"]}
    otherwise = kernel.value(word["otherwise"]) if "otherwise" in word else None

    def pick(at: Situation, line: str) -> Value:
        key = by(at, line)
        if key is None or key is OUT:
            return key
        body = cases.get(key[0], otherwise) if key[1] == 1 else otherwise
        return None if body is None else body(at, line)

    return pick


def _reduce(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    how = word["how"]
    gather = _listed(kernel, word) if "values" in word else _over_lines(kernel, word)

    def fold_up(at: Situation, line: str) -> Value:
        found = gather(at, line)
        if found is None or OUT in found:
            return None if found is None else OUT
        return _REDUCERS[how](found)

    return fold_up


def _listed(kernel: Kernel, word: dict[str, Any]) -> Any:
    bodies = [kernel.value(body) for body in word["values"]]

    def gather(at: Situation, line: str) -> list[Ratio] | None:
        found = [body(at, line) for body in bodies]
        known = [value for value in found if value is not None]
        return known if len(known) == len(found) else None

    return gather


def _over_lines(kernel: Kernel, word: dict[str, Any]) -> Any:
    step, chosen = word["step"], kernel.chosen_lines(word)
    body = kernel.value(word["value"]) if "value" in word else None
    one = {"first": 1, "last": -1}.get(word["how"])
    # What no reading can change is not asked: a later round stands whatever is said
    # of an earlier one. Sheets from before this was amended asked of all.
    some = one is not None and body is not None and kernel.amended >= 2

    def gather(at: Situation, line: str) -> list[Ratio] | None:
        here = at.line_ids(step, chosen)
        for each in () if some else here:
            if at.disputed(step, each):
                return None
        if body is None:
            return [(1, 1)] * len(here)
        found = []
        for each in here[::one]:
            if some and at.disputed(step, each):
                return None
            value = body(at, f"{step}/{each}")
            if value is not None:
                found.append(value)
                if one is not None:
                    break
        return found

    return gather


def _least(values: list[Ratio]) -> Value:
    best: Value = None
    for value in values:
        if best is None or compare(value, best) < 0:
            best = value
    return best


def _greatest(values: list[Ratio]) -> Value:
    best: Value = None
    for value in values:
        if best is None or compare(value, best) > 0:
            best = value
    return best


def _sum(values: list[Ratio]) -> Ratio:
    top, bottom = 0, 1
    for value in values:
        top, bottom = top * value[1] + value[0] * bottom, bottom * value[1]
    return ratio(top, bottom)


_REDUCERS: dict[str, Callable[[list[Ratio]], Value]] = {
    "first": lambda values: values[0] if values else None,
    "last": lambda values: values[-1] if values else None,
    "min": _least,
    "max": _greatest,
    "sum": _sum,
    "count": lambda values: (len(values), 1),
}


def _slope(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    step, chosen = word["step"], kernel.chosen_lines(word)
    across, up = kernel.value(word["x"]), kernel.value(word["y"])

    def fit(at: Situation, line: str) -> Value:
        pairs = []
        for each in at.line_ids(step, chosen):
            if at.disputed(step, each):
                return None
            x, y = across(at, f"{step}/{each}"), up(at, f"{step}/{each}")
            if OUT in (x, y):
                return OUT
            if x is not None and y is not None:
                pairs.append((x, y))
        return least_squares_slope(pairs)

    return fit


def least_squares_slope(pairs: list[tuple[Ratio, Ratio]]) -> Value:
    """Give the exact least-squares slope of y on x; None below two distinct x."""
    count = (len(pairs), 1)
    sum_x, sum_y = _sum([x for x, _ in pairs]), _sum([y for _, y in pairs])
    sum_xy = _sum([_times(x, y) for x, y in pairs])
    sum_xx = _sum([_times(x, x) for x, _ in pairs])
    top = _minus(_times(count, sum_xy), _times(sum_x, sum_y))
    bottom = _minus(_times(count, sum_xx), _times(sum_x, sum_x))
    if bottom[0] == 0:
        return None
    return ratio(top[0] * bottom[1], top[1] * bottom[0])


def _times(left: Ratio, right: Ratio) -> Ratio:
    return (left[0] * right[0], left[1] * right[1])


def _minus(left: Ratio, right: Ratio) -> Ratio:
    return (left[0] * right[1] - right[0] * left[1], left[1] * right[1])


def _elapsed(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    start, end, use_by = word["from"], word["to"], word["as"] == "use_by"
    typed_ms = word.get("typed_ms", 0)

    def measure(at: Situation, line: str) -> Value:
        found = at.elapsed_ms(start, end, use_by, typed_ms)
        return None if found is None else (found, 1)

    return measure


def _life(kernel: Kernel, word: dict[str, Any]) -> Evaluate:
    clock, end = word["clock"], word["to"]
    return lambda at, line: at.life_used(clock, line.partition("/")[2], end)


def _between(kernel: Kernel, word: dict[str, Any]) -> Test:
    value = kernel.value(word["value"])
    sides = [("low", -1), ("high", 1)]
    if all(isinstance(word.get(key, 0), int) for key, _ in sides):
        return _between_whole(value, word.get("low"), word.get("high"))
    bounds = [(kernel.value(word[k]), side) for k, side in sides if k in word]

    def test(at: Situation, line: str) -> bool | None:
        found = value(at, line)
        if found is None:
            return None
        if found is OUT:
            return False
        for bound, side in bounds:
            limit = bound(at, line)
            if limit is None:
                return None
            if limit is OUT or compare(found, limit) == side:
                return False
        return True

    return test


def _between_whole(value: Evaluate, low: int | None, high: int | None) -> Test:
    """Test against whole numbers, as most checks do, without asking for them."""

    def test(at: Situation, line: str) -> bool | None:
        found = value(at, line)
        if found is None:
            return None
        top, bottom = found
        if bottom == 0 or (low is not None and top < low * bottom):
            return False
        return high is None or top <= high * bottom

    return test


def _in(kernel: Kernel, word: dict[str, Any]) -> Test:
    value, allowed = kernel.value(word["value"]), frozenset(word["set"])

    def test(at: Situation, line: str) -> bool | None:
        found = value(at, line)
        if found is None:
            return None
        return found[1] == 1 and found[0] in allowed

    return test


def _reached(kernel: Kernel, word: dict[str, Any]) -> Test:
    what = next((key for key in ("step", "point", "milestone") if key in word), None)
    if what is None:
        raise UnknownWord(f"reached what? {word!r}")
    name, subject = word[what], word.get("subject")
    return lambda at, line: at.reached(what, name, subject)


def _all(kernel: Kernel, word: dict[str, Any]) -> Test:
    tests = [kernel.condition(body) for body in word["of"]]

    def test(at: Situation, line: str) -> bool | None:
        answer: bool | None = True
        for each in tests:
            found = each(at, line)
            if found is False:
                return False
            answer = answer if found else None
        return answer

    return test


def _any(kernel: Kernel, word: dict[str, Any]) -> Test:
    tests = [kernel.condition(body) for body in word["of"]]

    def test(at: Situation, line: str) -> bool | None:
        answer: bool | None = False
        for each in tests:
            found = each(at, line)
            if found is True:
                return True
            answer = answer if found is False else None
        return answer

    return test


_VALUES: dict[str, Any] = {
    "reading": _reading,
    "constant": _constant,
    "field": _field,
    "form": _form,
    "table": _table,
    "choose": _choose,
    "reduce": _reduce,
    "slope": _slope,
    "elapsed": _elapsed,
    "life": _life,
}
_CONDITIONS: dict[str, Any] = {
    "between": _between,
    "in": _in,
    "reached": _reached,
    "all": _all,
    "any": _any,
}
WORDS = (*_VALUES, *_CONDITIONS)
