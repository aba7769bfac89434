"""A watch's forecast as plain pieces of text: its window, the picture, every seal, and what moves it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.model.predict.forecast import Forecast, SealForecast
from logbook.model.predict.levers import Levers
from logbook.model.values import Position
from logbook.text import foretold
from logbook.text.phrases import full_date, place
from logbook.tui.pictures import fan
from logbook.tui.shell.ink import Line, fit, wrapped

LEAST_PLOT, MOST_PLOT = 3, 16  # rows of the picture
WIDEST_PLOT = 150
WIDEST_NAME = 60  # cells of what moves a day
_DAY = 13  # cells of a day in a table


def panel(
    forecast: Forecast | None, position: Position | None, levers: Levers | None, width: int, height: int,
    why_none: str | None = None,
) -> list[Line]:  # fmt: skip
    """The forecast of the seal at `position`, or of the one that comes first.

    The picture takes what the words leave of `height` rows, and is never too low to be read. Where nothing is
    known of the seals, `why_none` says so, and nothing is drawn.
    """
    if why_none is not None:
        return [[(row, "plain")] for row in wrapped(f"forecast not known {why_none}", width)]
    if forecast is None:
        why = "it is being worked out, or the watch is retired, or no seal is on record"
        return [[(row, "dim")] for row in wrapped(f"no forecast: {why}", width)]
    found = (forecast.of(position) if position else None) or forecast.first
    above = _window_lines(found, forecast.on, width)
    below = [*_table(forecast, found.position), *_lever_lines(levers, forecast, width)]
    last: list[Line] = [
        *([(row, "plain")] for row in wrapped(f"ways ahead: {foretold.basis_words(forecast)}", width)),
        *([(row, "mild")] for row in wrapped(foretold.NOT_A_PROMISE, width)),
    ]
    words = len(above) + len(below) + len(last) + 1 + len(_legend((), found, forecast, width))
    rows = max(LEAST_PLOT, min(MOST_PLOT, height - words))
    picture = fan.plot(
        found.fan, found.cap_on, min(width, WIDEST_PLOT), rows,
        window=(found.p10, found.p90), interval_on=forecast.fixed_interval_on,
    )  # fmt: skip
    return [*above, *picture, *_legend(picture, found, forecast, width), *below, *last]


def _window_lines(found: SealForecast, on: date, width: int) -> list[Line]:
    head = f"forecast, {place(found.position)} seal: "
    first, *more = wrapped(head + foretold.window_words(found, on), width)
    return [[(head, "title"), (first[len(head) :], "strong")], *([(row, "strong")] for row in more)]


def _table(forecast: Forecast, here: Position) -> list[Line]:
    """Every seal's days, the one that is drawn lit."""
    heads = "".join(fit(head, _DAY + 3) for head in ("1 in 10 by", "half by", "9 in 10 by"))
    lines: list[Line] = [[(f"{fit('seal', 11)}{heads}mostly from", "dim")]]
    for seal in forecast.seals:
        days = (foretold.day_or_beyond(day) for day in (seal.p10, seal.p50, seal.p90))
        cells = "".join(fit(day, _DAY + 3) for day in days)
        lit = seal.position == here
        name = fit(place(seal.position), 11)
        lines.append([(name, "strong"), (f"{cells}{seal.mostly_from}", "strong" if lit else "plain")])
    return lines


def _lever_lines(levers: Levers | None, forecast: Forecast, width: int) -> list[Line]:
    """What each constant alone does to the middle day, those that move it most."""
    if not levers or not levers.each:
        return []
    each = levers.each[: foretold.MOST_LEVERS]
    days = [
        [foretold.day_or_beyond(day, forecast.on) for day in (lever.at_low, lever.at_high)] for lever in each
    ]
    cells = 2 + max(len(day) for pair in (*days, ["at its high"]) for day in pair)
    plans = " without plans" if forecast.planned else ""
    base = f"each alone, from {foretold.day_or_beyond(levers.base, forecast.on)}{plans}"
    room = max(20, min(WIDEST_NAME, width - 2 - 2 * cells))
    heads = "".join(fit(head, cells, right=True) for head in ("at its low", "at its high"))
    lines: list[Line] = [[(f"{fit(base, room + 2)}{heads}", "dim")]]
    for lever, pair in zip(each, days, strict=True):
        *above, name = wrapped(foretold.constant_words(lever.name), room)
        lines += [[(f"  {row}", "plain")] for row in above]
        shown = "".join(fit(day, cells, right=True) for day in pair)
        lines.append([(f"  {fit(name, room)}{shown}", "plain")])
    return lines


def _legend(picture: Sequence[Line], found: SealForecast, forecast: Forecast, width: int) -> list[Line]:
    """What the picture's characters stand for, with the two days that no path moves, in view or not."""
    drawn = {char for line in picture for text, _ in line[1:] for char in text}
    ends = "ended" if found.cap_on <= forecast.on else "ends"
    window = f", {fan.WINDOW} from 1 in 10 to 9 in 10" if fan.WINDOW in drawn else ""
    marked = (
        (fan.INTERVAL, f"fixed interval alone {full_date(forecast.fixed_interval_on)}"),
        (fan.CLASS_ENDS, f"storage age {ends} {full_date(found.cap_on)}"),
    )
    days = ", ".join(f"{glyph} {words}" if glyph in drawn else words for glyph, words in marked)
    score = f"score from today on: {fan.MIDDLE} half the ways ahead, {fan.BAND} eight in ten{window}"
    return [[(row, "dim")] for row in wrapped(f"{score}; {days}", width)]


def in_one_line(forecast: Forecast) -> Line:
    """When the seal that comes first is used up."""
    found = forecast.first
    words = foretold.window_words(found, forecast.on)
    return [("forecast", "dim"), (f": its {place(found.position)} seal {words}", "plain")]
