"""Speed, head and jumps."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.physics import motion

speeds = st.floats(0.01, 60)
densities = st.floats(900, 1200)


@given(head_m=st.floats(0.001, 200))
def test_head_to_speed_and_back_is_the_same_head(head_m: float) -> None:
    assert motion.head_m(motion.speed_m_s_for_head(head_m)) == pytest.approx(head_m, rel=1e-12)


@given(speed=speeds, density=densities)
def test_twice_the_speed_is_four_times_the_pressure(speed: float, density: float) -> None:
    assert motion.dynamic_pa(2 * speed, density) == pytest.approx(4 * motion.dynamic_pa(speed, density))


@given(speed=speeds, density=densities)
def test_the_head_weighs_as_much_as_the_dynamic_pressure(speed: float, density: float) -> None:
    assert density * 9.80665 * motion.head_m(speed) == pytest.approx(motion.dynamic_pa(speed, density))


@given(height_m=st.floats(0, 60), density=densities)
def test_a_jump_presses_at_most_like_its_height_of_water(height_m: float, density: float) -> None:
    assert motion.jump_pa(height_m, density) == pytest.approx(density * 9.80665 * height_m, abs=1e-6)


def test_a_fast_arm_is_less_than_half_a_metre_of_water() -> None:
    assert motion.dynamic_pa(3.0, 1000.0) == 4500.0
    assert motion.head_m(3.0) < 0.5


def test_water_at_rest_presses_with_nothing() -> None:
    assert motion.dynamic_pa(0.0, 1025.0) == 0.0
    assert motion.head_m(0.0) == 0.0
    assert motion.speed_m_s_for_head(0.0) == 0.0


@pytest.mark.parametrize("density", [0.0, -1000.0, math.nan, math.inf])
def test_a_density_that_cannot_be_is_refused(density: float) -> None:
    with pytest.raises(ValueError, match="density must be above 0 kg/m³"):
        motion.dynamic_pa(1.0, density)


@pytest.mark.parametrize(
    ("function", "named"),
    [
        (lambda: motion.dynamic_pa(-1.0, 1000.0), "speed must be 0 m/s or more"),
        (lambda: motion.head_m(-1.0), "speed must be 0 m/s or more"),
        (lambda: motion.speed_m_s_for_head(-1.0), "head must be 0 m or more"),
        (lambda: motion.jump_pa(-1.0, 1000.0), "height must be 0 m or more"),
        (lambda: motion.head_m(math.nan), "speed must be 0 m/s or more"),
    ],
)
def test_less_than_nothing_is_refused_with_its_name(function, named: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=named):
        function()
