"""What is worked out when an item is entered on a phone, against the office's own."""

import random
from datetime import UTC, date, datetime
from typing import Any

import pytest

from fieldapp.calc.jack import fit_calibration
from fieldapp.plan.register import end_of_day_ms
from tests.javascript import JavaScript

DAY, FIT, NAMES = (
    f"static/phone/register/{name}.js" for name in ("day", "calibration", "naming")
)
NOW = int(datetime(2036, 5, 14, 12, tzinfo=UTC).timestamp() * 1_000)
JACK_A = [(50, 71.2), (100, 145.1), (150, 218.6), (200, 292.3), (250, 365.8),
          (300, 439.9), (350, 513.2), (400, 587.1)]  # fmt: skip


@pytest.mark.parametrize("zone", [60, -210, 0, 330])
@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("3112", date(2036, 12, 31)),
        ("1405", date(2036, 5, 14)),
        ("1305", date(2037, 5, 13)),
        ("300637", date(2037, 6, 30)),
        ("30062035", date(2035, 6, 30)),
        ("2902", date(2040, 2, 29)),
    ],
)
def test_a_last_day_ends_when_the_sites_files_would_have_it_end(
    javascript: JavaScript, typed: str, meant: date, zone: int
) -> None:
    found = javascript.call(DAY, "readLastDay", typed, NOW, zone)
    assert found == {"ends": end_of_day_ms(meant, zone)}


@pytest.mark.parametrize(
    ("typed", "fault"),
    [("3102", "noSuchDay"), ("290237", "noSuchDay"), ("0013", "noSuchDay"),
     ("311", "day"), ("31", "day"), ("3112361", "day"), ("31121936", "day")],
)  # fmt: skip
def test_a_day_that_is_none_is_refused(
    javascript: JavaScript, typed: str, fault: str
) -> None:
    assert javascript.call(DAY, "readLastDay", typed, NOW, 60) == {"fault": fault}


def test_points_of_a_jack_give_the_line_the_sites_files_would_give(
    javascript: JavaScript,
) -> None:
    rng = random.Random(20361)
    for points in [JACK_A, *(_certificate(rng) for _ in range(200))]:
        whole = [[round(bar), round(force * 100)] for bar, force in points]
        found = javascript.call(FIT, "fitted", whole, 0)
        wanted = fit_calibration(points)
        numbers = found["numbers"]
        assert numbers["low"] == points[0][0]
        assert numbers["high"] == points[-1][0]
        # Floats differ from the exact line in the last of their digits.
        assert abs(numbers["slope"] - wanted.slope_kn_per_bar * 1e7) < 1
        assert abs(numbers["intercept"] - wanted.intercept_kn * 1e7) < 1.5
        off = wanted.fit_residual_percent * 100
        assert off - 1e-6 <= found["off"] < off + 1 + 1e-6


def _certificate(rng: random.Random) -> list[tuple[float, float]]:
    slope, base = rng.uniform(0.5, 4), rng.uniform(-4, 4)
    bars = sorted(rng.sample(range(20, 700, 10), rng.randrange(2, 12)))
    return [
        (float(bar), round(slope * bar + base + rng.uniform(-1, 1), 2)) for bar in bars
    ]


@pytest.mark.parametrize(
    ("points", "fault", "at"),
    [
        ([[50, 7120]], "few", 1),
        ([[50, 7120], [50, 7200]], "rising", 1),
        ([[50, 7120], [100, 14510], [150, 14510]], "rising", 2),
    ],
)
def test_points_that_do_not_rise_are_refused(
    javascript: JavaScript, points: list[list[int]], fault: str, at: int
) -> None:
    assert javascript.call(FIT, "fitted", points, 0) == {"fault": fault, "at": at}


def test_an_id_comes_from_the_label_and_is_the_items_own(
    javascript: JavaScript,
) -> None:
    def named(kind: str, label: str, *known: str) -> str:
        items: list[dict[str, Any]] = [{"id": each} for each in known]
        found: str = javascript.call(NAMES, "idFor", kind, label, items)
        return found

    lot = named("lot-cool", "Cool, A 4431 / B 4432")
    assert lot.startswith("cool-a-4431-b-4432-")
    # On another phone the same item gets the same id, however it is spelt.
    assert named("lot-cool", "Cool, A 4431 / B 4432") == lot
    assert named("bar", "Bar 7") != named("coil", "Bar 7")
    assert named("lot-cool", "Cool, A 4431 / B 4432", lot) not in {lot, ""}
    assert named("bar", "Стержень").startswith("bar-")
    assert len(named("bar", "x" * 60)) <= 64


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Warm, A 5501 / B 5502", "warm a5501 b 5502", True),
        ("Bar 1.2", "Bar 12", False),
        ("Bar 1.2", "bar-1/2", True),
        ("Kältelos 7", "KÄLTELOS-7", True),
    ],
)
def test_labels_are_alike_if_letters_and_figures_are(
    javascript: JavaScript, one: str, other: str, same: bool
) -> None:
    first, second = (javascript.call(NAMES, "plain", each) for each in (one, other))
    assert (first == second) is same
