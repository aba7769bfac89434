"""Vapour pressure and dew point against the WMO's form, steam tables and a psychrometrics library.

Sources:
- WMO-No. 8, Guide to Instruments and Methods of Observation, vol. I, ch. 4, annex 4.B:
  e_w(t) = 6.112 exp(17.62 t / (243.12 + t)) hPa, −45…60 °C, and its inverse for the dew point; from memory,
  evaluated by hand to five digits.
- Smithsonian Meteorological Tables (1951), table 94, saturation over water (Goff and Gratch); from memory.
- psychrolib 2.5 (PyPI): ASHRAE Handbook, Fundamentals 2017, ch. 1, eq. 6 (Hyland and Wexler 1983).
- IAPWS-IF97 region 4 as in the iapws library 1.5.

Tolerance: the printed digits for the form itself; 0.35 % of vapour pressure (0.06 K of dew point) between
0 and 50 °C for the other sources: WMO-No. 8 itself gives its form an uncertainty of below 0.6 % there.
"""

from __future__ import annotations

import math

import pytest

from logbook.physics import fog

# t (°C), e_w (hPa): the form, by hand
FORM = [
    (-45, 0.11171),
    (-20, 1.2597),
    (0, 6.1120),
    (5, 8.7174),
    (10, 12.260),
    (15, 17.017),
    (20, 23.326),
    (25, 31.601),
    (30, 42.337),
    (35, 56.128),
    (40, 73.675),
    (50, 123.45),
    (60, 199.93),
]
# t (°C), e_w (hPa): Smithsonian tables, from memory
SMITHSONIAN = [
    (0, 6.1078),
    (5, 8.7192),
    (10, 12.272),
    (15, 17.044),
    (20, 23.373),
    (25, 31.671),
    (30, 42.430),
    (35, 56.236),
    (40, 73.777),
]
# t (°C), relative humidity (%), dew point (°C): the form solved by hand
DEW_POINTS = [
    (20, 50, 9.26),
    (21, 50, 10.18),
    (25, 60, 16.69),
    (30, 80, 26.17),
    (10, 30, -6.81),
    (0, 100, 0.00),
]


@pytest.mark.parametrize(("temp_c", "hpa"), FORM)
def test_saturation_pressure_is_the_wmo_form(temp_c: float, hpa: float) -> None:
    assert fog.saturation_vapour_pa(temp_c) == pytest.approx(hpa * 100, rel=5e-5)


@pytest.mark.parametrize(("temp_c", "hpa"), SMITHSONIAN)
def test_saturation_pressure_agrees_with_the_old_tables(temp_c: float, hpa: float) -> None:
    assert fog.saturation_vapour_pa(temp_c) == pytest.approx(hpa * 100, rel=3.5e-3)


@pytest.mark.parametrize("temp_c", [0.1, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50])
def test_saturation_pressure_agrees_with_a_psychrometrics_library(temp_c: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    assert fog.saturation_vapour_pa(temp_c) == pytest.approx(psychrolib.GetSatVapPres(temp_c), rel=3.5e-3)


@pytest.mark.parametrize("temp_c", [0.1, 10, 20, 30, 40, 50])
def test_saturation_pressure_agrees_with_the_steam_tables(temp_c: float) -> None:
    from iapws.iapws97 import _PSat_T

    steam_pa = _PSat_T(temp_c + 273.15) * 1e6
    assert fog.saturation_vapour_pa(temp_c) == pytest.approx(steam_pa, rel=3.5e-3)


@pytest.mark.parametrize(("temp_c", "humidity_pct", "dew_c"), DEW_POINTS)
def test_dew_point_is_the_wmo_form_solved(temp_c: float, humidity_pct: float, dew_c: float) -> None:
    vapour_pa = humidity_pct / 100 * fog.saturation_vapour_pa(temp_c)
    assert fog.dew_point_c(vapour_pa) == pytest.approx(dew_c, abs=0.006)


@pytest.mark.parametrize("temp_c", [10, 21, 30, 40])
@pytest.mark.parametrize("humidity_pct", [60, 80, 95, 100])
def test_dew_point_agrees_with_a_psychrometrics_library(temp_c: float, humidity_pct: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    expected_c = psychrolib.GetTDewPointFromRelHum(temp_c, humidity_pct / 100)
    vapour_pa = humidity_pct / 100 * fog.saturation_vapour_pa(temp_c)
    assert fog.dew_point_c(vapour_pa) == pytest.approx(expected_c, abs=0.06)


# t (°C), saturation vapour density (g/m³): CRC-style tables of absolute humidity, from memory
DENSITIES = [(0, 4.85), (5, 6.80), (10, 9.40), (15, 12.83), (20, 17.30), (25, 23.05), (30, 30.38)]


@pytest.mark.parametrize(("temp_c", "g_m3"), DENSITIES)
def test_saturated_air_holds_what_tables_of_absolute_humidity_say(temp_c: float, g_m3: float) -> None:
    found = fog.vapour_density_g_m3(fog.saturation_vapour_pa(temp_c), temp_c)
    assert found == pytest.approx(g_m3, rel=4e-3)


def test_saturation_at_twenty_degrees_is_17_2_grams() -> None:
    found = fog.vapour_density_g_m3(fog.saturation_vapour_pa(20.0), 20.0)
    assert found == pytest.approx(17.2, abs=0.05)


def test_the_gas_constant_of_water_vapour_is_that_of_the_mole() -> None:
    # R = 8.314462618 J/(mol K) (CODATA 2018) over 18.015268 g/mol (IAPWS-95)
    assert pytest.approx(8.314462618 / 0.018015268, rel=1e-4) == fog.VAPOUR_GAS_CONSTANT


@pytest.mark.parametrize(
    ("case_air_c", "dew_c"), [(21.0, 10.18), (10.0, 9.6), (32.0, 10.73), (5.0, 9.34), (42.0, 11.21)]
)
def test_sealed_air_has_the_dew_point_of_a_fixed_vapour_density(case_air_c: float, dew_c: float) -> None:
    # By the ideal gas law: e = 0.5 · 24.809 hPa · T/294.15 K, then the form solved by hand.
    assert fog.fog_point(21.0, 50.0, 0.0, case_air_c).dew_point_c == pytest.approx(dew_c, abs=0.01)


def test_the_forms_limits_are_those_of_the_guide() -> None:
    assert (fog.COLDEST_C, fog.HOTTEST_C) == (-45.0, 60.0)
    assert math.isclose(fog.saturation_vapour_pa(0.0), 611.2)
