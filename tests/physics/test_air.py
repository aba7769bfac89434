"""The standard atmosphere: order, neighbours, bounds."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.physics import air


def test_sea_level_has_the_standard_atmosphere_exactly() -> None:
    assert air.ambient_pa(0.0) == 101_325.0


@given(altitude_m=st.floats(-2000, 10_990), higher_m=st.floats(0.1, 10))
def test_higher_up_there_is_less_air(altitude_m: float, higher_m: float) -> None:
    assert air.ambient_pa(altitude_m + higher_m) < air.ambient_pa(altitude_m)


@given(altitude_m=st.floats(1, 11_000))
def test_geopotential_altitude_is_a_little_less_than_geometric(altitude_m: float) -> None:
    assert 0 < altitude_m - air.geopotential_m(altitude_m) < 20


@given(altitude_m=st.floats(-1990, 10_990))
def test_pressure_falls_by_the_weight_of_the_air_passed(altitude_m: float) -> None:
    # Hydrostatics: dp = −ρ g₀ dH, with the ideal gas density of the standard's temperature.
    below, above = air.ambient_pa(altitude_m - 5), air.ambient_pa(altitude_m + 5)
    geopotential_step = air.geopotential_m(altitude_m + 5) - air.geopotential_m(altitude_m - 5)
    kelvin = 288.15 - 0.0065 * air.geopotential_m(altitude_m)
    density = air.ambient_pa(altitude_m) / (287.05287 * kelvin)
    assert (below - above) / geopotential_step == pytest.approx(density * 9.80665, rel=1e-6)


@pytest.mark.parametrize("altitude_m", [-2000.1, 11_000.1, math.nan, math.inf])
def test_outside_the_troposphere_there_is_no_answer(altitude_m: float) -> None:
    with pytest.raises(ValueError, match="altitude must be from -2000 to 11000 m"):
        air.ambient_pa(altitude_m)


@given(case_c=st.floats(-60, 120), warmer_k=st.floats(0.1, 20))
def test_a_warmer_case_holds_air_of_more_pressure(case_c: float, warmer_k: float) -> None:
    assert air.case_air_pa(case_c + warmer_k) > air.case_air_pa(case_c)


@given(sealed_c=st.floats(-60, 120), sealed_pa=st.floats(5e4, 1.2e5))
def test_at_its_sealing_temperature_the_air_is_as_it_was_sealed(sealed_c: float, sealed_pa: float) -> None:
    assert air.case_air_pa(sealed_c, sealed_c, sealed_pa) == pytest.approx(sealed_pa, rel=1e-12)


def test_a_case_that_was_closed_up_high_holds_less() -> None:
    high_pa = air.ambient_pa(2000.0)
    assert air.case_air_pa(21.0, sealed_pa=high_pa) == pytest.approx(high_pa)
    assert air.across_pa(0.0, high_pa, air.case_air_pa(21.0, sealed_pa=high_pa)) == pytest.approx(0.0)


def test_the_seals_hold_the_water_and_the_air_outside_less_the_air_inside() -> None:
    assert air.across_pa(2e5, 101_325.0, 95_000.0) == 206_325.0
    # At 2000 m the air of a case that was closed by the sea presses outwards.
    assert air.across_pa(0.0, air.ambient_pa(2000.0), air.case_air_pa(21.0)) < 0


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"case_c": -273.15}, "case temperature"),
        ({"case_c": math.nan}, "case temperature"),
        ({"case_c": 20.0, "sealed_c": -300.0}, "sealing temperature"),
        ({"case_c": 20.0, "sealed_pa": 0.0}, "sealing pressure must be above 0 Pa"),
    ],
)
def test_air_that_cannot_be_has_no_pressure(given: dict[str, float], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        air.case_air_pa(**given)
