"""Pressure from water: the column against the integral, round trips, conventions, bases."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from logbook.physics import water
from logbook.physics.water import WaterColumn
from tests.effort import tries

SEA = WaterColumn(35.0, 15.0, 45.0)
STANDARD_OCEAN = WaterColumn(35.0, 0.0, 45.0)
POOL = WaterColumn(0.0, 20.0, 45.0)

columns = st.builds(
    WaterColumn,
    st.floats(0, 42),
    st.floats(-1, 35),
    st.floats(-90, 90),
)
depths_m = st.floats(0.01, 400)


def integral_pa(depth_m: float, column: WaterColumn) -> float:
    """Gauge pressure from dp/dz = ρ(p) g(p), integrated step by step from the surface."""

    def slope(_depth: float, pressure: list[float]) -> list[float]:
        gauge_pa = float(pressure[0])
        return [water.density_kg_m3(column, gauge_pa) * water.gravity_m_s2(column, gauge_pa)]

    solved = solve_ivp(slope, (0, depth_m), [0.0], method="DOP853", rtol=1e-11, atol=1e-5)
    return float(solved.y[0][-1])


@pytest.mark.parametrize(
    ("depth_m", "column", "gauge_pa"),
    [(10, SEA, 100_611.5), (100, SEA, 1_006_320.7), (10, POOL, 97_888.5), (100, STANDARD_OCEAN, 1_008_429.0)],
)
def test_known_pressures_come_out_to_a_tenth_of_a_pascal(
    depth_m: float, column: WaterColumn, gauge_pa: float
) -> None:
    # Column integrals with gsw 3.6 and scipy; the last one as gsw.p_from_z has it.
    assert water.gauge_pa_at_depth(depth_m, column) == pytest.approx(gauge_pa, abs=0.06)


@pytest.mark.parametrize("depth_m", [0.1, 1.0, 30.0, 100.0, 300.0, 400.0])
@pytest.mark.parametrize(
    "column",
    [SEA, POOL, WaterColumn(40.0, 30.0, 0.0), WaterColumn(0.0, 0.0, 90.0), WaterColumn(12.0, 4.0, -60.0)],
)
def test_the_iteration_agrees_with_the_column_integral(depth_m: float, column: WaterColumn) -> None:
    # 1 Pa at 300 m is what is needed; 0.01 Pa is what two Gauss points give.
    assert water.gauge_pa_at_depth(depth_m, column) == pytest.approx(integral_pa(depth_m, column), abs=0.01)


@settings(max_examples=tries(15), deadline=None)
@given(depth_m=depths_m, column=columns)
def test_the_iteration_agrees_with_the_integral_in_any_water(depth_m: float, column: WaterColumn) -> None:
    assert water.gauge_pa_at_depth(depth_m, column) == pytest.approx(integral_pa(depth_m, column), abs=0.01)


@settings(deadline=None)
@given(depth_m=depths_m, column=columns)
def test_depth_to_pressure_and_back_is_the_same_depth(depth_m: float, column: WaterColumn) -> None:
    gauge_pa = water.gauge_pa_at_depth(depth_m, column)
    assert water.depth_m_at_gauge(gauge_pa, column) == pytest.approx(depth_m, abs=1e-9)


@settings(deadline=None)
@given(gauge_pa=st.floats(1, 4e6), column=columns)
def test_pressure_to_depth_and_back_is_the_same_pressure(gauge_pa: float, column: WaterColumn) -> None:
    depth_m = water.depth_m_at_gauge(gauge_pa, column)
    assert water.gauge_pa_at_depth(depth_m, column) == pytest.approx(gauge_pa, abs=1e-4)


@settings(deadline=None)
@given(depth_m=depths_m, more_m=st.floats(0.01, 50), column=columns)
def test_deeper_is_always_more_pressure(depth_m: float, more_m: float, column: WaterColumn) -> None:
    shallow = water.gauge_pa_at_depth(depth_m, column)
    assert water.gauge_pa_at_depth(depth_m + more_m, column) > shallow


@settings(deadline=None)
@given(depth_m=depths_m, salinity=st.floats(0, 38), more=st.floats(0.1, 4), surface_c=st.floats(0, 35))
def test_saltier_water_presses_more(depth_m: float, salinity: float, more: float, surface_c: float) -> None:
    fresher = WaterColumn(salinity, surface_c, 45.0)
    saltier = WaterColumn(salinity + more, surface_c, 45.0)
    assert water.gauge_pa_at_depth(depth_m, saltier) > water.gauge_pa_at_depth(depth_m, fresher)


@settings(deadline=None)
@given(depth_m=depths_m, surface_c=st.floats(5, 30), warmer_k=st.floats(0.5, 10))
def test_warmer_sea_presses_less(depth_m: float, surface_c: float, warmer_k: float) -> None:
    cold, warm = WaterColumn(35.0, surface_c, 45.0), WaterColumn(35.0, surface_c + warmer_k, 45.0)
    assert water.gauge_pa_at_depth(depth_m, warm) < water.gauge_pa_at_depth(depth_m, cold)


@settings(deadline=None)
@given(latitude=st.floats(0, 85), further=st.floats(0.5, 5))
def test_the_same_depth_presses_more_towards_either_pole(latitude: float, further: float) -> None:
    near, far = WaterColumn(35.0, 15.0, latitude), WaterColumn(35.0, 15.0, latitude + further)
    south = WaterColumn(35.0, 15.0, -latitude)
    assert water.gauge_pa_at_depth(30, far) > water.gauge_pa_at_depth(30, near)
    assert water.gauge_pa_at_depth(30, south) == pytest.approx(water.gauge_pa_at_depth(30, near), rel=1e-12)


@settings(deadline=None)
@given(gauge_pa=st.floats(0, 4e6), column=columns)
def test_deeper_water_is_denser(gauge_pa: float, column: WaterColumn) -> None:
    assert water.density_kg_m3(column, gauge_pa + 1e4) > water.density_kg_m3(column, gauge_pa)


@pytest.mark.parametrize("depth_m", [0.0, -0.0, -0.3, -1e9])
@pytest.mark.parametrize("basis", ["EN 13319", "fresh", "true"])
def test_nothing_above_the_surface_has_a_gauge_pressure(depth_m: float, basis: water.Basis) -> None:
    assert water.gauge_pa_for(depth_m, basis, SEA) == 0.0


@pytest.mark.parametrize("gauge_pa", [0.0, -1.0, -5e4])
def test_no_pressure_is_no_depth(gauge_pa: float) -> None:
    assert water.depth_m_at_gauge(gauge_pa, SEA) == 0.0
    assert water.en13319_depth_m(gauge_pa) == 0.0


def test_an_instruments_twenty_metres_are_two_bar_in_any_water() -> None:
    for column in (SEA, POOL, None):
        assert water.gauge_pa_for(20.0, "EN 13319", column) == pytest.approx(2.0e5, rel=2e-5)


def test_twenty_true_metres_in_a_lake_are_less_than_an_instruments_twenty() -> None:
    lake = WaterColumn(0.0, 6.0, 45.0)
    assert water.gauge_pa_for(20.0, "true", lake) < water.gauge_pa_for(20.0, "EN 13319")
    assert water.gauge_pa_for(20.0, "fresh") == pytest.approx(196_133.0, abs=1e-6)


def test_a_true_depth_is_that_of_the_column() -> None:
    assert water.gauge_pa_for(21.0, "true", SEA) == water.gauge_pa_at_depth(21.0, SEA)


@given(depth_m=depths_m)
def test_the_en_13319_depth_goes_there_and_back(depth_m: float) -> None:
    assert water.en13319_depth_m(water.gauge_pa_for(depth_m, "EN 13319")) == pytest.approx(depth_m, rel=1e-12)


def test_a_true_depth_without_water_is_refused() -> None:
    with pytest.raises(ValueError, match="a true depth needs the water"):
        water.gauge_pa_for(10.0, "true")


def test_an_unknown_basis_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="EN 13319, fresh or true, not salty"):
        water.gauge_pa_for(10.0, "salty", SEA)  # type: ignore[arg-type]


@pytest.mark.parametrize("depth_m", [math.nan, math.inf, 20_000.0])
def test_a_depth_that_cannot_be_is_refused(depth_m: float) -> None:
    with pytest.raises(ValueError, match="depth must be 11000 m or less"):
        water.gauge_pa_at_depth(depth_m, SEA)


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_a_convention_refuses_what_is_no_number(number: float) -> None:
    with pytest.raises(ValueError, match="must be a number"):
        water.gauge_pa_for(number, "EN 13319")
    with pytest.raises(ValueError, match="must be a number"):
        water.en13319_depth_m(number)


@pytest.mark.parametrize(
    ("salinity", "surface_c", "latitude", "named"),
    [
        (-0.1, 15.0, 45.0, "practical salinity"),
        (60.1, 15.0, 45.0, "practical salinity"),
        (math.nan, 15.0, 45.0, "practical salinity"),
        (35.0, -20.0, 45.0, "water temperature"),
        (35.0, 60.1, 45.0, "water temperature"),
        (35.0, 15.0, 90.5, "latitude"),
    ],
)
def test_a_water_that_cannot_be_is_refused(
    salinity: float, surface_c: float, latitude: float, named: str
) -> None:
    with pytest.raises(ValueError, match=named):
        WaterColumn(salinity, surface_c, latitude)


@pytest.mark.parametrize("salinity", [0.0, 12.0, 35.0, 42.0, 50.0, 60.0])
@pytest.mark.parametrize("surface_c", [-2.0, 15.0, 30.0, 40.0, 50.0, 60.0])
def test_the_fitted_density_is_near_the_exact_gibbs_function_as_far_as_it_is_let(
    salinity: float, surface_c: float
) -> None:
    import gsw

    exact = float(gsw.rho_t_exact(water.reference_salinity_g_kg(salinity), surface_c, 0.0))
    assert water.density_kg_m3(WaterColumn(salinity, surface_c, 45.0)) == pytest.approx(exact, abs=0.05)


def test_reference_salinity_is_more_than_practical_salinity() -> None:
    assert water.reference_salinity_g_kg(35.0) == pytest.approx(35.16504, abs=1e-12)
    assert water.reference_salinity_g_kg(0.0) == 0.0


def test_practical_salinity_is_never_passed_off_as_absolute() -> None:
    # Taking 35 for S_A would lose 0.13 kg/m³ of 1025.97.
    import gsw

    mistaken = float(gsw.rho(35.0, gsw.CT_from_t(35.0, 15.0, 0.0), 0.0))
    assert water.density_kg_m3(SEA) - mistaken == pytest.approx(0.127, abs=0.01)


def test_every_convention_names_its_source_and_unit() -> None:
    for convention in water.CONVENTIONS.values():
        assert convention.source
        assert convention.unit in ("m", "ft")
        assert convention.pa_per_unit > 0


def test_conventions_do_not_load_the_sea_water_library() -> None:
    code = (
        "import sys\n"
        "from logbook.physics import air, bench, fog, heat, motion, water, worked\n"
        "water.gauge_pa_for(20.0, 'EN 13319'); water.gauge_pa_for(5.0, 'fresh')\n"
        "print([m for m in ('gsw', 'numpy', 'scipy', 'pint', 'textual', 'sqlmodel') if m in sys.modules])\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("latitude", "gravity"),
    # Normal gravity of GRS 80: 9.7803267715 m/s² at the equator, 9.8321863685 m/s² at the poles.
    [(0.0, 9.7803267715), (90.0, 9.8321863685)],
)
@pytest.mark.parametrize("depth_m", [0.5, 10.0, 300.0])
def test_a_brine_presses_by_its_own_density(latitude: float, gravity: float, depth_m: float) -> None:
    brine = WaterColumn(280.0, 25.0, latitude, 1190.0)
    assert water.gauge_pa_at_depth(depth_m, brine) == pytest.approx(1190.0 * gravity * depth_m, rel=1e-7)
    assert water.depth_m_at_gauge(1190.0 * gravity * depth_m, brine) == pytest.approx(depth_m, rel=1e-7)


def test_the_salinity_of_a_brine_may_be_any_since_its_density_is_given() -> None:
    assert WaterColumn(340.0, 25.0, 45.0, 1240.0).given_kg_m3 == 1240.0
    with pytest.raises(ValueError, match="density must be above 0"):
        WaterColumn(340.0, 25.0, 45.0, 0.0)
