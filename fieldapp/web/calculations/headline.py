"""What a calculation came to, in a few large figures and plain verdicts.

The first figure is the one that was asked for. A verdict has a word, an icon and a
colour together; it repeats what the calculation answered and adds no judgement.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.calc.calculation import Calculation, Output
from fieldapp.web.calculations.units import clock, read, spoken

FIRST = {
    "adhesive-quantity": "kits",
    "grout-volume": "order_l",
    "air-test": "loss_ratio",
    "shim": "tip_mm",
    "extension-check": "difference_percent",
    "joint-stress": "min_mpa",
}
"""The answer that was asked for, where it is not the first one."""
AS_PERCENT = {
    "loss_ratio": "Lost of the start gauge pressure",
    "used_ratio": "Life used",
}
"""Answers that are parts of one, said in hundredths and in words."""
MOST_IN_A_LIST, MOST_RATIOS = 2, 4
GREEN, YELLOW, RED = ("green", "✓"), ("yellow", "△"), ("red", "✕")
_VERDICTS: Mapping[tuple[str, bool], tuple[tuple[str, str], str]] = {
    ("ok", True): (GREEN, "within all limits given"),
    ("ok", False): (RED, "not within the limits given"),
    ("in_time", True): (GREEN, "filled within the pumpable life"),
    ("in_time", False): (RED, "not filled within the pumpable life"),
    ("frost", True): (YELLOW, "frost: coldest surface at or below 0 °C"),
    ("not_certified", True): (YELLOW, "not certified: from the ram's area alone"),
}
_ALARMS = {
    "above": (RED, "hotter than the certified table: the life is spent"),
    "below": (YELLOW, "colder than the certified table: its coldest life counts"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure to read: what it is, its value, its unit."""

    label: str
    value: str
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """A word with its colour and icon."""

    tone: str
    icon: str
    word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Headline:
    """The figures, the largest first, the verdicts, and reasons in words."""

    figures: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...]
    reasons: tuple[str, ...]


def headline(calculation: Calculation, answer: Mapping[str, Any]) -> Headline:
    """Word an answer."""
    outputs = sorted(
        (output for output in calculation.outputs if output.key in answer),
        key=lambda output: output.key != FIRST.get(calculation.name, ""),
    )
    figures = [
        figure
        for output in outputs
        for figure in _figures(_with_unit(output, answer), answer[output.key])
    ]
    return Headline(
        figures=tuple(figures),
        verdicts=tuple(_verdicts(answer)),
        reasons=tuple(_reasons(answer.get("reasons", ()))),
    )


def _with_unit(output: Output, answer: Mapping[str, Any]) -> Output:
    """Give an answer that is the same as another one that other's unit."""
    if output.key != "interpolated":
        return output
    return replace(output, unit="bar" if "pressure_bar" in answer else "kN")


def _figures(output: Output, value: Any) -> Iterator[Figure]:
    label = spoken(output.what)
    if output.key == "minute_at_ratio":
        for ratio, minute in value[:MOST_RATIOS]:
            part = "Whole life" if ratio == 1 else f"{read(100 * ratio)} % of the life"
            what = f"{part} used after"
            yield Figure(label=what, value=read(minute), unit="min")
    elif output.key in AS_PERCENT:
        part = read(100 * value)
        yield Figure(label=AS_PERCENT[output.key], value=part, unit="%")
    elif output.key == "best_start_hour":
        text = "none" if value is None else clock(value)
        yield Figure(label=label, value=text)
    elif isinstance(value, bool) or value is None or output.key in _WORDED:
        return
    elif isinstance(value, int | float):
        yield Figure(label=label, value=read(value), unit=output.unit)
    elif isinstance(value, str):
        yield Figure(label=label, value=value)
    elif _short_list(value):
        text = ", ".join("–" if part is None else read(part) for part in value)
        yield Figure(label=label, value=text, unit=output.unit)


_WORDED = {"alarm", "allowed", "reasons"}


def _short_list(value: Any) -> bool:
    return (
        isinstance(value, list)
        and 0 < len(value) <= MOST_IN_A_LIST
        and all(part is None or isinstance(part, int | float) for part in value)
    )


def _verdicts(answer: Mapping[str, Any]) -> Iterator[Verdict]:
    for (key, truth), ((tone, icon), word) in _VERDICTS.items():
        if answer.get(key) is truth:
            yield Verdict(tone=tone, icon=icon, word=word)
    if "alarm" in answer:
        (tone, icon), word = _ALARMS[answer["alarm"]]
        yield Verdict(tone=tone, icon=icon, word=f"alarm: {word}")
    for side in ("A", "B") if "allowed" in answer else ():
        yield _side(side, answer["allowed"])
    if answer.get("best_start_hour", "") is None:
        yield Verdict(
            tone="red", icon="✕", word="no start within the forecast succeeds"
        )


def _side(side: str, allowed: list[str]) -> Verdict:
    if side in allowed:
        return Verdict(tone="green", icon="✓", word=f"next lift on {side} keeps within")
    return Verdict(tone="red", icon="✕", word=f"no next lift on {side}")


def _reasons(reasons: Any) -> Iterator[str]:
    if isinstance(reasons, Mapping):
        yield from (f"{name}: {text}" for name, text in reasons.items())
    else:
        yield from reasons
