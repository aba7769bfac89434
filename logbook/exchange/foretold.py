"""Bands and forecasts in words, the same on every screen and in every answer."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from logbook.exchange.phrases import full_date, place

if TYPE_CHECKING:
    from logbook.reckoning.forecast import Forecast, SealForecast
    from logbook.reckoning.levers import Lever

BEYOND = "beyond 10 years"
NOT_A_PROMISE = "Your own weeks drawn again under constants as they may be: bookkeeping, not a promise."

_CONSTANTS = {
    "Ea": "activation energy of ageing",
    "worn_c": "temperature on the wrist",
    "storage_c": "temperature in storage",
    "n_p": "exponent of pressure cycles",
    "N_p": "pressure cycles in an interval",
    "n_t": "exponent of temperature cycles",
    "N_t": "temperature cycles in an interval",
    "H_salt": "hours of salt in an interval",
    "unrinsed": "what salt left to dry costs",
    "H_pool": "pool hours in an interval",
    "H_soap": "hours of soap in an interval",
    "H_hot_tub": "hot tub hours in an interval",
    "U_dry": "dry uses in an interval",
    "U_wet": "wet uses in an interval",
    "U_under": "uses under water in an interval",
    "home_c": "water temperature where none was said",
    "stated use": "use before the log began",
}
_CHANNELS = {"m_p": "pressure", "m_t": "temperature", "m_s": "salt", "m_c": "chemicals", "m_h": "handling"}


def score_words(score: int, low: int | None, high: int | None) -> str:
    """`71, likely 58–80`, or the score alone where no band is computed."""
    if low is None or high is None:
        return f"{score}"
    return f"{score}, likely {low}–{high}"


def day_or_beyond(day: date | None, on: date) -> str:
    """A day of a forecast; `since` where it has passed."""
    if day is None:
        return BEYOND
    return f"since {full_date(day)}" if day <= on else full_date(day)


def window_words(found: SealForecast, on: date) -> str:
    """When a seal's interval is used up, as half a sentence after its name."""
    if found.p10 is None:
        return "lasts beyond 10 years on nine paths in ten"
    if found.p10 > on and found.p90:
        middle = f"; half of them by {full_date(found.p50)}" if found.p50 else ""
        window = f"between {full_date(found.p10)} and {full_date(found.p90)}"
        return f"is used up {window} on eight paths in ten{middle}"
    verb = "may be used up since" if found.p10 <= on else "is used up from"
    rest = f"half the paths {_by(found.p50, on)}, nine in ten {_by(found.p90, on)}"
    return f"{verb} {full_date(found.p10)} (one path in ten); {rest}"


def _by(day: date | None, on: date) -> str:
    return BEYOND if day is None else f"{'since' if day <= on else 'by'} {full_date(day)}"


def basis_words(forecast: Forecast) -> str:
    """What the forecast rests on."""
    planned = f" and {forecast.planned} planned days of water" if forecast.planned else ""
    if forecast.from_stated_use:
        weeks = f"{forecast.weeks} week{'s' if forecast.weeks != 1 else ''}"
        return f"only {weeks} on record: from the stated use with its wide band{planned}"
    seasons = "" if forecast.weeks >= 52 else "; seasons it has not seen are taken from the rest"
    return f"from its last {forecast.weeks} weeks, by season{planned}{seasons}"


def constant_words(name: str) -> str:
    """A drawn constant in words, with its symbol where it has one."""
    kind, _, of = name.partition(" ")
    if name in _CONSTANTS:
        return f"{_CONSTANTS[name]}" if name == "stated use" else f"{_CONSTANTS[name]} ({name})"
    if kind == "years":
        return f"life of {of}"
    if kind in _CHANNELS:
        return f"{_CHANNELS[kind]} factor of the {seal_words(of)} ({kind})"
    return "its unknown fitting date"


def seal_words(row: str) -> str:
    """A row of the seal factors in words."""
    crowns = {"crown-screwed": "crown, screwed down", "crown-pushed": "crown, pushed in"}
    return crowns.get(row, place(row))


def lever_words(lever: Lever, on: date) -> str:
    """What a constant alone does to the middle date."""
    low, high = (
        "used up already" if day and day <= on else day_or_beyond(day, on)
        for day in (lever.at_low, lever.at_high)
    )
    return f"{constant_words(lever.name)}: {low} at its low, {high} at its high"
