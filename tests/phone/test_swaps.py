"""Two digits swapped: asked where what was read shortly before speaks for it."""

from typing import Any

import pytest

from tests.javascript import UNDEFINED, JavaScript

SWAPS = "static/phone/swaps.js"
HUMIDITY = {"low": 10, "high": 100}
MOST_76 = {"high": 76}
FACE = {"low": -200, "high": 600, "places": 1}
WINDOW = {"low": 150, "high": 350}
BAR = {"low": 0, "high": 700}
BAND = {"low": 112, "high": 136}
LENGTH = {"places": 1}
AT = 1_796_000_000_000
HOUR = 3_600_000

ORDINARY = [
    # typed, read before, span, field
    (66, [63], MOST_76, HUMIDITY),
    (48, [63], MOST_76, HUMIDITY),
    (57, [75], MOST_76, HUMIDITY),
    (65, [56], MOST_76, HUMIDITY),
    (54, [45], MOST_76, HUMIDITY),
    (36, [54], MOST_76, HUMIDITY),
    (39, [63], MOST_76, HUMIDITY),
    (90, [63], MOST_76, HUMIDITY),
    (100, [63], MOST_76, HUMIDITY),
    (55, [18], MOST_76, HUMIDITY),
    # The slip itself stands between: what is read anew is near to what was true.
    (81, [18, 63], MOST_76, HUMIDITY),
    (81, [63], MOST_76, HUMIDITY),
    (121, [112], {}, FACE),
    (213, [231], WINDOW, FACE),
    (198, [189], WINDOW, FACE),
    (312, [231], WINDOW, FACE),
    (-15, [15], {}, FACE),
    (140, [40], {}, FACE),
    (121, [112], BAND, BAR),
    (124, [142], {}, BAR),
    (131, [122], BAND, BAR),
    (2150, [2140], {}, LENGTH),
    (63, [63], MOST_76, HUMIDITY),
    (18, [], MOST_76, HUMIDITY),
]

ASKED = [
    (18, [63], MOST_76, HUMIDITY, 81),
    (18, [81], MOST_76, HUMIDITY, 81),
    (18, [40, 79], MOST_76, HUMIDITY, 81),
    (36, [63], MOST_76, HUMIDITY, 63),
    (91, [20], MOST_76, HUMIDITY, 19),
    (131, [315], WINDOW, FACE, 311),
    (-131, [-311], {}, {"low": -400, "high": 0}, -311),
    (215, [125], BAND, BAR, 125),
    (5210, [2510], {}, LENGTH, 2510),
]


@pytest.mark.parametrize(("typed", "known", "span", "field"), ORDINARY)
def test_an_ordinary_change_asks_nothing(
    javascript: JavaScript, typed: int, known: list[int], span: Any, field: Any
) -> None:
    read = [{"value": one, "at": AT} for one in known]
    assert javascript.call(SWAPS, "swappedOf", typed, read, span, field) == UNDEFINED


@pytest.mark.parametrize("case", ASKED)
def test_what_lies_far_off_and_swapped_much_nearer_is_asked(
    javascript: JavaScript, case: tuple[int, list[int], Any, Any, int]
) -> None:
    typed, known, span, field, swapped = case
    read = [{"value": one, "at": AT} for one in known]
    found = javascript.call(SWAPS, "swappedOf", typed, read, span, field)
    assert found["figure"] == swapped


def test_only_the_same_line_read_shortly_before_is_known(
    javascript: JavaScript,
) -> None:
    def entry(ago: int, line: str = "a", step: str = "faces", **values: Any) -> Any:
        return {"step": step, "line": line, "at": AT - ago * HOUR, "values": values}

    entries = [
        entry(1, humidity=63),
        entry(2, humidity=64),
        entry(4, humidity=80),
        entry(1, line="b", humidity=20),
        entry(1, step="damper", humidity=21),
        entry(1, humidity="dry"),
        entry(1, other=5),
        {"kind": "release", "at": AT},
    ]
    opened = {"entries": entries, "sheet": {"steps": {"faces": {}}}}
    field = {"id": "humidity"}
    found = javascript.call(SWAPS, "knownBefore", opened, "faces", "a", field, AT)
    assert [one["value"] for one in found] == [63, 64]
    opened["sheet"] = {"steps": {"faces": {"series": True}}}
    found = javascript.call(SWAPS, "knownBefore", opened, "faces", "", field, AT)
    assert [one["value"] for one in found] == [63, 64, 20]


def test_an_hour_later_than_now_is_known_as_yesterdays(
    javascript: JavaScript,
) -> None:
    then = AT - 24 * HOUR

    def told(text: str, value: int, **near: int) -> Any:
        when = {"text": text, "value": value} | near
        return javascript.call(SWAPS, "becameYesterday", when, AT)

    assert told("1820", then)
    assert told("18:20", then, near=AT)
    assert not told("1820", then, near=then)
    assert not told("30111820", then)
    assert not told("1820", AT)
    assert not told("1820", then - 24 * HOUR)
