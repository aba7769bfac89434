"""Pressure at altitude against the tables of the standard atmosphere.

Sources: ISO 2533:1975, table 5 (geometric altitude), the same as ICAO Doc 7488 and, below 32 km, the US
Standard Atmosphere 1976, table I: five digits, from memory. The library ambiance 1.3.1 (PyPI), an independent
implementation of ICAO Doc 7488/3: values printed by it. ASHRAE Handbook, Fundamentals 2017, ch. 1, eq. 3, as
in the psychrolib library 2.5.

Tolerance: one unit of the fifth digit for the table, since common copies cut the sixth digit instead of
rounding it; 0.1 Pa, the digits kept, for the library; for ASHRAE's form 6 parts in 10 000 up to 5000 m,
because it takes geometric for geopotential altitude (4 m there).
"""

from __future__ import annotations

import pytest

from logbook.physics import air

# geometric altitude (m), pressure (hPa) as printed
TABLE = [
    (-1000, 1139.3),
    (0, 1013.25),
    (500, 954.61),
    (1000, 898.76),
    (1500, 845.60),
    (2000, 795.01),
    (2500, 746.92),
    (3000, 701.21),
    (3500, 657.80),
    (4000, 616.60),
    (4500, 577.53),
    (5000, 540.48),
    (6000, 472.17),
    (7000, 411.05),
    (8000, 356.51),
    (9000, 308.00),
    (10000, 264.99),
    (11000, 226.99),
]
# the same from the ambiance library 1.3.1: geometric altitude (m), pressure (Pa)
LIBRARY = [
    (-2000, 127_782.8),
    (-1000, 113_931.1),
    (-400, 106_223.7),
    (0, 101_325.0),
    (250, 98_357.6),
    (500, 95_461.3),
    (750, 92_634.6),
    (1250, 87_185.1),
    (1500, 84_559.7),
    (1750, 81_998.9),
    (2500, 74_691.7),
    (3500, 65_780.4),
    (4000, 61_660.4),
    (5000, 54_048.3),
    (6000, 47_217.6),
    (8000, 35_651.6),
    (10000, 26_499.9),
    (11000, 22_699.9),
]


@pytest.mark.parametrize(("altitude_m", "hpa"), TABLE)
def test_pressure_is_that_of_the_printed_table(altitude_m: float, hpa: float) -> None:
    fifth_digit_pa = 10.0 if hpa > 1000 else 1.0
    assert air.ambient_pa(altitude_m) == pytest.approx(hpa * 100, abs=fifth_digit_pa)


@pytest.mark.parametrize(("altitude_m", "pa"), LIBRARY)
def test_pressure_is_that_of_an_independent_library(altitude_m: float, pa: float) -> None:
    assert air.ambient_pa(altitude_m) == pytest.approx(pa, abs=0.1)


@pytest.mark.parametrize(("altitude_m", "pa"), [(1000, 89_876.3), (2000, 79_501.4), (3000, 70_121.1)])
def test_pressure_at_mountain_lakes_is_right_to_a_tenth_of_a_pascal(altitude_m: float, pa: float) -> None:
    assert air.ambient_pa(altitude_m) == pytest.approx(pa, abs=0.06)


@pytest.mark.parametrize("altitude_m", [0, 400, 1000, 1800, 2500, 3800, 5000])
def test_pressure_agrees_with_an_engineering_handbook(altitude_m: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    expected_pa = psychrolib.GetStandardAtmPressure(altitude_m)
    assert air.ambient_pa(altitude_m) == pytest.approx(expected_pa, rel=6e-4)
