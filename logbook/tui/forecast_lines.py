"""A watch's forecast as plain pieces of text: its window, the picture, every seal, and what moves it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from textual.geometry import Size

from logbook.exchange import foretold
from logbook.exchange.phrases import full_date, place
from logbook.reckoning.forecast import Forecast, SealForecast
from logbook.reckoning.levers import Levers
from logbook.reckoning.values import Position
from logbook.tui import fan
from logbook.tui.ink import Line, fit

LOW_PLOT, HIGH_PLOT, TALL = 5, 10, 50  # rows of the picture, the higher one from so many rows of window
WIDEST_PLOT = 110


def panel(
    forecast: Forecast | None, position: Position | None, levers: Levers | None, window: Size
) -> list[Line]:
    """The forecast of the seal at `position`, or of the one that comes first, for a window of this size."""
    if forecast is None:
        why = "it is being worked out, or the watch is retired, or no seal is on record"
        return [[(f"no forecast: {why}", "dim")]]
    found = (forecast.of(position) if position else None) or forecast.first
    words = foretold.window_words(found, forecast.on)
    height = LOW_PLOT if window.height < TALL else HIGH_PLOT
    picture = fan.plot(found.fan, found.cap_on, min(window.width - 4, WIDEST_PLOT), height)
    lines: list[Line] = [
        [(f"forecast, {place(found.position)} seal: ", "title"), (words, "plain")],
        *picture,
        [(_legend(picture, found, forecast.on), "dim")],
        [
            (
                f"{fit('seal', 10)}{fit('1 in 10 by', 18)}{fit('half by', 18)}{fit('9 in 10 by', 18)}driver",
                "dim",
            )
        ],
    ]
    for seal in forecast.seals:
        days = (foretold.day_or_beyond(day) for day in (seal.p10, seal.p50, seal.p90))
        cells = "".join(fit(day, 18) for day in days)
        lines.append([(fit(place(seal.position), 10), "strong"), (f"{cells}{seal.driver}", "plain")])
    fixed = full_date(forecast.fixed_interval_on)
    lines += [
        [(f"by the fixed interval alone: {fixed}", "plain")],
        [(f"paths: {foretold.basis_words(forecast)}", "plain")],
    ]
    if levers and levers.each:
        lines.append([(foretold.levers_head(found, levers, forecast), "dim")])
        lines += [
            [(f"  {foretold.lever_words(lever, forecast.on)}", "plain")]
            for lever in levers.each[: foretold.MOST_LEVERS]
        ]
    return [*lines, [(foretold.NOT_A_PROMISE, "mild")]]


def _legend(picture: Sequence[Line], found: SealForecast, on: date) -> str:
    """What the picture's characters stand for, and when the storage class ends, in view or not."""
    marked = any(fan.CLASS_ENDS in text for line in picture for text, _ in line)
    mark = f"{fan.CLASS_ENDS} " if marked else ""
    ends = "ended" if found.cap_on <= on else "ends"
    score = f"score ahead: {fan.MIDDLE} half the paths, {fan.BAND} eight in ten"
    return f"{score}, {mark}class {ends} {full_date(found.cap_on)}"


def in_one_line(forecast: Forecast) -> Line:
    """When the seal that comes first is used up."""
    found = forecast.first
    words = foretold.window_words(found, forecast.on)
    return [("forecast", "dim"), (f": its {place(found.position)} seal {words}", "plain")]
