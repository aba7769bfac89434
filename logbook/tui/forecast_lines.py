"""A watch's forecast as plain pieces of text: its window, the picture, every seal, and what moves it."""

from __future__ import annotations

from collections.abc import Sequence

from textual.geometry import Size

from logbook.exchange import foretold
from logbook.exchange.phrases import full_date, place
from logbook.reckoning.forecast import Forecast
from logbook.reckoning.levers import Lever
from logbook.reckoning.values import Position
from logbook.tui import fan
from logbook.tui.ink import Line, fit

LOW_PLOT, HIGH_PLOT, TALL = 5, 10, 32  # rows of the picture, the higher one from so many rows of window
WIDEST_PLOT = 110
MOST_LEVERS = 5


def panel(
    forecast: Forecast | None, position: Position | None, levers: Sequence[Lever], window: Size
) -> list[Line]:
    """The forecast of the seal at `position`, or of the one that comes first, for a window of this size."""
    if forecast is None:
        return [[("no forecast yet: it is being worked out, or no seal is on record", "dim")]]
    found = (forecast.of(position) if position else None) or forecast.first
    words = foretold.window_words(found, forecast.on)
    height = LOW_PLOT if window.height < TALL else HIGH_PLOT
    lines: list[Line] = [
        [(f"forecast, {place(found.position)} seal: ", "title"), (words, "plain")],
        *fan.plot(found.fan, found.cap_on, min(window.width - 4, WIDEST_PLOT), height),
        [
            (f"     score ahead: {fan.MIDDLE} half the paths, {fan.BAND} eight in ten", "dim"),
            (f", {fan.CLASS_ENDS} storage class ends {full_date(found.cap_on)}", "dim"),
        ],
        [
            (
                f"{fit('seal', 10)}{fit('1 in 10 by', 18)}{fit('half by', 18)}{fit('9 in 10 by', 18)}driver",
                "dim",
            )
        ],
    ]
    for seal in forecast.seals:
        days = (foretold.day_or_beyond(day, forecast.on) for day in (seal.p10, seal.p50, seal.p90))
        cells = "".join(fit(day, 18) for day in days)
        lines.append([(fit(place(seal.position), 10), "strong"), (f"{cells}{seal.driver}", "plain")])
    fixed = full_date(forecast.fixed_interval_on)
    lines += [
        [(f"by the fixed interval alone: {fixed}", "plain")],
        [(f"paths: {foretold.basis_words(forecast)}", "plain")],
    ]
    if levers:
        lines.append([(f"what moves the {place(found.position)}’s middle date most, alone:", "dim")])
        lines += [
            [(f"  {foretold.lever_words(lever, forecast.on)}", "plain")] for lever in levers[:MOST_LEVERS]
        ]
    return [*lines, [(foretold.NOT_A_PROMISE, "mild")]]


def in_one_line(forecast: Forecast) -> Line:
    """When the seal that comes first is used up."""
    found = forecast.first
    words = foretold.window_words(found, forecast.on)
    return [("forecast", "dim"), (f": its {place(found.position)} seal {words}", "plain")]
