"""A forecast as a picture of characters: the score's band ahead, its middle line, and when it runs out."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, timedelta

from logbook.model.predict.forecast import FanPoint
from logbook.tui.shell.ink import Line, Piece

BAND, MIDDLE, CLASS_ENDS, INTERVAL, WINDOW = ":", "━", "┆", "│", "═"
TODAY = "today"
_LABEL = 4  # cells for the score at the left

Window = tuple[date | None, date | None]  # from one way ahead in ten to nine in ten


def plot(
    fan: Sequence[FanPoint], cap_on: date, width: int, height: int,
    *, window: Window = (None, None), interval_on: date | None = None,
) -> list[Line]:  # fmt: skip
    """Rows from score 100 down to 0 and a line of years, `width` cells wide; ends where all are used up.

    The band holds eight ways ahead in ten; `┆` is the day on which its material's storage age ends, `│` the
    one that a fixed interval gives, if they lie ahead and before the end. The line of years begins today, and
    is doubled from the first day of the window to its last, as far as it is known and ahead.
    """
    cells = max(10, width - _LABEL - 1)
    last = _last_day(fan, cap_on)
    days = [fan[0].on + (last - fan[0].on) * n / (cells - 1) for n in range(cells)]
    columns = [_at(fan, day) for day in days]
    upright = {}  # of cells
    for glyph, on in ((CLASS_ENDS, cap_on), (INTERVAL, interval_on)):
        at = _cell_of(on, days)
        if at is not None:
            upright[at] = glyph
    lines: list[Line] = []
    for row in range(height):
        top, bottom = 100 * (height - row) / height, 100 * (height - row - 1) / height
        label = {0: "100", height // 2: f"{top:.0f}", height - 1: "0"}.get(row, "")
        cells_of_row = [_cell(score, top, bottom, upright.get(n, "")) for n, score in enumerate(columns)]
        lines.append([(f"{label:>{_LABEL}}│", "dim"), *_joined(cells_of_row)])
    return [*lines, [(" " * _LABEL + "└", "dim"), *_joined(_years(days, window))]]


def _cell_of(on: date | None, days: Sequence[date]) -> int | None:
    """The cell of a day ahead; None for one that is not, or lies beyond the picture."""
    if on is None or on <= days[0]:
        return None
    return next((n for n, day in enumerate(days) if day >= on), None)


def _last_day(fan: Sequence[FanPoint], cap_on: date) -> date:
    """Where the picture ends: when all of the band has reached 0, or soon after the storage age ends."""
    used = next((point.on for point in fan if point.low >= 1), fan[-1].on)
    least = fan[0].on + timedelta(days=180)
    return max(least, min(used, max(cap_on, fan[0].on) + timedelta(days=180), fan[-1].on))


def _at(fan: Sequence[FanPoint], day: date) -> tuple[float, float, float]:
    """Low end, middle and high end of the score on a day, along straight lines between the points."""
    at = min(max(bisect_right([point.on for point in fan], day) - 1, 0), len(fan) - 2)
    before, after = fan[at], fan[at + 1]
    part = (day - before.on) / (after.on - before.on)

    def between(first: float, second: float) -> float:
        return max(0.0, 100 * (1 - (first + part * (second - first))))

    return (
        between(before.high, after.high),
        between(before.middle, after.middle),
        between(before.low, after.low),
    )


def _cell(score: tuple[float, float, float], top: float, bottom: float, upright: str) -> Piece:
    low, middle, high = score
    if middle > 0 and (bottom <= middle < top or (middle >= 100 and top == 100)):
        return MIDDLE, "strong"
    if low < top and high > bottom and high > 0:
        return BAND, "bar"
    return (upright, "mild") if upright else (" ", "plain")


def _joined(cells: Sequence[Piece]) -> list[Piece]:
    """Neighbours of one role as one piece."""
    pieces: list[Piece] = []
    for text, role in cells:
        if pieces and pieces[-1][1] == role:
            pieces[-1] = (pieces[-1][0] + text, role)
        else:
            pieces.append((text, role))
    return pieces


def _years(days: Sequence[date], window: Window) -> list[Piece]:
    """A line that begins today, doubled in the window, with each year where it begins while there is room."""
    first, last = window
    begin = 0 if first is not None and first <= days[0] else _cell_of(first, days)
    end = _cell_of(last, days)
    if begin is None or (last is not None and last <= days[0]):
        begin = end = len(days)
    last_cell = len(days) - 1 if end is None else end
    doubled = range(begin, last_cell + 1)
    line: list[Piece] = [(WINDOW, "mild") if n in doubled else ("─", "dim") for n in range(len(days))]
    begun = [n for n in range(1, len(days)) if days[n].year != days[n - 1].year and n + 4 <= len(days)]
    if len(TODAY) < min([*begun, len(days)]):
        line[: len(TODAY)] = [(char, "dim") for char in TODAY]
    free = 0
    for n in begun:
        if n >= free:
            line[n : n + 4] = [(char, "dim") for char in str(days[n].year)]
            free = n + 6
    return line
