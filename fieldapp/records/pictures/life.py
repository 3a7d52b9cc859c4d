"""Life used against time, with the deadlines: how the race was run.

A joint's clock is a curve through what the fold worked out; clocks that run per line
(a bucket each) are bars under one another on one axis of minutes.
"""

from collections.abc import Callable, Iterator, Sequence

from fieldapp.records.clocks import ClockPart
from fieldapp.records.figures import figure, time_of_day
from fieldapp.records.pictures.drawing import (
    Drawing,
    Point,
    Shape,
    box,
    dot,
    fitted,
    outline,
    stroke,
    text_width_mm,
    word,
)

At = Callable[[float, float], Point]
WIDTH_MM, HEIGHT_MM = 88.0, 32.0
LEFT_MM, RIGHT_MM, TOP_MM, FOOT_MM = 10.0, 86.0, 2.0, 28.0
WHOLE_PPM = 1_000_000
MOST_STEPS = 7
NAME_MM = 4.0
"""So far above and below a deadline's point its name is in the way of others."""
MOST_QUARTERS = 10
"""So many quarters of the life are lined at most; above, several go together."""
MINUTE_MS = 60_000
ROWS, ROW_MM = 20, 4.4
BARS_MM = (34.0, 72.0)
UNITS = (
    ("days", 86_400_000),
    ("hours", 3_600_000),
    ("minutes", MINUTE_MS),
    ("seconds", 0),
)
STEPS_MIN = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1_440, 2_880, 10_080)


def life_curve(clock: ClockPart, zone_min: int) -> Drawing:
    """Draw the share of one clock's life used against local time."""
    marks = [each.at_ms for each in clock.deadlines]
    last = max([clock.end_ms, *marks]) + 2 * MINUTE_MS
    width = max(last - clock.start_ms, MINUTE_MS)
    top = max([clock.used_ppm, *(d.share_ppm for d in clock.deadlines)]) * 11 // 10

    def at(moment_ms: float, ppm: float) -> Point:
        x = LEFT_MM + (moment_ms - clock.start_ms) / width * (RIGHT_MM - LEFT_MM)
        return x, FOOT_MM - ppm / max(top, 1) * (FOOT_MM - TOP_MM)

    shapes = [*_axes(clock, at, last, zone_min, top), *_curve(clock, at)]
    shapes += _deadlines(clock, at, zone_min)
    told = "; ".join(f"{d.title} {d.when}: {d.kept}" for d in clock.deadlines)
    return Drawing(
        title=f"{clock.title}: {clock.used} used in {clock.run}; {told}",
        caption=f"{clock.title}: life used [%] against local time",
        width_mm=WIDTH_MM,
        height_mm=HEIGHT_MM,
        shapes=tuple(shapes),
    )


def life_bars(clocks: Sequence[ClockPart]) -> Iterator[Drawing]:
    """Draw clocks that run per line, in minutes from each one's start."""
    for start in range(0, len(clocks), ROWS):
        yield _bars(clocks[start : start + ROWS])


def unit_of(clocks: Sequence[ClockPart]) -> tuple[str, int]:
    """Give the unit, and its ms, that clocks drawn together are read in.

    The largest of which there are two or more, and of which the axis has whole ones.
    """
    longest = _longest(clocks)
    step = _step_ms(longest, MOST_STEPS)
    fits = [each for each in UNITS if longest >= 2 * each[1]]
    return next(each for each in fits if not step % max(each[1], 1))


def _longest(clocks: Sequence[ClockPart]) -> int:
    return max(
        max([c.end_ms, *(d.at_ms for d in c.deadlines)]) - c.start_ms for c in clocks
    )


def _axes(
    clock: ClockPart, at: At, last: int, zone_min: int, top: int
) -> Iterator[Shape]:
    quarters = max(1, -(-top // (MOST_QUARTERS * WHOLE_PPM // 4)))
    for ppm in range(0, top + 1, quarters * WHOLE_PPM // 4):
        left, right = at(clock.start_ms, ppm), at(last, ppm)
        yield stroke(left, right, "grid")
        yield word((LEFT_MM - 1, left[1] + 0.8), f"{ppm // 10_000}", "quiet", "end",
                   0.85)  # fmt: skip
    step = _step_ms(last - clock.start_ms, 7)
    first = -(-(clock.start_ms + zone_min * MINUTE_MS) // step) * step
    for local in range(first, last + zone_min * MINUTE_MS + 1, step):
        moment = local - zone_min * MINUTE_MS
        x = at(moment, 0)[0]
        yield stroke((x, FOOT_MM), (x, FOOT_MM + 1), "thin")
        if x > RIGHT_MM - 2:
            break
        text = time_of_day(moment, zone_min)
        yield word((x, FOOT_MM + 3.4), text, "quiet", "middle", 0.85)
    yield stroke((LEFT_MM, FOOT_MM), (RIGHT_MM, FOOT_MM), "thin")


def _curve(clock: ClockPart, at: At) -> Iterator[Shape]:
    end = (clock.end_ms, clock.used_ppm)
    known = [(d.at_ms, d.share_ppm) for d in clock.deadlines if not d.capped]
    before = sorted(point for point in known if point[0] < end[0])
    after = sorted(point for point in known if point[0] >= end[0])
    ran = [at(clock.start_ms, 0), *(at(*point) for point in before), at(*end)]
    pen = "over" if clock.mark.tone == "red" else "used"
    yield outline([[*ran, at(clock.end_ms, 0)]], pen)
    yield outline([ran], "curve", closed=False)
    if after:
        yield outline([[at(*end), *(at(*p) for p in after)]], "ahead", closed=False)
    yield dot(at(*end), 0.9, "dot")
    yield _share(clock, at)


def _share(clock: ClockPart, at: At) -> Shape:
    """Write the share used beside the curve's end, clear of the deadlines' lines."""
    x, y = at(clock.end_ms, clock.used_ppm)
    if x > RIGHT_MM - 30:
        ahead = [at(d.at_ms, d.share_ppm) for d in clock.deadlines]
        if not any(x < right and abs(top - y) < NAME_MM for right, top in ahead):
            return word((x - 1.5, y - 1.2), clock.used, "strong", "end")
        # The next deadline's name stands there: below the curve, clear of the lines.
        right = x - 1.5
        for line, _ in sorted(ahead, reverse=True):
            if right - text_width_mm(clock.used) - 1 < line < right + 1:
                right = line - 1
        return word((right, (y + FOOT_MM) / 2), clock.used, "strong", "end")
    left = x + 1.5
    for line in sorted(at(each.at_ms, 0)[0] for each in clock.deadlines):
        if x < line < left + text_width_mm(clock.used):
            left = line + 1
    return word((left, y + 2.6), clock.used, "strong")


def _deadlines(clock: ClockPart, at: At, zone_min: int) -> Iterator[Shape]:
    for deadline in clock.deadlines:
        x, y = at(deadline.at_ms, deadline.share_ppm)
        yield stroke((x, FOOT_MM), (x, y), "limit")
        yield dot((x, y), 0.6, "ring")
        text = f"{time_of_day(deadline.at_ms, zone_min)} {deadline.title.lower()}"
        yield word((x - 0.9, y - 0.7), fitted(text, x - LEFT_MM, 0.85),
                   "words", "end", 0.85)  # fmt: skip


def _bars(clocks: Sequence[ClockPart]) -> Drawing:
    longest = _longest(clocks)
    unit, unit_ms = unit_of(clocks)
    foot = 2 + ROW_MM * len(clocks)

    def at(length_ms: float) -> float:
        return BARS_MM[0] + length_ms / max(longest * 1.05, 1) * (
            BARS_MM[1] - BARS_MM[0]
        )

    shapes: list[Shape] = []
    step = _step_ms(longest, MOST_STEPS)
    for length in range(0, longest + 1, step):
        shapes.append(stroke((at(length), 2), (at(length), foot), "grid"))
        text = figure(length // max(unit_ms, 1_000))
        shapes.append(word((at(length), foot + 3), text, "quiet", "middle", 0.85))
    for number, clock in enumerate(clocks):
        shapes += _bar(clock, 2 + ROW_MM * number, at)
    told = "; ".join(f"{c.line or c.title} {c.run}, {c.used} used" for c in clocks)
    titles = dict.fromkeys(clock.title for clock in clocks)
    title = next(iter(titles)) if len(titles) == 1 else "Clocks"
    return Drawing(
        title=f"{title}: {told}",
        caption=f"{title}: {unit}, deadline dashed",
        width_mm=WIDTH_MM,
        height_mm=foot + 5,
        shapes=tuple(shapes),
    )


def _bar(clock: ClockPart, top: float, at: Callable[[float], float]) -> Iterator[Shape]:
    over = clock.mark.tone == "red"
    run = clock.end_ms - clock.start_ms
    left, right = BARS_MM
    yield word((0, top + 3), fitted(clock.line or clock.title, left - 1), "words")
    yield box(
        (left, top + 0.8), at(run) - left, ROW_MM - 1.6, "over" if over else "used"
    )
    for deadline in clock.deadlines:
        x = at(deadline.at_ms - clock.start_ms)
        yield stroke((x, top + 0.3), (x, top + ROW_MM - 0.3), "limit")
    ending = f"{clock.run}{' !' if over else ''}"
    yield word((right + 1.5, top + 3), ending, "alarm" if over else "words", scale=0.9)


def _step_ms(length_ms: int, most: int) -> int:
    # A clock of which the time is not known counts as over by centuries: a handful of
    # marks all the same.
    wanted = -(-length_ms // (MINUTE_MS * most))
    longest = -(-wanted // STEPS_MIN[-1]) * STEPS_MIN[-1]
    return MINUTE_MS * next((s for s in STEPS_MIN if s >= wanted), longest)
