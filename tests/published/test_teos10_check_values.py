"""TEOS-10 check values: the authority's own numbers through this program's functions.

Source: the check casts of the Gibbs SeaWater toolbox, version 3.06 (file gsw_cv_v3_0.npz, shipped with the
gsw library 3.6.23; IOC, SCOR and IAPSO 2010), and the worked examples of the TEOS-10 web documentation of
gsw_z_from_p and gsw_rho. They show that density, gravity, salinity and depth are asked of the right
functions with the right arguments, units and order.

Tolerance: the stored digits (12 decimals; 10 for density and height), times a few roundings.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from logbook.physics import water
from logbook.physics.water import WaterColumn

# Three casts, every few levels down to 1314 dbar, two lines to a level:
# latitude, p (dbar), S_P, S_R (g/kg), S_A (g/kg), Θ (°C), θ (°C), ρ (kg/m³), g (m/s²), z (m)
LEVELS = """
11  0  34.306287392600  34.468056240350  34.468236430491
    27.996436412058  27.962000000000  1021.8863044505  9.782207133388  -0.0000000000
11  10  34.336036124764  34.497945250537  34.498127066969
    27.993857176639  27.960649745405  1021.9512476509  9.782229115002  -9.9429275237
11  20  34.344506288190  34.506455354413  34.506638187759
    27.944017615968  27.911304862451  1022.0158493295  9.782251095548  -19.8853722291
11  30  34.376395569773  34.538495007625  34.538681016234
    27.948372399994  27.916954477115  1022.0801019415  9.782273075027  -29.8273342654
11  50  34.375198001392  34.537291792196  34.537494144120
    27.793319415509  27.762302527552  1022.2138568654  9.782317030785  -49.7098109259
11  126  34.955181000001  35.120009659208  35.120438897291
    23.379819100984  23.380931409249  1024.3295297520  9.782484023797  -125.2456408872
11  252  34.442737999979  34.605150270822  34.607557553700
    12.005102801104  12.004161572717  1027.2829528133  9.782760745351  -250.4149034226
11  505  34.490699999752  34.653338431980  34.659200598798
    7.225985873261  7.226974799926  1029.2877306643  9.783315877381  -501.5173777491
11  909  34.532505000118  34.695340560838  34.705236854353
    4.841880414838  4.842769286438  1031.4980914997  9.784200940320  -901.8572642973
11  1314  34.574996999975  34.738032928685  34.751384593257
    3.288334099331  3.288855945471  1033.5789377045  9.785086493248  -1302.4187876422
9.5  0  34.394580886104  34.556766075517  34.556977983037
    27.322890736363  27.294000000000  1022.1689924980  9.781733669062  -0.0000000000
9.5  10  34.398471787038  34.560675323716  34.560890150823
    27.259250907135  27.230695055657  1022.2344776709  9.781755650676  -9.9434087897
9.5  20  34.457857169997  34.620340734207  34.620556842746
    27.324727781586  27.298379959507  1022.2996204930  9.781777631222  -19.8863347367
9.5  30  34.468477286293  34.631010928902  34.631234657709
    27.278872450631  27.253077190660  1022.3643845232  9.781799610701  -29.8287779901
9.5  50  34.494339000023  34.656994591696  34.657240399095
    26.984519550842  26.960549482037  1022.5620283631  9.781843566459  -49.7122170116
9.5  126  34.808174000000  34.972309458199  34.973045687522
    18.793132674083  18.795734722848  1025.4770751744  9.782010559471  -125.2517030543
9.5  252  34.641543999957  34.804893726293  34.808134746298
    10.402386746022  10.405978316687  1027.7374665488  9.782287281024  -250.4270238884
9.5  505  34.590336000130  34.753444258801  34.758986639149
    8.008719380959  8.011340630697  1029.2425679504  9.782842413052  -501.5416512715
9.5  909  34.546360000042  34.709260893025  34.718723829149
    5.117058424764  5.118223462581  1031.4705445858  9.783727475984  -901.9009123609
9.5  1314  34.577103000009  34.740148859413  34.753016799405
    3.595968777824  3.596696836995  1033.5395836760  9.784613028902  -1302.4818192194
59  0  6.568259000000  6.599231156153  6.669904340925
    10.502767735302  10.046000000000  1004.8817901579  9.818385590850  -0.0000000000
59  10  6.671905000000  6.703365891463  6.773781441891
    9.545454679961  9.127266794144  1005.1013463774  9.818407572464  -9.9062901993
59  20  6.810767000000  6.842882685305  6.912953064477
    7.385347272603  7.053205437419  1005.4251810838  9.818429553010  -19.8120994414
59  30  7.034835000000  7.068007261954  7.137520672097
    5.197159567328  4.953338867643  1005.7612760648  9.818451532490  -29.7174278749
59  50  7.482537000000  7.517820368757  7.586220919642
    3.288746172278  3.123073284238  1006.2616396527  9.818495488250  -49.5266429093
"""


class Level(NamedTuple):
    """One level of a check cast."""

    latitude_deg: float
    p_dbar: float
    practical_salinity: float
    reference_salinity_g_kg: float
    absolute_salinity_g_kg: float
    conservative_c: float
    potential_c: float
    density_kg_m3: float
    gravity_m_s2: float
    z_m: float

    def column(self) -> WaterColumn:
        """The column that has this level's water: at the surface the in-situ temperature is the potential
        one, and the practical salinity is that whose reference salinity is the level's Absolute Salinity."""
        return WaterColumn(self.absolute_salinity_g_kg * 35 / 35.16504, self.potential_c, self.latitude_deg)


NUMBERS = [float(number) for number in LEVELS.split()]
CASTS = [Level(*NUMBERS[start : start + 10]) for start in range(0, len(NUMBERS), 10)]
each_level = pytest.mark.parametrize(
    "level", CASTS, ids=[f"{level.latitude_deg:g}N-{level.p_dbar:g}dbar" for level in CASTS]
)

# gsw_z_from_p, worked example of the web documentation: latitude 4°, z in m
Z_EXAMPLE = [
    (10, -9.9445834469453),
    (50, -49.7180897012550),
    (125, -124.2726219409978),
    (250, -248.4700576548589),
    (600, -595.8253480356214),
    (1000, -992.0919060719987),
]
# gsw_rho, worked example of the web documentation: S_A (g/kg), Θ (°C), p (dbar), ρ (kg/m³)
RHO_EXAMPLE = [
    (34.7118, 28.8099, 10, 1021.839935738108),
    (34.8915, 28.4392, 50, 1022.262457966867),
    (35.0256, 22.7862, 125, 1024.427195413316),
    (34.8472, 10.2262, 250, 1027.790152759127),
    (34.7366, 6.8272, 600, 1029.837779000189),
    (34.7324, 4.3236, 1000, 1032.002453224572),
]


def test_there_are_enough_levels() -> None:
    assert len(CASTS) == 25


@each_level
def test_density_is_that_of_the_check_cast(level: Level) -> None:
    found = water.density_kg_m3(level.column(), level.p_dbar * 1e4)
    assert found == pytest.approx(level.density_kg_m3, abs=1e-9)


@each_level
def test_reference_salinity_is_that_of_the_check_cast(level: Level) -> None:
    found = water.reference_salinity_g_kg(level.practical_salinity)
    assert found == pytest.approx(level.reference_salinity_g_kg, abs=2e-12)


@each_level
def test_absolute_salinity_and_conservative_temperature_are_those_of_the_check_cast(level: Level) -> None:
    salinity_g_kg, conservative_c = water.salinity_and_temperature(level.column())
    assert salinity_g_kg == pytest.approx(level.absolute_salinity_g_kg, abs=2e-12)
    assert conservative_c == pytest.approx(level.conservative_c, abs=1e-11)


@each_level
def test_gravity_is_that_of_the_check_cast(level: Level) -> None:
    found = water.gravity_m_s2(level.column(), level.p_dbar * 1e4)
    assert found == pytest.approx(level.gravity_m_s2, abs=2e-12)


@each_level
def test_depth_in_the_standard_ocean_is_that_of_the_check_cast(level: Level) -> None:
    # z_from_p is for a standard ocean: S_A 35.16504 g/kg, Θ 0 °C. 1 µm is what two Gauss points leave.
    ocean = WaterColumn(35.0, 0.0, level.latitude_deg)
    assert water.depth_m_at_gauge(level.p_dbar * 1e4, ocean) == pytest.approx(-level.z_m, abs=1e-6)


@pytest.mark.parametrize(("p_dbar", "z_m"), Z_EXAMPLE)
def test_the_documented_heights_come_out(p_dbar: float, z_m: float) -> None:
    ocean = WaterColumn(35.0, 0.0, 4.0)
    assert water.depth_m_at_gauge(p_dbar * 1e4, ocean) == pytest.approx(-z_m, abs=1e-6)
    assert water.gauge_pa_at_depth(-z_m, ocean) == pytest.approx(p_dbar * 1e4, abs=0.01)


@pytest.mark.parametrize(("sa", "conservative_c", "p_dbar", "rho"), RHO_EXAMPLE)
def test_the_documented_densities_come_out(
    sa: float, conservative_c: float, p_dbar: float, rho: float
) -> None:
    import gsw

    column = WaterColumn(sa * 35 / 35.16504, float(gsw.pt_from_CT(sa, conservative_c)), 4.0)
    assert water.density_kg_m3(column, p_dbar * 1e4) == pytest.approx(rho, abs=1e-9)


def test_pressure_from_the_standard_ocean_is_not_used_for_warm_water() -> None:
    # gsw.p_from_z stands for water of 0 °C: 0.2 % more than at 15 °C, which is why it is a check only.
    import gsw

    standard_pa = float(gsw.p_from_z(-100.0, 45.0)) * 1e4
    assert water.gauge_pa_at_depth(100.0, WaterColumn(35.0, 0.0, 45.0)) == pytest.approx(
        standard_pa, abs=0.01
    )
    warm_pa = water.gauge_pa_at_depth(100.0, WaterColumn(35.0, 15.0, 45.0))
    assert standard_pa / warm_pa - 1 == pytest.approx(0.0021, abs=0.0001)
