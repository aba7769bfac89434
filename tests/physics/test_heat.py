"""Swing, lag, expansion, ageing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from logbook.physics import heat

celsius = st.floats(-20, 100)
STEEL = (15.9e-6, 15.9e-6)
NITRILE = (112e-6, 235e-6)


@given(first=celsius, second=celsius)
def test_a_swing_is_the_same_both_ways_and_never_negative(first: float, second: float) -> None:
    assert heat.swing_k(first, second) == heat.swing_k(second, first) >= 0


def test_the_thermal_shock_of_a_divers_watch_is_35_kelvin() -> None:
    assert heat.swing_k(40.0, 5.0) == 35.0


@given(start=celsius, around=celsius, lag=st.floats(0.5, 60))
def test_the_case_starts_where_it_was_and_ends_where_it_is_put(
    start: float, around: float, lag: float
) -> None:
    assert heat.case_c_after(0.0, start, around, lag) == pytest.approx(start, abs=1e-9)
    assert heat.case_c_after(40 * lag, start, around, lag) == pytest.approx(around, abs=1e-9)


@given(start=celsius, around=celsius, lag=st.floats(0.5, 60))
def test_after_one_lag_63_percent_of_the_way_is_done(start: float, around: float, lag: float) -> None:
    done = heat.case_c_after(lag, start, around, lag) - start
    assert done == pytest.approx((around - start) * 0.6321205588, abs=1e-7)


@given(start=celsius, around=celsius, lag=st.floats(0.5, 60), a=st.floats(0, 90), b=st.floats(0, 90))
def test_two_steps_are_one_step_of_their_sum(
    start: float, around: float, lag: float, a: float, b: float
) -> None:
    on_the_way = heat.case_c_after(a, start, around, lag)
    twice = heat.case_c_after(b, on_the_way, around, lag)
    assert twice == pytest.approx(heat.case_c_after(a + b, start, around, lag), abs=1e-9)


@given(start=celsius, around=celsius, minutes=st.floats(0, 300), lag=st.floats(0.5, 60))
def test_the_case_never_overshoots(start: float, around: float, minutes: float, lag: float) -> None:
    case_c = heat.case_c_after(minutes, start, around, lag)
    assert min(start, around) - 1e-9 <= case_c <= max(start, around) + 1e-9


def test_the_lag_solves_newtons_law_of_cooling() -> None:
    solved = solve_ivp(lambda _, t: [(17.0 - t[0]) / 6.0], (0, 20), [32.0], rtol=1e-10, atol=1e-10)
    assert heat.case_c_after(20.0, 32.0, 17.0, 6.0) == pytest.approx(float(solved.y[0][-1]), abs=1e-7)


def test_in_a_sauna_the_wrist_holds_the_case_back() -> None:
    # 15 min in air of 80 °C from 32 °C with a lag of 20 min: 80 − 48·exp(−0.75), by hand 57.33 °C.
    assert heat.case_c_after(15.0, 32.0, 80.0, 20.0) == pytest.approx(57.33, abs=0.005)


@pytest.mark.parametrize(
    ("minutes", "lag", "named"),
    [(-1.0, 6.0, "time must be 0 min or more"), (1.0, 0.0, "lag must be above 0 min"), (1.0, -6.0, "lag")],
)
def test_a_time_that_cannot_be_is_refused(minutes: float, lag: float, named: str) -> None:
    with pytest.raises(ValueError, match=named):
        heat.case_c_after(minutes, 30.0, 20.0, lag)


def test_cooling_shrinks_the_seal_more_than_a_steel_case() -> None:
    # By hand: 30 mm · −26 K · 15.9e-6 = −12.402 µm; 112e-6 → −87.36, 235e-6 → −183.30 µm.
    found = heat.differential_expansion(0.030, -26.0, NITRILE, STEEL)
    assert found.case_um == heat.Range(*[pytest.approx(-12.402)] * 3)
    assert (found.seal_um.low, found.seal_um.high) == (pytest.approx(-183.30), pytest.approx(-87.36))
    assert found.difference_um.value == pytest.approx(-122.928)
    assert (found.difference_um.low, found.difference_um.high) == (
        pytest.approx(-170.898),
        pytest.approx(-74.958),
    )


alphas = st.tuples(st.floats(0, 3e-4), st.floats(0, 3e-4)).map(lambda pair: (min(pair), max(pair)))


@given(span=st.floats(0.001, 0.06), change=st.floats(-80, 80), seal=alphas, case=alphas)
def test_low_value_and_high_stand_in_order(
    span: float, change: float, seal: tuple[float, float], case: tuple[float, float]
) -> None:
    found = heat.differential_expansion(span, change, seal, case)
    for part in (found.seal_um, found.case_um, found.difference_um):
        assert part.low - 1e-9 <= part.value <= part.high + 1e-9


@given(span=st.floats(0.001, 0.06), change=st.floats(-80, 80), seal=alphas, case=alphas)
def test_every_pair_of_coefficients_lies_between_low_and_high(
    span: float, change: float, seal: tuple[float, float], case: tuple[float, float]
) -> None:
    found = heat.differential_expansion(span, change, seal, case).difference_um
    for alpha_seal in seal:
        for alpha_case in case:
            um = (alpha_seal - alpha_case) * span * change * 1e6
            assert found.low - 1e-9 <= um <= found.high + 1e-9


@given(span=st.floats(0.001, 0.06), change=st.floats(0, 80), seal=alphas, case=alphas)
def test_warming_is_cooling_with_the_sign_turned(
    span: float, change: float, seal: tuple[float, float], case: tuple[float, float]
) -> None:
    warm = heat.differential_expansion(span, change, seal, case).difference_um
    cold = heat.differential_expansion(span, -change, seal, case).difference_um
    assert (warm.value, warm.low, warm.high) == pytest.approx((-cold.value, -cold.high, -cold.low), abs=1e-9)


def test_a_range_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="expansion of the seal: low"):
        heat.differential_expansion(0.03, 10.0, (235e-6, 112e-6), STEEL)
    with pytest.raises(ValueError, match="span must be 0 m or more"):
        heat.differential_expansion(-0.03, 10.0, NITRILE, STEEL)


def test_the_ageing_rate_is_one_at_the_reference() -> None:
    assert heat.ageing_rate(21.0, 80_000.0) == 1.0
    assert heat.ageing_rate(32.0, 80_000.0, reference_c=32.0) == 1.0


def test_the_worn_rate_is_that_of_arrhenius_by_hand() -> None:
    # 80 000/8.314462618 · (1/294.15 − 1/305.15) = 1.179147…; exp = 3.2516.
    assert heat.ageing_rate(32.0, 80_000.0) == pytest.approx(3.2516, abs=5e-4)


@given(cooler=st.floats(-20, 90), warmer_k=st.floats(0.1, 30), ea=st.floats(1_000, 120_000))
def test_warmer_rubber_ages_faster(cooler: float, warmer_k: float, ea: float) -> None:
    assert heat.ageing_rate(cooler + warmer_k, ea) > heat.ageing_rate(cooler, ea)


@given(first=st.floats(-20, 90), second=st.floats(-20, 90), ea=st.floats(0, 120_000))
def test_rates_chain_through_any_reference(first: float, second: float, ea: float) -> None:
    direct = heat.ageing_rate(first, ea)
    through = heat.ageing_rate(first, ea, second) * heat.ageing_rate(second, ea)
    assert through == pytest.approx(direct, rel=1e-9)


def test_without_an_activation_energy_temperature_does_not_matter() -> None:
    assert heat.ageing_rate(60.0, 0.0) == 1.0


@pytest.mark.parametrize(
    ("temp_c", "ea", "named"),
    [(20.0, -1.0, "activation energy"), (-273.15, 8e4, "absolute temperature"), (math.nan, 8e4, "absolute")],
)
def test_an_ageing_that_cannot_be_is_refused(temp_c: float, ea: float, named: str) -> None:
    with pytest.raises(ValueError, match=named):
        heat.ageing_rate(temp_c, ea)


def test_a_temperature_below_absolute_zero_is_refused() -> None:
    with pytest.raises(ValueError, match=r"temperature must be from -273\.15"):
        heat.swing_k(20.0, -300.0)
