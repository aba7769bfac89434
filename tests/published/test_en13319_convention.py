"""The conventions between depth and pressure that instruments and the watch trade use.

Sources: EN 13319:2000 (diving accessories: depth gauges): sea water of 1019.7 kg/m³, so that 1 bar is 10 m,
from memory; g = 9.80665 m/s² (3rd CGPM, 1901). Metre and foot of sea water: 10 kPa and 3064.3 Pa, common
practice (1 msw = 1/10 bar by definition; 33.066 fsw to the atmosphere). Watch trade: 10 m = 1 bar, common
practice, no source.
Tolerance: exact products, to rounding; where "1 bar = 10 m" is meant, its own 2 parts in 100 000.
"""

from __future__ import annotations

import pytest

from logbook.physics import water


@pytest.mark.parametrize("depth_m", [3.0, 10.0, 18.0, 30.0, 40.0, 60.0, 100.0, 300.0])
def test_ten_metres_are_one_bar_within_the_conventions_rounding(depth_m: float) -> None:
    gauge_pa = water.gauge_pa_for(depth_m, "EN 13319")
    assert gauge_pa == pytest.approx(depth_m * 1e4, rel=2e-5)
    assert gauge_pa == pytest.approx(1019.7 * 9.80665 * depth_m, rel=1e-14)


def test_one_bar_is_read_as_ten_metres() -> None:
    assert water.en13319_depth_m(1e5) == pytest.approx(10.0, abs=0.0002)


@pytest.mark.parametrize(
    ("name", "pa", "unit"),
    [
        ("EN 13319", 9999.841005, "m"),
        ("fresh", 9806.65, "m"),
        ("metre of sea water", 10_000.0, "m"),
        ("foot of sea water", 3064.3, "ft"),
        ("10 m = 1 bar", 10_000.0, "m"),
    ],
)
def test_a_convention_has_its_printed_factor(name: str, pa: float, unit: str) -> None:
    convention = water.CONVENTIONS[name]
    assert convention.pa_per_unit == pytest.approx(pa, rel=1e-12)
    assert convention.unit == unit


def test_the_foot_of_sea_water_is_one_of_33_066_to_the_atmosphere() -> None:
    assert water.CONVENTIONS["foot of sea water"].pa_per_unit == pytest.approx(101_325 / 33.066, abs=0.05)


def test_a_foot_of_sea_water_is_less_than_a_foot_of_the_metre_convention_by_its_own_water() -> None:
    # 0.3048 msw = 3048 Pa; the foot stands for 1025.2 kg/m³ instead of 1019.7.
    foot = water.CONVENTIONS["foot of sea water"].pa_per_unit
    assert foot / 0.3048 / 9.80665 == pytest.approx(1025.2, abs=0.1)


@pytest.mark.parametrize(
    ("salinity", "surface_c", "shown_m"),
    # An instrument in 30 true metres: by hand 30 · ρ g / 9999.841, ρ of EOS-80 at 1.5 bar, g = 9.8062.
    [(35.0, 15.0, 30.185), (38.0, 20.0, 30.217), (0.0, 6.0, 29.420)],
)
def test_an_instrument_in_thirty_true_metres_shows_what_its_water_makes_it_show(
    salinity: float, surface_c: float, shown_m: float
) -> None:
    column = water.WaterColumn(salinity, surface_c, 45.0)
    assert water.en13319_depth_m(water.gauge_pa_at_depth(30.0, column)) == pytest.approx(shown_m, abs=0.001)
