"""Bands and forecasts in words, the same on every screen and in every answer."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.model.predict.forecast import HORIZON_YEARS
from logbook.model.predict.weeks import LEAST_WEEKS, WEEKS_A_YEAR
from logbook.model.text import likely
from logbook.text.phrases import full_date, place

if TYPE_CHECKING:
    from logbook.model.predict.forecast import Forecast, SealForecast
    from logbook.model.predict.levers import Lever, Levers

BEYOND = "beyond 10 years"
HORIZON = timedelta(weeks=HORIZON_YEARS * WEEKS_A_YEAR)
MOST_LEVERS = 5  # shown
NOT_A_PROMISE = "Ways ahead under constants as they may be: bookkeeping, not a promise."

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
    "p_mark_unnumbered_bar": "pressure of a mark without a number",
    "home_c": "water temperature where none was said",
    "stated use": "use before the log began",
}
_CHANNELS = {"m_p": "pressure", "m_t": "temperature", "m_s": "salt", "m_c": "chemicals", "m_h": "handling"}


def score_words(score: int, low: int | None, high: int | None) -> str:
    """`71, likely 58–80`, or the score alone where no band is computed."""
    return f"{score}{likely(low, high)}"


def day_or_beyond(day: date | None, on: date | None = None) -> str:
    """A day of a forecast, or `used up already` where it is not after `on`."""
    if day and on and day <= on:
        return "used up already"
    return full_date(day) if day else BEYOND


def window_words(found: SealForecast, on: date) -> str:
    """When a seal's interval, or its storage age if sooner, is used up: half a sentence after its name."""
    return f"{_days_words(found, on)}{_class_words(found, on)}"


def _class_words(found: SealForecast, on: date) -> str:
    if found.cap_on >= (found.p90 or on + HORIZON):
        return ""
    ends = "ended" if found.cap_on <= on else "ends"
    return f"; its material’s storage age {ends} {full_date(found.cap_on)}"


def _days_words(found: SealForecast, on: date) -> str:
    if found.p10 is None:
        return "lasts beyond 10 years in nine of ten ways ahead"
    if found.p10 > on and found.p50 and found.p90:
        window = f"between {full_date(found.p10)} and {full_date(found.p90)}"
        return f"is used up {window} in eight of ten ways ahead, half by {full_date(found.p50)}"
    tail = f", nine in ten {_by(found.p90, on)}" if found.p50 else ""  # else it is beyond the horizon
    if found.p50 and found.p50 <= on:
        return f"is likely used up already: half of the ways ahead {_by(found.p50, on)}{tail}"
    days = f"one way ahead in ten {_by(found.p10, on)}, half {_by(found.p50, on)}{tail}"
    return f"may be used up already: {days}" if found.p10 <= on else f"is used up: {days}"


def _by(day: date | None, on: date) -> str:
    return BEYOND if day is None else f"{'since' if day <= on else 'by'} {full_date(day)}"


def basis_words(forecast: Forecast) -> str:
    """What the forecast rests on."""
    days = f"{forecast.planned} planned day{'s' if forecast.planned != 1 else ''} of water"
    planned = f", and {days}" if forecast.planned else ""
    if forecast.from_stated_use:
        weeks = f"{forecast.weeks} week{'s' if forecast.weeks != 1 else ''}"
        water = "no water" if forecast.weeks >= LEAST_WEEKS else "only"
        known = f"{water} in {weeks}" if water == "no water" else f"{water} {weeks}"
        return f"{known} on record: from its stated use, {forecast.use}, with its wide band{planned}"
    seasons = "" if forecast.weeks >= 52 else "; seasons it has not seen are taken from the rest"
    return f"from its last {forecast.weeks} weeks, by season{planned}{seasons}"


def constant_words(name: str) -> str:
    """A drawn constant in words, with its symbol where it has one."""
    kind, _, of = name.partition(" ")
    if name in _CONSTANTS:
        return f"{_CONSTANTS[name]}" if name == "stated use" else f"{_CONSTANTS[name]} ({name})"
    if kind == "years":
        return f"life of {'a material that is not known' if of == 'unknown' else of}"
    if kind in _CHANNELS:
        return f"{_CHANNELS[kind]} factor of the {seal_words(of)} ({kind})"
    return "its unknown fitting date"


def seal_words(row: str) -> str:
    """A row of the seal factors in words."""
    crowns = {"crown-screwed": "crown, screwed down", "crown-pushed": "crown, pushed in"}
    return crowns.get(row, place(row))


def levers_head(found: SealForecast, levers: Levers, forecast: Forecast) -> str:
    """The heading above the constants that move a seal's date most."""
    seal = f"{place(found.position)} seal"
    if levers.base is not None and levers.base <= forecast.on:
        return f"with every constant at its value the {seal} is used up already; each alone:"
    plans = " and nothing planned" if forecast.planned else ""
    base = f"{day_or_beyond(levers.base)} with every constant at its value{plans}"
    return f"what moves the {seal}’s date most: {base}, and each alone:"


def lever_words(lever: Lever, on: date) -> str:
    """What one constant alone does to the middle date."""
    low, high = (day_or_beyond(day, on) for day in (lever.at_low, lever.at_high))
    return f"{constant_words(lever.name)}: {low} at its low, {high} at its high"
