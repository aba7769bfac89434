"""Texts of a form that nobody touches are read back as what is kept, in the owner's units."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.text import exactly, quantities

UNITS = st.sampled_from(["metric", "imperial"])


@pytest.mark.parametrize(
    ("depth_m", "metric", "imperial"),
    [(21.0, "21 m", "68.898 ft"), (21.336, "21.336 m", "70 ft"), (20.93, "20.93 m", "68.668 ft")],
)
def test_a_depth_stands_as_short_as_it_can(depth_m: float, metric: str, imperial: str) -> None:
    assert exactly.depth_text(depth_m, "metric") == metric
    assert exactly.depth_text(depth_m, "imperial") == imperial


def test_other_quantities_stand_as_short_as_they_can() -> None:
    assert exactly.temp_text(19.25, "metric") == "19.25 °C"
    assert exactly.temp_text(19.0, "imperial") == "66.2 °F"
    assert exactly.temp_text(20.0, "imperial") == "68 °F"
    assert exactly.pressure_text(25e5, "metric") == "25 bar"
    assert exactly.pressure_text(round(363 * quantities.PSI_PA), "imperial") == "363 psi"
    assert exactly.minutes_text(2280) == "38 min"
    assert exactly.minutes_text(2290) == "38.17 min"


@given(st.integers(0, 12_000_000), UNITS)
def test_a_depth_is_read_back_to_the_millimetre(millimetres: int, units: str) -> None:
    depth_m = round(millimetres / 1000, 3)
    assert round(quantities.parse_length_m(exactly.depth_text(depth_m, units)), 3) == depth_m


@given(st.integers(-20_000, 120_000), UNITS)
def test_a_temperature_is_read_back_to_the_thousandth(milli: int, units: str) -> None:
    celsius = round(milli / 1000, 3)
    assert round(quantities.parse_temperature_c(exactly.temp_text(celsius, units)), 3) == celsius


@given(st.integers(-100_000, 200_000_000), UNITS)
def test_a_pressure_is_read_back_to_the_pascal(pressure_pa: int, units: str) -> None:
    text = exactly.pressure_text(float(pressure_pa), units)
    assert round(quantities.parse_pressure_pa(text)) == pressure_pa


@given(st.integers(1, 31_536_000))
def test_a_time_is_read_back_to_the_second(seconds: int) -> None:
    assert round(quantities.parse_duration_s(exactly.minutes_text(float(seconds)))) == seconds
