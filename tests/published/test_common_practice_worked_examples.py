"""Worked examples that go round among divers and watchmakers, recomputed.

Source: common practice, no source, unless a line says otherwise. Tolerance: the digits that are quoted.
"""

from __future__ import annotations

import math

import pytest

from logbook.physics import bench, heat, motion
from logbook.physics.force import force_n


def test_a_hundred_metres_of_round_water_are_980_kilopascals() -> None:
    # 1000 kg/m³ · 9.8 m/s² · 100 m; a jump from 100 m has the same head
    assert motion.jump_pa(100.0, 1000.0) == pytest.approx(980e3, rel=1e-3)


def test_22_metres_a_second_are_25_metres_of_head() -> None:
    assert motion.speed_m_s_for_head(25.0) == pytest.approx(22.1, abs=0.05)
    assert motion.head_m(22.1) == pytest.approx(25.0, abs=0.15)


@pytest.mark.parametrize(
    ("speed_m_s", "head_m", "kpa"),
    # v²/2g and ½·1000·v², by hand
    [(1.0, 0.051, 0.5), (1.5, 0.115, 1.125), (2.0, 0.204, 2.0), (3.0, 0.459, 4.5), (10.0, 5.099, 50.0)],
)
def test_an_arms_speed_is_centimetres_of_water(speed_m_s: float, head_m: float, kpa: float) -> None:
    values = bench.speed(speed_m_s).values()
    assert values["head_m"] == pytest.approx(head_m, abs=6e-4)
    assert values["dynamic_pa"] == pytest.approx(kpa * 1e3)


@pytest.mark.parametrize(
    ("height_m", "km_h"),
    # √(2gH), by hand; 10 m boards are said to give "about 50 km/h"
    [(1.0, 15.9), (3.0, 27.6), (5.0, 35.7), (10.0, 50.4), (27.0, 82.8)],
)
def test_a_jump_arrives_at_the_speed_of_free_fall(height_m: float, km_h: float) -> None:
    speed = bench.jump(height_m).values()["speed_m_s"]
    assert isinstance(speed, float)
    assert speed * 3.6 == pytest.approx(km_h, abs=0.06)


def test_twenty_bar_on_thirty_millimetres_are_as_much_as_two_grown_people() -> None:
    # π/4 · 9 cm² · 20.394 kgf/cm² = 144 kgf
    assert force_n(20e5, 0.030) / 9.80665 == pytest.approx(144.2, abs=0.1)


def test_ten_kelvin_more_age_rubber_two_to_three_and_a_half_times_faster() -> None:
    # The chemist's rule of thumb for 50–90 kJ/mol near room temperature, textbook
    for ea_kj, low, high in ((50, 1.9, 2.1), (65, 2.2, 2.5), (80, 2.7, 3.0), (92, 3.1, 3.5)):
        assert low < heat.ageing_rate(31.0, ea_kj * 1e3) < high


def test_arrhenius_by_the_formula_of_iso_11346() -> None:
    # ISO 11346 (rubber, estimation of life): ln(t₁/t₂) = Ea/R (1/T₁ − 1/T₂), form from memory
    rate = heat.ageing_rate(60.0, 80_000.0)
    assert math.log(rate) == pytest.approx(80_000 / 8.314462618 * (1 / 294.15 - 1 / 333.15), rel=1e-12)
