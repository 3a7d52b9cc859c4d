"""How facts are worded on the desk's pages: times, figures, states.

Colours follow IEC 60073 and never stand alone: each state has a word and an icon.
Nothing here decides anything; the words of rules are `wording`'s.
"""

from datetime import UTC, datetime, timedelta, timezone

from flask import Flask

from fieldapp.core.clocks import OVER_MS

_STEP = {
    "off": ("grey", "·", "not called for"),
    "closed": ("grey", "○", "waits"),
    "open": ("blue", "▷", "to do"),
    "partial": ("blue", "◐", "begun"),
    "failed": ("red", "✕", "out of limits"),
    "disputed": ("yellow", "≠", "disputed"),
    "done": ("green", "✓", "done"),
    "exceeded": ("yellow", "△", "done, out of limits"),
    "anyway": ("yellow", "!", "done although it was shut"),
}
_LINE = {
    "ok": ("green", "✓", "recorded"),
    "failed": ("red", "✕", "out of limits"),
    "disputed": ("yellow", "≠", "disputed"),
    "anyway": ("yellow", "!", "happened anyway"),
    "exceeded": ("yellow", "△", "recorded, out of limits"),
    "partial": ("blue", "◐", "not whole"),
    "discarded": ("grey", "·", "discarded"),
}
_POINT = {
    "waiting": ("grey", "○", "waits"),
    "ready": ("blue", "▷", "may be called"),
    "called": ("blue", "☎", "called"),
    "released": ("green", "✓", "released"),
    "used": ("yellow", "↺", "passed on a release that lapsed later"),
    "unreleased": ("red", "!", "passed without a release that counts"),
    "shut": ("red", "✕", "released, shut since by a nonconformance"),
    "refused": ("red", "✕", "refused"),
    "lapsed": ("yellow", "↺", "lapsed"),
    "expired": ("yellow", "◷", "expired"),
    "waived": ("yellow", "△", "notice has run out, may be passed"),
}
_VERDICT = {
    "complete": ("green", "✓", "complete"),
    "incomplete": ("grey", "○", "incomplete"),
    "concession": ("yellow", "△", "complete under concession"),
    "rejected": ("red", "✕", "rejected"),
}
_CLOCK = {
    "running": ("blue", "▷", "running"),
    "met": ("green", "✓", "met"),
    "over": ("red", "✕", "over"),
}
_NONCONFORMANCE = {
    "open": ("red", "✕", "open"),
    "proposed": ("yellow", "△", "proposed"),
    "disposed": ("yellow", "△", "decided"),
    "closed": ("green", "✓", "closed"),
}
_MARKS = {
    "step": _STEP,
    "line": _LINE,
    "point": _POINT,
    "verdict": _VERDICT,
    "clock": _CLOCK,
    "nonconformance": _NONCONFORMANCE,
    "condition": {"open": ("yellow", "△", "open"), "closed": ("green", "✓", "closed")},
    "hold": {
        "running": ("blue", "▷", "running"),
        "over": ("green", "✓", "over"),
        "untimed": ("yellow", "△", "not known when it began"),
    },
}
_POINT_CLASS = {
    "hold": "stop until released",
    "witness": "may go on once the notice has run out",
    "review": "the record is reviewed later",
    "surveillance": "seen in passing",
}
MINUTE_MS, HOUR_MS, DAY_MS = 60_000, 3_600_000, 86_400_000
LONG_WAIT_MS = 30 * MINUTE_MS
"""From here on a wait is shown in red."""
MINUS = "\N{MINUS SIGN}"


def mark(status: str, what: str) -> dict[str, str]:
    """Give tone, icon and word of a status; an unknown one is shown as it is."""
    tone, icon, word = _MARKS[what].get(status, ("grey", "?", status))
    return {"tone": tone, "icon": icon, "word": word}


def when(moment_ms: int | None, zone_minutes: int = 0) -> str:
    """Give a moment in local time with its offset, to the minute."""
    if moment_ms is None:
        return "not yet"
    local = _local(moment_ms, zone_minutes)
    sign, away = ("-", -zone_minutes) if zone_minutes < 0 else ("+", zone_minutes)
    return f"{local:%Y-%m-%d %H:%M} {sign}{away // 60:02d}:{away % 60:02d}"


def last_day(end_ms: int, zone_minutes: int) -> str:
    """Give the last local day of what is good until a moment: midnight ends a day."""
    return f"{_local(end_ms - 1, zone_minutes):%Y-%m-%d}"


def soon(moment_ms: int, zone_minutes: int, now_ms: int) -> str:
    """Give a moment near `now` in few words: today its time, this week its day too."""
    local, today = (_local(each, zone_minutes) for each in (moment_ms, now_ms))
    days = (local.date() - today.date()).days
    if days == 0:
        return f"{local:%H:%M}"
    if abs(days) <= 7:
        return f"{local:%a} {local.day} {local:%b %H:%M}"
    return f"{local:%Y-%m-%d %H:%M}"


def lasting(span_ms: int) -> str:
    """Give a length of time to the minute, or to the hour from two days on.

    One that rests on a time nobody knows is counted as over, and is no length.
    """
    if abs(span_ms) > OVER_MS // 2:
        return "not known"
    minutes = abs(span_ms) // MINUTE_MS
    if minutes < 60:
        return f"{minutes} min"
    if abs(span_ms) < 2 * DAY_MS:
        return f"{minutes // 60} h {minutes % 60:02d} min"
    days, hours = divmod(minutes // 60, 24)
    return f"{days} days {hours} h" if hours else f"{days} days"


def between(moment_ms: int, other_ms: int) -> str:
    """Give how long lies between two moments, whichever comes first."""
    return lasting(other_ms - moment_ms)


def meaning(point_class: str) -> str:
    """Say what a class of point asks of the gang."""
    return _POINT_CLASS.get(point_class, point_class)


def waiting(since_ms: int, now_ms: int) -> dict[str, str]:
    """Give tone, icon and word of a wait: red once it has become long."""
    tone = "red" if now_ms - since_ms > LONG_WAIT_MS else "blue"
    word = f"waiting {between(since_ms, now_ms)}"
    return {"tone": tone, "icon": "☎", "word": word}


def figure(value: int, places: int = 0, unit: str = "") -> str:
    """Give a whole number with its places and unit: 215, 1, °C is "21.5 °C"."""
    digits = str(abs(value)).rjust(places + 1, "0")
    whole = digits[: len(digits) - places] if places else digits
    text = f"{whole}.{digits[-places:]}" if places else whole
    sign = MINUS if value < 0 else ""
    return f"{sign}{text} {unit}".rstrip()


def _local(moment_ms: int, zone_minutes: int) -> datetime:
    zone = timezone(timedelta(minutes=zone_minutes)) if zone_minutes else UTC
    return datetime.fromtimestamp(moment_ms / 1_000, zone)


def add_display(app: Flask) -> None:
    """Hand the words to the templates."""
    app.jinja_env.filters.update(
        when=when,
        soon=soon,
        last_day=last_day,
        figure=figure,
        mark=mark,
        lasting=lasting,
        between=between,
        waiting=waiting,
        meaning=meaning,
    )
