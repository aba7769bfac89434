"""The activation energy at which a rate doubles: an exercise of school chemistry.

Source: NCERT, Chemistry for class XII, chapter Chemical Kinetics, exercise 8 (book and chapter from memory):
a rate that doubles for 10 K more than 298 K; its solution, looked up: 52 897.78 J/mol, printed as 52.9
kJ/mol, with R = 8.314 J/(mol K) and logarithms of four digits (2.303, 0.3010).
Tolerance: 0.1 % of the energy for those digits, which is 0.07 % of the rate.
"""

from __future__ import annotations

import pytest

from logbook.physics import heat

ZERO_C = 273.15


def test_the_rate_doubles_from_298_to_308_kelvin() -> None:
    assert heat.ageing_rate(308 - ZERO_C, 52_897.78, 298 - ZERO_C) == pytest.approx(2, rel=1e-3)


def test_the_shipped_energy_more_than_doubles_it() -> None:
    # 80 kJ/mol is more than the exercise's 52.9: 2^(80/52.9) = 2.85.
    assert heat.ageing_rate(308 - ZERO_C, 80e3, 298 - ZERO_C) == pytest.approx(
        2 ** (80_000 / 52_897.78), rel=1e-3
    )
