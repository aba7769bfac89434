"""Sealed air and the crystal."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.physics import fog

room_c = st.floats(5, 40)
case_c = st.floats(-10, 50)
humidity = st.floats(1, 100)


def test_air_sealed_at_21_degrees_and_half_saturated_fogs_below_10() -> None:
    answer = fog.fog_point(21.0, 50.0, 10.0)
    assert answer.dew_point_c == pytest.approx(10.18, abs=0.01)
    assert answer.fogs
    assert not fog.fog_point(21.0, 50.0, 10.3).fogs


def test_once_the_whole_case_is_at_10_degrees_the_dew_point_is_lower() -> None:
    answer = fog.fog_point(21.0, 50.0, 10.0, case_air_c=10.0)
    assert answer.dew_point_c == pytest.approx(9.6, abs=0.05)
    assert not answer.fogs


def test_fog_on_a_five_degree_dive_is_what_sealed_air_does() -> None:
    assert fog.fog_point(21.0, 50.0, 5.0, case_air_c=5.0).fogs


def test_under_a_twenty_degree_drop_sealed_air_stays_clear() -> None:
    answer = fog.fog_point(21.0, 50.0, 20.0, case_air_c=42.0)
    assert not answer.fogs
    assert answer.needed_g_m3 > answer.vapour_g_m3


@given(sealed=room_c, low=st.floats(1, 99), more=st.floats(0.1, 50), crystal=case_c, air=case_c)
def test_damper_air_never_clears_a_crystal_that_fogged(
    sealed: float, low: float, more: float, crystal: float, air: float
) -> None:
    drier = fog.fog_point(sealed, low, crystal, air)
    damper = fog.fog_point(sealed, min(100.0, low + more), crystal, air)
    assert damper.fogs >= drier.fogs
    assert damper.vapour_g_m3 > drier.vapour_g_m3


@given(sealed=room_c, pct=humidity, crystal=st.floats(-10, 40), warmer=st.floats(0.1, 20), air=case_c)
def test_a_warmer_crystal_never_fogs_where_a_colder_one_stays_clear(
    sealed: float, pct: float, crystal: float, warmer: float, air: float
) -> None:
    cold, warm = fog.fog_point(sealed, pct, crystal, air), fog.fog_point(sealed, pct, crystal + warmer, air)
    assert cold.fogs >= warm.fogs


@given(sealed=room_c, pct=humidity, air=case_c)
def test_sealed_air_keeps_its_vapour_density_at_any_temperature(
    sealed: float, pct: float, air: float
) -> None:
    same = fog.fog_point(sealed, pct, 20.0).vapour_g_m3
    assert fog.fog_point(sealed, pct, 20.0, air).vapour_g_m3 == pytest.approx(same, rel=1e-12)


@given(sealed=room_c, pct=humidity, crystal=case_c, air=case_c)
def test_the_three_ways_to_say_that_it_fogs_agree(
    sealed: float, pct: float, crystal: float, air: float
) -> None:
    answer = fog.fog_point(sealed, pct, crystal, air)
    assert answer.dew_point_c is not None
    if abs(answer.dew_point_c - crystal) > 1e-6:
        assert answer.fogs == (crystal < answer.dew_point_c) == (answer.needed_g_m3 < answer.vapour_g_m3)


@given(temp_c=st.floats(-45, 60))
def test_the_dew_point_of_saturated_air_is_its_temperature(temp_c: float) -> None:
    assert fog.dew_point_c(fog.saturation_vapour_pa(temp_c)) == pytest.approx(temp_c, abs=1e-9)


@given(temp_c=st.floats(-45, 59), warmer=st.floats(0.01, 1))
def test_warmer_air_can_hold_more(temp_c: float, warmer: float) -> None:
    assert fog.saturation_vapour_pa(temp_c + warmer) > fog.saturation_vapour_pa(temp_c)


def test_just_saturated_air_at_the_crystals_temperature_does_not_fog_yet() -> None:
    for temp_c in (3.0, 10.1, 20.0, 33.3):
        assert not fog.fog_point(temp_c, 100.0, temp_c).fogs


def test_perfectly_dry_air_has_no_dew_point_and_never_fogs() -> None:
    answer = fog.fog_point(21.0, 0.0, -40.0)
    assert (answer.vapour_g_m3, answer.dew_point_c, answer.fogs) == (0.0, None, False)


@pytest.mark.parametrize("pct", [-0.1, 100.1, math.nan])
def test_a_humidity_that_cannot_be_is_refused(pct: float) -> None:
    with pytest.raises(ValueError, match="relative humidity must be from 0 to 100 %"):
        fog.fog_point(21.0, pct, 10.0)


@pytest.mark.parametrize(
    ("sealed", "crystal", "air", "named"),
    [
        (70.0, 10.0, None, "temperature"),
        (21.0, -50.0, None, "temperature must be from -45 to 60 °C"),
        (21.0, 10.0, 80.0, "air temperature in the case"),
    ],
)
def test_outside_the_forms_range_there_is_no_answer(
    sealed: float, crystal: float, air: float | None, named: str
) -> None:
    with pytest.raises(ValueError, match=named):
        fog.fog_point(sealed, 50.0, crystal, air)


@pytest.mark.parametrize("vapour_pa", [0.0, -5.0, math.nan])
def test_no_vapour_no_dew_point(vapour_pa: float) -> None:
    with pytest.raises(ValueError, match="a dew point needs a vapour pressure above 0 Pa"):
        fog.dew_point_c(vapour_pa)
