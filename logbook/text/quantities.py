"""Quantities with their units as people write them: read into SI floats, shown with unit and rounding.

Common units come from a table of exact definitions; other units of length, time, pressure and speed are left
to pint, which is loaded when one of them turns up.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from logbook.errors import BadInput
from logbook.model.ranges import number, unit_question
from logbook.model.shown import BAR_PA as BAR_PA
from logbook.model.shown import FOOT_M as FOOT_M
from logbook.model.shown import INCH_M as INCH_M
from logbook.model.shown import PSI_PA as PSI_PA
from logbook.model.shown import show_depth as show_depth
from logbook.model.shown import show_minutes as show_minutes
from logbook.model.shown import show_pressure as show_pressure
from logbook.model.shown import show_temp as show_temp
from logbook.model.text import printable
from logbook.model.values import MarkUnit

LENGTH, TIME, PRESSURE, SPEED, TEMPERATURE, BARE = (
    "length",
    "time",
    "pressure",
    "speed",
    "temperature",
    "bare",
)
LONGEST = 60  # characters of a quantity

KNOT_M_S = 1852 / 3600  # exact: one international nautical mile an hour
MILE_M = 1609.344  # exact: 5280 ft
ATMOSPHERE_PA = 101_325.0  # exact definition


@dataclass(frozen=True, slots=True)
class _Kind:
    si: str
    units: str
    example: str


_KINDS: Mapping[str, _Kind] = MappingProxyType(
    {
        LENGTH: _Kind("meter", "m, cm, mm or ft", "21m"),
        TIME: _Kind("second", "min, h or s", "38min"),
        PRESSURE: _Kind("pascal", "bar, mbar, kPa, Pa, psi or atm", "20bar"),
        SPEED: _Kind("meter/second", "m/s, km/h or kn", "2m/s"),
        TEMPERATURE: _Kind("kelvin", "C or F", "17C"),
    }
)
_SPELLED: Mapping[str, Mapping[float, str]] = MappingProxyType(
    {
        LENGTH: {
            1.0: "m metre metres meter meters",
            0.01: "cm centimetre centimetres centimeter centimeters",
            0.001: "mm millimetre millimetres millimeter millimeters",
            1000.0: "km",
            FOOT_M: "ft foot feet",
            INCH_M: "in inch inches",
        },
        TIME: {
            1.0: "s sec secs second seconds",
            60.0: "min mins minute minutes",
            3600.0: "h hr hrs hour hours",
            86400.0: "d day days",
        },
        PRESSURE: {
            1.0: "Pa pa pascal pascals",
            100.0: "hPa hpa mbar millibar",
            1000.0: "kPa kpa",
            1e6: "MPa",
            BAR_PA: "bar bars",
            PSI_PA: "psi",
            ATMOSPHERE_PA: "atm atmosphere atmospheres",
        },
        SPEED: {
            1.0: "m/s",
            1 / 3.6: "km/h kmh kph",
            KNOT_M_S: "kn kt kts knot knots",
            MILE_M / 3600: "mph",
            FOOT_M: "ft/s fps",
        },
    }
)
# Every common spelling -> kind and size in SI units.
UNITS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        word: (kind, factor)
        for kind, factors in _SPELLED.items()
        for factor, words in factors.items()
        for word in words.split()
    }
)
_DEGREES: Mapping[str, str] = MappingProxyType(
    dict.fromkeys(("c", "°c", "degc", "celsius", "degrees celsius"), "C")
    | dict.fromkeys(("f", "°f", "degf", "fahrenheit", "degrees fahrenheit"), "F")
    | dict.fromkeys(("k", "°k", "kelvin", "kelvins"), "K")
)

_QUANTITY = re.compile(
    r"(?P<number>[+-]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:e[+-]?[0-9]{1,3}(?![0-9a-z]))?)\s*(?P<unit>.*)",
    re.I | re.S,
)
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")
_UNIT_FOR_PINT = re.compile(r"[a-zµ]{1,20}(?:[ */][a-zµ]{1,20})?[23]?", re.I)
# Hours and minutes, or minutes and seconds; the last may lack its unit: 1h10, 1 h 10 min, 38min30s.
_HOURS = re.compile(
    r"([0-9]{1,3})\s?(?:h|hr|hrs|hours?)(?:([0-5]?[0-9])m?|\s?([0-5]?[0-9])\s?min(?:utes?|s)?)", re.I
)
_MINUTES = re.compile(r"([0-9]{1,5})\s?min(?:utes?|s)?(?:([0-5]?[0-9])|\s?([0-5]?[0-9])\s?s(?:ec)?)", re.I)


# Only for a length of time, where metres are out of place: 1:30, 1h 30m.
_HOURS_AND_MINUTES = re.compile(
    r"([0-9]{1,2}(?!:)|[0-9])(?::([0-5][0-9])|\s?(?:h|hr|hrs|hours?)\s?([0-5]?[0-9])\s?m)", re.I
)


def measure(text: str, where: str = "quantity", *, pint: bool = True) -> tuple[str, float]:
    """The kind of a quantity and its value: SI units, or °C for a temperature; a number alone is `BARE`.

    Raises BadInput for anything but a number with a known unit. Without `pint` only common units are known.
    """
    compound = _compound_s(text.strip())
    if compound is not None:
        return TIME, compound
    value, unit = _split(text, where)
    if not unit:
        return BARE, value
    if unit.lower() in _DEGREES:
        return TEMPERATURE, _celsius(value, _DEGREES[unit.lower()], where)
    kind, factor = _known(unit) or (_from_pint(unit) if pint else None) or ("", 0.0)
    if not kind:
        units = "; ".join(f"{k.units}" for k in _KINDS.values())
        raise BadInput(f"'{printable(unit, 20)}' is not a unit known here; use {units}.", where=where)
    return kind, _finite(value * factor, text, where)


def parse_length_m(text: str, where: str = "depth", *, default_unit: str | None = None) -> float:
    """Reads metres. A bare number is taken in `default_unit`; without one it is refused."""
    return _parse(text, LENGTH, where, default_unit)


def parse_duration_s(text: str, where: str = "duration", *, default_unit: str | None = None) -> float:
    """Reads seconds, and hours and minutes together, such as 1h10, 1h 10m or 1:10."""
    match = _HOURS_AND_MINUTES.fullmatch(text.strip()) if len(text) <= LONGEST else None
    if match:
        return float(int(match[1]) * 3600 + int(match[2] or match[3]) * 60)
    return _parse(text, TIME, where, default_unit)


def parse_pressure_pa(text: str, where: str = "pressure", *, default_unit: str | None = None) -> float:
    """Reads pascal."""
    return _parse(text, PRESSURE, where, default_unit)


def parse_speed_m_s(text: str, where: str = "speed", *, default_unit: str | None = None) -> float:
    """Reads metres per second."""
    return _parse(text, SPEED, where, default_unit)


def parse_temperature_c(text: str, where: str = "temperature", *, default_unit: str | None = None) -> float:
    """Reads °C from °C or °F; kelvin, and what can only be kelvin, is refused with a question."""
    return _parse(text, TEMPERATURE, where, default_unit)


def parse_marked_pa(text: str, where: str = "marked", *, default_unit: str | None = None) -> float:
    """Reads pascal from a marked pressure, or from marked metres or feet by the trade's 10 m = 1 bar."""
    kind, value = measure(text, where)
    if kind == LENGTH:
        return value / 10 * BAR_PA
    return _parse(text, PRESSURE, where, default_unit)


def marked_in(text: str, where: str = "marked") -> MarkUnit:
    """Whether a mark is written as a length, such as 200 m or 660 ft, or as a pressure."""
    return "m" if measure(text, where)[0] == LENGTH else "bar"


def _parse(text: str, kind: str, where: str, default_unit: str | None) -> float:
    found, value = measure(text, where)
    if found == BARE and default_unit is not None:
        found, value = measure(f"{text.strip()} {default_unit}", where)
    if found == kind:
        return value
    wanted, shown = _KINDS[kind], printable(text.strip(), 40)
    if found == BARE:
        raise BadInput(f"{shown} has no unit: write {wanted.units}, such as {wanted.example}.", where=where)
    sentence = (
        f"{shown} is a {found}, but a {kind} belongs here, in {wanted.units}, such as {wanted.example}."
    )
    raise BadInput(sentence, where=where)


def _split(text: str, where: str) -> tuple[float, str]:
    """The number and its unit, tidied."""
    tidy = " ".join(text.replace("\u2212", "-").replace("º", "°").split())
    match = _QUANTITY.fullmatch(tidy) if len(tidy) <= LONGEST else None
    if match is None:
        raise BadInput(
            f"'{printable(text, 40)}' is not a number with a unit, such as 21m or 17C.", where=where
        )
    digits, unit = match["number"], match["unit"].rstrip(".")
    if _THOUSANDS.fullmatch(digits):
        plain = digits.replace(",", "")
        question = f"{digits} can be read in two ways: write {plain}, or {digits.replace(',', '.')}."
        raise BadInput(question, where=where)
    return _finite(float(digits.replace(",", ".")), text, where), unit


def _known(unit: str) -> tuple[str, float] | None:
    return UNITS.get(unit) or UNITS.get(unit.lower())


def _compound_s(text: str) -> float | None:
    if len(text) > LONGEST:
        return None
    for pattern, large, small in ((_HOURS, 3600, 60), (_MINUTES, 60, 1)):
        match = pattern.fullmatch(text)
        if match:
            return float(int(match[1]) * large + int(match[2] or match[3]) * small)
    return None


def _celsius(value: float, scale: str, where: str) -> float:
    if scale == "F":
        return (value - 32) * 5 / 9
    if scale == "K":
        celsius = round(value - 273.15, 2) + 0.0
        meant = f"{number(value)} K is {celsius:g} °C: write {celsius:g}C"
        raise BadInput(f"Temperatures are written in C or F, not in kelvin; {meant}.", where=where)
    question = unit_question("kelvin", value)
    if question:
        raise BadInput(f"{number(value)} °C is hotter than any water or sauna.{question}", where=where)
    return value


def _finite(value: float, text: str, where: str) -> float:
    if not math.isfinite(value):
        raise BadInput(f"'{printable(text, 40)}' is too large a number to mean anything.", where=where)
    return value


@cache
def _registry() -> Any:
    from pint import UnitRegistry

    return UnitRegistry()


@cache
def _from_pint(unit: str) -> tuple[str, float] | None:
    """Kind and factor of a unit from pint; None where pint has no such unit either."""
    # Only names and one small power reach pint's reader, which would work out any expression.
    if not _UNIT_FOR_PINT.fullmatch(unit):
        return None
    name = re.sub(r"([23])$", r"**\1", unit.replace(" ", "*"))
    registry = _registry()
    try:
        quantity = registry.Quantity(1.0, name)
        for kind in (LENGTH, TIME, PRESSURE, SPEED):
            if quantity.check(registry.Quantity(1.0, _KINDS[kind].si).dimensionality):
                return kind, float(quantity.to(_KINDS[kind].si).magnitude)
    except Exception:  # pint raises errors of many kinds, even those of Python's tokenizer
        return None
    return None
