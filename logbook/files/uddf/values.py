"""Numbers, temperatures and times as UDDF files have them: SI units, XML decimals, ISO 8601.

A reading is a value, or a part of a sentence about what is wrong, or both. Waypoints repeat the same few
texts over and over, so a `Known` table reads each text once.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, time, timedelta, timezone
from typing import TypeAlias

from logbook.model.ranges import FIRST_DAY, LAST_DAY, RANGES, number
from logbook.model.text import printable
from logbook.model.values import Water

ZERO_C_IN_K = 273.15
COLDEST_K = 200.0  # below this a "kelvin" is a Celsius: no liquid water is so cold
DEEPEST_M = RANGES["depth_m"].high
LONGEST_S = RANGES["minutes"].high * 60
MOST_KNOWN, LONGEST_KNOWN = 20_000, 200

Reading: TypeAlias = tuple[float | None, str]  # the value if there is one, and what is doubtful, or nothing
TOO_HOT = f"its temperature is not one of water, {RANGES['water_c'].low} to {RANGES['water_c'].high} °C"
CELSIUS = "°C"  # what is doubtful about a temperature that was taken as °C


class Known(dict[str, Reading]):
    """Text -> reading, each text read once; emptied when it grows too large."""

    def __init__(self, read: Callable[[str], Reading]) -> None:
        super().__init__()
        self._read = read

    def __missing__(self, text: str) -> Reading:
        reading = self._read(text)
        if len(text) <= LONGEST_KNOWN:
            if len(self) >= MOST_KNOWN:
                self.clear()
            self[text] = reading
        return reading


_DECIMAL = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)
_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)


def read_number(text: str, what: str) -> Reading:
    """A finite number; `what` starts what is wrong where it is none."""
    tidy = text.strip()
    if not tidy:
        return None, f"{what} is missing"
    if len(tidy) <= 60 and _DECIMAL.fullmatch(tidy):
        value = float(tidy)
        if abs(value) < 1e300:
            return value, ""
    if _COMMA.fullmatch(tidy):
        return None, f"{what} has a decimal comma where UDDF has a point"
    return None, f"{what} is not a number"


def read_depth(text: str) -> Reading:
    """Metres below the surface, to the millimetre."""
    return _within(read_number(text, "its depth"), "its depth", "m", DEEPEST_M)


def read_seconds(text: str) -> Reading:
    """Seconds since the start, to the millisecond."""
    return _within(read_number(text, "its time"), "its time", "s", LONGEST_S)


def _within(reading: Reading, what: str, unit: str, high: float) -> Reading:
    value, doubt = reading
    if value is None:
        return None, doubt
    if value < 0:
        return None, f"{what} is below zero"
    if value > high:
        return None, f"{what} is more than {number(high)} {unit}"
    return round(value, 3) + 0.0, ""


def read_celsius(text: str) -> Reading:
    """Water temperature in °C from kelvin, to the millikelvin; below 200 it is taken as °C, with that doubt.

    No text is no temperature, without doubt.
    """
    if not text.strip():
        return None, ""
    value, doubt = read_number(text, "its temperature")
    if value is None:
        return None, doubt
    celsius = value if value < COLDEST_K else value - ZERO_C_IN_K
    rule = RANGES["water_c"]
    if not rule.low <= celsius <= rule.high:
        return None, TOO_HOT
    return round(celsius, 3) + 0.0, CELSIUS if value < COLDEST_K else ""


_WHEN = re.compile(
    r"(?P<year>\d{4})(?:(?P<dash>-?)(?P<month>\d{2})(?:(?P=dash)(?P<day>\d{2})"
    r"(?:[T ](?P<hour>\d{2})(?::?(?P<minute>\d{2})(?::?(?P<second>\d{2})(?:[.,](?P<part>\d{1,12}))?)?)?"
    r"(?P<zone>Z|[+-]\d{2}(?::?\d{2})?)?)?)?)?",
    re.ASCII | re.IGNORECASE,
)
_FURTHEST_H = 14  # no civil clock is further from UTC


def read_when(text: str) -> tuple[datetime, bool] | str:
    """Date and time, aware where an offset is written, and whether a time is; else what is wrong.

    All forms of ISO 8601 that UDDF shows. 24:00 is midnight at the end of the day; a leap second is the
    second before it. A month or a year alone is too little to log a dive.
    """
    tidy = text.strip()
    shown = printable(tidy, 40)
    found = _WHEN.fullmatch(tidy)
    if found is None:
        return f"its date, '{shown}', is not of the form 2026-05-17T10:30"
    if found["day"] is None:
        return f"its date, '{shown}', has no day"
    try:
        on = date(int(found["year"]), int(found["month"]), int(found["day"]))
    except ValueError:
        return f"its date, '{shown}', is not in the calendar"
    if not FIRST_DAY < on < LAST_DAY:
        return f"its date, '{shown}', is not between {FIRST_DAY} and {LAST_DAY}"
    hour, minute, second = (int(found[part] or 0) for part in ("hour", "minute", "second"))
    if hour == 24 and not (minute or second or int(found["part"] or 0)):
        on, hour = on + timedelta(days=1), 0
    if second == 60:
        second = 59
    if hour > 23 or minute > 59 or second > 59:
        return f"its time of day, '{shown}', is not on the clock"
    zone = _zone(found["zone"])
    if isinstance(zone, str):
        return f"its offset from UTC, '{shown}', is more than {_FURTHEST_H} hours"
    micros = int((found["part"] or "0").ljust(6, "0")[:6])
    return datetime.combine(on, time(hour, minute, second, micros, zone)), found["hour"] is not None


def _zone(text: str | None) -> timezone | str | None:
    if text is None:
        return None
    if text in ("Z", "z"):
        return UTC
    digits = text[1:].replace(":", "").ljust(4, "0")
    offset = timedelta(hours=int(digits[:2]), minutes=int(digits[2:]))
    if offset > timedelta(hours=_FURTHEST_H) or int(digits[2:]) > 59:
        return text
    return timezone(-offset if text[0] == "-" else offset)


def when_of_parts(parts: Mapping[str, str]) -> str:
    """The date and time of UDDF before version 3, given in elements of their own, as one ISO 8601 text."""
    day = parts.get("date", "")
    if not day and any(parts.get(part) for part in ("year", "month", "day")):
        day = "-".join(parts.get(part, "").strip().zfill(width) for part, width in _DAY_PARTS)
    clock = parts.get("time", "")
    if not clock and parts.get("hour"):
        clock = ":".join(parts.get(part, "").strip().zfill(2) for part in ("hour", "minute", "second"))
    return f"{day.strip()}T{clock.strip().removeprefix('T')}" if day and clock else day.strip()


_DAY_PARTS = (("year", 4), ("month", 2), ("day", 2))

# kg/m³ that only one kind of water has. EN 13319 makes depth gauges count with 1019.7 whatever the water is,
# so numbers around 1020 say nothing, and those below it may be brackish.
_FRESH, _SALT = (990.0, 1003.0), (1021.5, 1040.0)
_ENVIRONMENTS: Mapping[str, Water] = {
    "ocean-sea": "sea",
    "lake-quarry": "fresh",
    "river-spring": "fresh",
    "pool": "pool",
}


def read_water(environment: str, density: str) -> Water | None:
    """The water of a site by its density in kg/m³ where that decides, else by its environment."""
    word = _ENVIRONMENTS.get(environment.strip().lower())
    value, _ = read_number(density, "its density")
    if value is not None:
        if _SALT[0] <= value <= _SALT[1]:
            return "sea"
        if _FRESH[0] <= value <= _FRESH[1]:
            return word if word == "pool" else "fresh"
    return word
