"""Fresh water against the international formulation for pure water, and against the tables of metrology.

Sources: IAPWS-95 (Wagner & Pruß 2002) as in the iapws library 1.5 (PyPI); Tanaka et al., Metrologia 38 (2001)
301–309, the CIPM table of air-free water at 101 325 Pa, values from memory.
Tolerance: 0.005 kg/m³ from 0 to 50 °C (5 parts in 1 000 000): the 75-term form of TEOS-10 is a fit, made for
the ocean, to a formulation that itself has IAPWS-95 for pure water. Under pressure the same.
Real lakes and pools hold salts (up to about 1 kg/m³) and are not meant by that tolerance.
"""

from __future__ import annotations

import pytest

from logbook.physics import water
from logbook.physics.water import WaterColumn

# t (°C), density (kg/m³): CIPM, from memory
CIPM = [
    (0, 999.843),
    (4, 999.975),
    (5, 999.967),
    (10, 999.703),
    (15, 999.103),
    (20, 998.207),
    (25, 997.047),
    (30, 995.649),
    (35, 994.033),
    (40, 992.215),
]


@pytest.mark.parametrize(("temp_c", "density"), CIPM)
def test_fresh_water_has_the_density_of_the_metrologists_table(temp_c: float, density: float) -> None:
    assert water.density_kg_m3(WaterColumn(0.0, temp_c, 45.0)) == pytest.approx(density, abs=0.005)


@pytest.mark.parametrize("temp_c", [0.5, 4, 8, 12, 18, 22, 27, 33, 38, 42, 50])
def test_fresh_water_has_the_density_of_iapws_95(temp_c: float) -> None:
    from iapws import IAPWS95

    expected = IAPWS95(T=temp_c + 273.15, P=0.101325).rho
    assert water.density_kg_m3(WaterColumn(0.0, temp_c, 45.0)) == pytest.approx(expected, abs=0.005)


@pytest.mark.parametrize("bar", [0.5, 2.0, 10.0, 30.0])
@pytest.mark.parametrize("temp_c", [4, 20])
def test_fresh_water_under_pressure_has_the_density_of_iapws_95(temp_c: float, bar: float) -> None:
    import gsw
    from iapws import IAPWS95

    column = WaterColumn(0.0, temp_c, 45.0)
    # Θ is the same all the way down; in situ it is a few hundredths of a kelvin warmer or colder.
    in_situ_c = float(gsw.t_from_CT(0.0, gsw.CT_from_t(0.0, temp_c, 0.0), bar * 10))
    expected = IAPWS95(T=in_situ_c + 273.15, P=0.101325 + bar / 10).rho
    assert water.density_kg_m3(column, bar * 1e5) == pytest.approx(expected, abs=0.005)


def test_a_pool_of_ten_metres_presses_with_the_weight_of_its_water() -> None:
    # By hand: 998.207 kg/m³ · 9.80620 m/s² · 10 m = 97 886 Pa, and 2 Pa for compression.
    assert water.gauge_pa_at_depth(10.0, WaterColumn(0.0, 20.0, 45.0)) == pytest.approx(97_888.5, abs=1.0)
