"""Unit conversions at the edge: the units library against exact definitions.

Sources: International yard and pound agreement 1959 (foot 0.3048 m, inch 25.4 mm, pound 0.45359237 kg);
First International Extraordinary Hydrographic Conference 1929 (nautical mile 1852 m); 9th and 10th CGPM (bar
1e5 Pa, standard atmosphere 101 325 Pa, kelvin and degree Celsius); NIST SP 811 (2008), appendix B.8 for psi
and °F. Standard gravity 9.80665 m/s², 3rd CGPM 1901.
Tolerance: 1e-12 of the value, exact up to rounding.
"""

from __future__ import annotations

from functools import cache

import pint
import pytest

from logbook.physics import constants

EXACT = [
    (1, "ft", "m", 0.3048),
    (70, "ft", "m", 21.336),
    (1, "inch", "mm", 25.4),
    (1, "nautical_mile", "m", 1852),
    (1, "mile", "m", 1609.344),
    (1, "bar", "Pa", 100_000),
    (20, "bar", "Pa", 2_000_000),
    (1, "mbar", "Pa", 100),
    (1, "atm", "Pa", 101_325),
    (1, "psi", "Pa", 0.45359237 * 9.80665 / 0.0254**2),
    (1, "torr", "Pa", 101_325 / 760),
    (1, "kgf", "N", 9.80665),
    (1, "technical_atmosphere", "Pa", 98_066.5),
    (1, "knot", "m/s", 1852 / 3600),
    (36, "km/hour", "m/s", 10),
    (1, "hour", "s", 3600),
    (90, "minute", "hour", 1.5),
    (1, "year", "hour", 8766),
]
TEMPERATURES = [
    (32, "degF", 0),
    (212, "degF", 100),
    (64, "degF", 160 / 9),
    (-40, "degF", -40),
    (273.15, "kelvin", 0),
    (300, "kelvin", 26.85),
]


@cache
def units() -> pint.UnitRegistry:
    """One registry for the module: it takes a third of a second to build."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(("value", "unit", "to", "expected"), EXACT)
def test_a_unit_is_worth_its_definition(value: float, unit: str, to: str, expected: float) -> None:
    assert units().Quantity(value, unit).to(to).magnitude == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("value", "unit", "celsius"), TEMPERATURES)
def test_a_temperature_is_converted_with_its_offset(value: float, unit: str, celsius: float) -> None:
    assert units().Quantity(value, unit).to("degC").magnitude == pytest.approx(celsius, abs=1e-10)


def test_the_librarys_fathom_is_that_of_the_us_survey() -> None:
    # 6 survey feet of 1200/3937 m (NIST SP 811), 2 parts in a million more than 6 international feet
    assert units().Quantity(1, "fathom").to("m").magnitude == pytest.approx(6 * 1200 / 3937, rel=1e-12)


def test_a_swing_in_fahrenheit_has_no_offset() -> None:
    assert units().Quantity(63, "delta_degF").to("kelvin").magnitude == pytest.approx(35.0, rel=1e-12)


def test_the_constants_are_those_of_the_library_and_of_codata() -> None:
    import scipy.constants as codata

    assert codata.g == constants.STANDARD_GRAVITY
    assert codata.atm == constants.STANDARD_ATMOSPHERE_PA
    assert codata.zero_Celsius == constants.ICE_POINT_K
    assert pytest.approx(codata.R, rel=1e-10) == constants.MOLAR_GAS_CONSTANT
    assert units().Quantity(1, "standard_gravity").to("m/s**2").magnitude == constants.STANDARD_GRAVITY
