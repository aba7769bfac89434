"""Constants drawn at random: their law, and that names alone decide what is drawn."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.predict.draws import RANGED, STATED, Z90, Draws, named_ranges, two_halves
from tests.model.builders import PRACTICE, practice_with

parts = st.floats(0.05, 1.0)


@given(value=st.floats(1e-3, 1e4), down=parts, up=parts)
def test_the_value_is_the_median_and_low_and_high_are_the_ten_and_ninety_per_cent_points(
    value: float, down: float, up: float
) -> None:
    low, high = value * down, value / up
    found = two_halves(np.array([-Z90, 0.0, Z90]), value, low, high)
    assert found == pytest.approx([low, value, high], rel=1e-9)


@pytest.mark.parametrize("name", RANGED)
def test_of_many_draws_a_tenth_lies_below_low_and_a_tenth_above_high(name: str) -> None:
    row = PRACTICE.constants[name]
    drawn = Draws.random(PRACTICE).constant(name)
    below = 0.5 if row.low == row.value else 0.1  # a value that is the least there is has no lower half
    assert np.mean(drawn <= row.low) == pytest.approx(below, abs=0.001)
    assert np.mean(drawn >= row.high) == pytest.approx(0.1, abs=0.001)
    assert np.median(drawn) == pytest.approx(row.value, rel=0.001)


def test_a_range_that_reaches_zero_degrees_is_normal_in_two_halves() -> None:
    found = two_halves(np.array([-Z90, 0.0, Z90]), 4.0, -2.0, 9.0)
    assert found == pytest.approx([-2.0, 4.0, 9.0])


def test_a_factor_of_zero_stays_zero() -> None:
    assert not Draws.random(PRACTICE).factor("case-back", "m_h").any()


def test_the_same_seed_draws_the_same_whatever_was_asked_first() -> None:
    first, second = Draws.random(PRACTICE, 50), Draws.random(PRACTICE, 50)
    second.years("NBR")
    second.constant("N_p")
    assert np.array_equal(first.constant("Ea"), second.constant("Ea"))
    assert np.array_equal(first.years("NBR"), second.years("NBR"))


def test_another_seed_draws_others_and_two_constants_go_their_own_ways() -> None:
    draws = Draws.random(PRACTICE)
    assert not np.array_equal(draws.constant("Ea"), Draws.random(PRACTICE, seed=2).constant("Ea"))
    apart = np.corrcoef(np.log(draws.constant("H_pool")), np.log(draws.constant("H_soap")))[0, 1]
    assert abs(apart) < 0.1


def test_one_at_a_time_is_the_medians_but_for_one_constant() -> None:
    draws = Draws.one_at_a_time(PRACTICE, ["N_p", STATED])
    assert draws.constant("N_p") == pytest.approx([100, 30, 300, 100, 100])
    assert draws.stated_times() == pytest.approx([1, 1, 1, 0.4, 2.5])
    assert draws.constant("Ea") == pytest.approx([80] * 5)


def test_a_constant_without_a_range_is_not_among_those_that_are_drawn() -> None:
    fixed = practice_with("[constants.Ea]\nlow = 80\nhigh = 80\n")
    assert "Ea" in named_ranges(PRACTICE)
    assert "Ea" not in named_ranges(fixed)
    assert set(Draws.random(fixed).constant("Ea")) == {80.0}
