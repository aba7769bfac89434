"""Depth from pressure against the formula that oceanographers used before TEOS-10.

Source: Fofonoff & Millard, UNESCO Technical Papers in Marine Science 44 (1983), p. 25–28 (Saunders and
Fofonoff's method, for a standard ocean of S = 35 and t = 0 °C). Formula and table from memory; the printed
check value 9712.653 m and the table prove the formula.

Tolerance against this program down to 1000 dbar: 5 parts in 1 000 000 of the formula (two equations of state
and two gravity systems), and half of the last printed digit where the table is meant.
"""

from __future__ import annotations

import math

import pytest

from logbook.physics import water
from logbook.physics.water import WaterColumn


def unesco44_depth_m(p_dbar: float, latitude_deg: float) -> float:
    """Depth in m at a sea pressure in dbar; UNESCO 44, equation 25 with gravity of the 1967 system."""
    x = math.sin(latitude_deg / 57.29578) ** 2
    gravity = 9.780318 * (1 + (5.2788e-3 + 2.36e-5 * x) * x) + 1.092e-6 * p_dbar
    return (((-1.82e-15 * p_dbar + 2.279e-10) * p_dbar - 2.2512e-5) * p_dbar + 9.72659) * p_dbar / gravity


# UNESCO 44 (1983), table on p. 28: p (dbar), depth (m) at latitudes 0, 30, 45, 60, 90°
LATITUDES = (0, 30, 45, 60, 90)
TABLE = {
    500: (496.65, 496.00, 495.34, 494.69, 494.03),
    1000: (992.12, 990.81, 989.50, 988.19, 986.88),
    2000: (1979.55, 1976.94, 1974.33, 1971.72, 1969.11),
    5000: (4915.04, 4908.56, 4902.08, 4895.60, 4889.13),
    10000: (9725.47, 9712.65, 9699.84, 9687.03, 9674.23),
}
POINTS = [(p, latitude, z) for p, row in TABLE.items() for latitude, z in zip(LATITUDES, row, strict=True)]


@pytest.mark.parametrize(("p_dbar", "latitude", "depth_m"), POINTS)
def test_the_oracle_gives_the_printed_table(p_dbar: float, latitude: float, depth_m: float) -> None:
    assert unesco44_depth_m(p_dbar, latitude) == pytest.approx(depth_m, abs=0.0055)


def test_the_oracle_gives_the_printed_check_value() -> None:
    assert unesco44_depth_m(10_000, 30) == pytest.approx(9712.653, abs=5e-4)


@pytest.mark.parametrize(("p_dbar", "latitude", "depth_m"), [p for p in POINTS if p[0] <= 1000])
def test_depth_agrees_with_the_printed_table(p_dbar: float, latitude: float, depth_m: float) -> None:
    ocean = WaterColumn(35.0, 0.0, latitude)
    assert water.depth_m_at_gauge(p_dbar * 1e4, ocean) == pytest.approx(depth_m, abs=0.0075)


@pytest.mark.parametrize("p_dbar", [1, 5, 10, 30, 60, 100, 200, 300])
@pytest.mark.parametrize("latitude", [0, 45, 70])
def test_depth_agrees_at_depths_that_people_dive(p_dbar: float, latitude: float) -> None:
    ocean = WaterColumn(35.0, 0.0, latitude)
    expected_m = unesco44_depth_m(p_dbar, latitude)
    assert water.depth_m_at_gauge(p_dbar * 1e4, ocean) == pytest.approx(expected_m, rel=5e-6)


def test_ten_kilometres_down_the_two_still_agree() -> None:
    # By TEOS-10 it is 9713.7 m: 1 part in 9000 more, which is EOS-80's error under 1000 bar.
    assert water.depth_m_at_gauge(1e8, WaterColumn(35.0, 0.0, 30.0)) == pytest.approx(9712.653, abs=1.5)
