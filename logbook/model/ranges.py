"""The ranges that every number and date must lie in, as data, each with the reason that people read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import TypeVar

from logbook.errors import BadInput
from logbook.model.text import did_you_mean, listed, printable

Word = TypeVar("Word", bound=str)


@dataclass(frozen=True, slots=True)
class Range:
    """What a quantity may be: from `low` to `high` in `unit`; `above` means that `low` itself is left out."""

    what: str
    low: float
    high: float
    unit: str
    reason: str
    above: bool = False
    asks: str = ""  # the unit that was probably meant when the number is too high: feet, kelvin or Fahrenheit


_COUNT_REASON = "more is a slip of the finger"
RANGES: Mapping[str, Range] = MappingProxyType(
    {
        "depth_m": Range("depth", 0, 400, "m", "no diver has been deeper", asks="feet"),
        "jump_m": Range("jump", 0, 30, "m", "nobody jumps from higher for pleasure", asks="feet"),
        "minutes": Range("duration", 0, 2_880, "min", "two days; log longer stays day by day", above=True),
        "water_c": Range(
            "water temperature", -3, 60, "°C", "colder water freezes, hotter scalds", asks="heat"
        ),
        "air_c": Range("air temperature", -20, 120, "°C", "no sauna is hotter", asks="kelvin"),
        "from_c": Range("case temperature before", -20, 70, "°C", "a wrist or a car in the sun", asks="heat"),
        "crystal_c": Range(
            "crystal temperature", -45, 60, "°C", "where the fog arithmetic holds", asks="heat"
        ),
        "case_air_c": Range(
            "case air temperature", -45, 60, "°C", "where the fog arithmetic holds", asks="heat"
        ),
        "salinity": Range("practical salinity", 0, 42, "", "the scale PSS-78 ends at 42"),
        "brine": Range("salinity", 0, 360, "", "no water holds more salt"),
        "density_kg_m3": Range("density of a brine", 1_000, 1_400, "kg/m³", "no brine is lighter or denser"),
        "dips": Range("number of dips", 1, 500, "", _COUNT_REASON),
        "uses": Range("number of uses", 0, 100, "", _COUNT_REASON),
        "per_day": Range("count per day", 0, 50, "", _COUNT_REASON, above=True),
        "per_week": Range("count per week", 0, 1_000, "", _COUNT_REASON),
        "hours": Range("worn time", 0, 24, "h a day", "a day has no more"),
        "mark_bar": Range("marked pressure", 0.1, 2_000, "bar", "no dial states less or more"),
        "test_bar": Range("test pressure", 0, 2_000, "bar", "no test goes higher", above=True),
        "vacuum_bar": Range("vacuum", 0, 1, "bar", "no vacuum is deeper than the atmosphere", above=True),
        "test_minutes": Range("test duration", 0, 10_080, "min", "a week", above=True),
        "deflection_um": Range("deflection", -5_000, 5_000, "µm", "no case gives more without breaking"),
        "humidity_pct": Range("relative humidity", 0, 100, "%", "air holds no more"),
        "latitude_deg": Range("latitude", -90, 90, "°", "from pole to pole"),
        "altitude_m": Range("altitude", -430, 6_000, "m", "from the lowest shore to the highest lake"),
        "made_year": Range("year in which it was made", 1_800, 2_200, "", "no watch was on a wrist before"),
        "months": Range("interval", 1, 600, "months", "fifty years"),
        "order": Range("order inside the day", 0, 10_000, "", "a place in the list of one day"),
    }
)
# Wide enough for any watch and any plan; narrow enough that no sum of dates runs off the calendar.
FIRST_DAY, LAST_DAY = date(1850, 1, 1), date(2199, 12, 31)


def number(value: float) -> str:
    """A number as people write it: at most six digits, no exponent below a million."""
    return f"{value:.6g}" if abs(value) < 1e6 else f"{value:.3g}"


def in_range(quantity: str, value: float, where: str | None = None) -> float:
    """Hand `value` back if it lies in the range of `quantity`, in that range's unit; raises BadInput else."""
    rule = RANGES[quantity]
    if (rule.low < value if rule.above else rule.low <= value) and value <= rule.high:
        return value
    unit = f" {rule.unit}" if rule.unit and rule.unit not in "°%" else rule.unit
    span = f"above {number(rule.low)} and up" if rule.above else f"from {number(rule.low)}"
    sentence = (
        f"The {rule.what} is out of range: {number(value)}{unit} is not {span} to {number(rule.high)}{unit} "
        f"({rule.reason})."
    )
    question = unit_question(rule.asks, value, rule.high) if rule.asks and value > rule.high else ""
    raise BadInput(sentence + question, where=where or quantity)


def whole_in_range(quantity: str, value: float, where: str | None = None) -> int:
    """As `in_range`, for a number of things."""
    if in_range(quantity, value, where) != int(value):
        sentence = f"The {RANGES[quantity].what} must be a whole number, not {number(value)}."
        raise BadInput(sentence, where=where or quantity)
    return int(value)


def unit_question(asks: str, value: float, high: float = 120.0) -> str:
    """The question, with a space before it, whether another unit was meant; nothing where none would fit.

    `asks` names the units to think of, `high` is the most that the converted value may be (m or °C).
    """
    shown, unit, converted, write = number(value), "", value, ""
    if asks == "feet":
        converted = round(value * 0.3048, 1)
        unit, write = f"ft = {number(converted)} m", f"{shown}ft"
    elif 200 < value < 400:
        converted = round(value - 273.15) + 0
        unit, write = f"K = {converted} °C", f"{converted}C"
    elif asks == "heat":
        converted = round((value - 32) * 5 / 9, 1)
        unit, write = f"°F = {number(converted)} °C", f"{shown}F"
    return f" Did you mean {shown} {unit}? Write {write}." if unit and converted <= high else ""


def one_of(value: str, known: Sequence[Word], what: str, where: str) -> Word:
    """The member of `known` that `value` is; raises BadInput with the members and the nearest of them."""
    for word in known:
        if word == value:
            return word
    sentence = f"'{printable(value, 40)}' is no {what}; there are {listed(known, 'and')}."
    raise BadInput(sentence + did_you_mean(value, known), where=where)


def check_day(day: date, what: str, where: str, *, today: date, first_on: date | None = None,
              ahead: bool = False) -> None:  # fmt: skip
    """Raises BadInput for a day off the calendar, after `today` unless `ahead`, or before `first_on`."""
    if not FIRST_DAY <= day <= LAST_DAY:
        raise BadInput(f"{what} on {day} cannot be: a date lies from {FIRST_DAY} to {LAST_DAY}.", where=where)
    if day > today and not ahead:
        raise BadInput(f"{what} on {day} lies in the future: today is {today}.", where=where)
    if first_on is not None and day < first_on:
        raise BadInput(f"{what} on {day} is before the watch's own first date, {first_on}.", where=where)
