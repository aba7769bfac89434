"""Density against EOS-80, the equation of state before TEOS-10.

Source: Fofonoff & Millard, UNESCO Technical Papers in Marine Science 44 (1983), p. 15–19: one-atmosphere
equation of state and secant bulk modulus. The coefficients below and the table of p. 19 are from memory; the
table values prove the coefficients, since none could be wrong without moving them (to one unit of the last
printed digit: it was computed in single precision).

Scale: EOS-80 takes IPTS-68 temperatures, t68 = 1.00024 · t90 (Saunders 1990).

Tolerance against TEOS-10: 0.01 kg/m³ (1 part in 100 000). The two are different fits to different
measurements: EOS-80 states a standard error of 0.0035 kg/m³ for itself, its pure water is older than
IAPWS-95, and the 75-term form is made for the ocean, so that brackish warm water is its weakest corner. The
tolerance is three of those errors, and 0.1 Pa per metre of depth. A practical salinity passed off as absolute
would be 0.13 kg/m³ off.
"""

from __future__ import annotations

import pytest

from logbook.physics import water
from logbook.physics.water import WaterColumn


def poly(x: float, *coefficients: float) -> float:
    """Sum of coefficients · xⁿ, lowest power first."""
    return sum(c * x**n for n, c in enumerate(coefficients))


def eos80_surface_kg_m3(s: float, t68: float) -> float:
    """One-atmosphere density; UNESCO 44, p. 17, equations 14 and 15."""
    pure = poly(t68, 999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9)
    b = poly(t68, 8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
    c = poly(t68, -5.72466e-3, 1.0227e-4, -1.6546e-6)
    return pure + b * s + c * s**1.5 + 4.8314e-4 * s**2


def eos80_kg_m3(s: float, t68: float, bar: float) -> float:
    """Density at a gauge pressure in bar by the secant bulk modulus; UNESCO 44, p. 15–18."""
    k = poly(t68, 19652.21, 148.4206, -2.327105, 1.360477e-2, -5.155288e-5)
    k += s * poly(t68, 54.6746, -0.603459, 1.09987e-2, -6.1670e-5)
    k += s**1.5 * poly(t68, 7.944e-2, 1.6483e-2, -5.3009e-4)
    a = poly(t68, 3.239908, 1.43713e-3, 1.16092e-4, -5.77905e-7)
    a += s * poly(t68, 2.2838e-3, -1.0981e-5, -1.6078e-6) + 1.91075e-4 * s**1.5
    b = poly(t68, 8.50935e-5, -6.12293e-6, 5.2787e-8) + s * poly(t68, -9.9348e-7, 2.0816e-8, 9.1697e-10)
    return eos80_surface_kg_m3(s, t68) / (1 - bar / (k + a * bar + b * bar**2))


# UNESCO 44 (1983), table on p. 19: S, t68 (°C), gauge pressure (bar), density (kg/m³)
TABLE = [
    (0, 5, 0, 999.96675),
    (0, 5, 1000, 1044.12802),
    (0, 25, 0, 997.04796),
    (0, 25, 1000, 1037.90204),
    (35, 5, 0, 1027.67547),
    (35, 5, 1000, 1069.48914),
    (35, 25, 0, 1023.34306),
    (35, 25, 1000, 1062.53817),
    (0, 0, 0, 999.842594),
    (35, 0, 0, 1028.106331),
    (40, 40, 1000, 1059.82037),
]


@pytest.mark.parametrize(("s", "t68", "bar", "density"), TABLE)
def test_the_oracle_gives_the_printed_table(s: float, t68: float, bar: float, density: float) -> None:
    assert eos80_kg_m3(s, t68, bar) == pytest.approx(density, abs=1e-5)


@pytest.mark.parametrize("s", [0.0, 5.0, 12.0, 20.0, 35.0, 38.0, 40.0])
@pytest.mark.parametrize("t90", [0.0, 4.0, 10.0, 15.0, 20.0, 25.0, 30.0])
def test_surface_density_agrees_with_eos80(s: float, t90: float) -> None:
    found = water.density_kg_m3(WaterColumn(s, t90, 45.0))
    assert found == pytest.approx(eos80_surface_kg_m3(s, 1.00024 * t90), abs=0.01)


@pytest.mark.parametrize(("s", "t68", "density"), [(0, 0, 999.842594), (35, 0, 1028.106331)])
def test_the_two_best_known_densities_agree(s: float, t68: float, density: float) -> None:
    assert water.density_kg_m3(WaterColumn(s, t68 / 1.00024, 45.0)) == pytest.approx(density, abs=0.01)


@pytest.mark.parametrize("s", [0.0, 20.0, 35.0])
@pytest.mark.parametrize("bar", [1.0, 10.0, 30.0])
def test_density_at_depth_agrees_with_eos80(s: float, bar: float) -> None:
    # The column has one Conservative Temperature, EOS-80 asks for the one in situ: at 8 °C these part by less
    # than 0.03 K down to 300 m, which is 0.005 kg/m³.
    found = water.density_kg_m3(WaterColumn(s, 8.0, 45.0), bar * 1e5)
    assert found == pytest.approx(eos80_kg_m3(s, 1.00024 * 8.0, bar), abs=0.015)
