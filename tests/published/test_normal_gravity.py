"""Gravity by latitude against the formula of the Geodetic Reference System 1980.

Source: Moritz, Geodetic Reference System 1980, J. Geodesy 74 (2000) 128–133: Somigliana's closed form, with
γ_e = 9.7803267715 m/s², k = 0.001931851353, e² = 0.00669438002290 (from memory).
Tolerance: 1e-6 m/s², ten times the last digit of the series that TEOS-10 uses for it.
"""

from __future__ import annotations

import math

import pytest

from logbook.physics import water
from logbook.physics.water import WaterColumn


@pytest.mark.parametrize("latitude", [-90, -33.5, 0, 15, 30, 45, 60, 75, 90])
def test_gravity_at_the_surface_is_the_normal_gravity(latitude: float) -> None:
    sin2 = math.sin(math.radians(latitude)) ** 2
    normal = 9.7803267715 * (1 + 0.001931851353 * sin2) / math.sqrt(1 - 0.00669438002290 * sin2)
    assert water.gravity_m_s2(WaterColumn(35.0, 10.0, latitude)) == pytest.approx(normal, abs=1e-6)
