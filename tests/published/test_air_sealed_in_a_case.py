"""The pressure of air that was sealed in a tight case, at another temperature.

Sources: the ideal gas law at constant volume, p₂ = p₁ T₂ / T₁, textbook, recomputed by hand; ASHRAE Handbook,
Fundamentals 2017, ch. 1, eq. 28 (density of dry air), as in the psychrolib library 2.5; IAPWS Guideline G8-10
(humid air; the dry air of Lemmon et al. 2000, a real gas), as in the iapws library 1.5 (both PyPI).
Tolerance: the digits that are quoted; exact for ASHRAE's form, which is the same law; for the real gas 4
parts in 10 000 from −10 to 60 °C, which is what air differs from an ideal gas by there.
"""

from __future__ import annotations

import pytest

from logbook.physics import air

SEALED_C, SEALED_PA = 21.0, 101_325.0


@pytest.mark.parametrize(
    ("case_c", "more_bar", "digits_bar"),
    # 1.01325 bar · (333.15/294.15 − 1) = 0.134; 1.01325 bar · (278.15/294.15 − 1) = −0.0551: by hand.
    [(60.0, 0.13, 0.005), (5.0, -0.055, 0.0005), (21.0, 0.0, 0.0)],
)
def test_sealed_air_has_more_pressure_warm_and_less_cold(
    case_c: float, more_bar: float, digits_bar: float
) -> None:
    assert (air.case_air_pa(case_c) - SEALED_PA) / 1e5 == pytest.approx(more_bar, abs=digits_bar)


@pytest.mark.parametrize("case_c", [-10.0, 5.0, 33.0, 60.0])
def test_the_density_of_sealed_air_stays_that_of_the_day_it_was_closed(case_c: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    closed = psychrolib.GetDryAirDensity(SEALED_C, SEALED_PA)
    assert psychrolib.GetDryAirDensity(case_c, air.case_air_pa(case_c)) == pytest.approx(closed, rel=1e-12)


@pytest.mark.parametrize("case_c", [-10.0, 5.0, 40.0, 60.0])
def test_real_air_hardly_differs_from_an_ideal_gas_there(case_c: float) -> None:
    from iapws.humidAir import Air

    density_kg_m3 = Air(T=SEALED_C + 273.15, P=SEALED_PA / 1e6).rho
    real_pa = Air(T=case_c + 273.15, rho=density_kg_m3).P * 1e6
    assert air.case_air_pa(case_c) == pytest.approx(real_pa, rel=4e-4)
