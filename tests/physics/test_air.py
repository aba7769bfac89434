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
