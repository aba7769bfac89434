"""The Arrhenius factor between two temperatures: the worked example of an engineering handbook.

Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 8.1.5.1 (Arrhenius), from memory: between
25 °C and 125 °C the acceleration factor is 133 for an activation energy of 0.5 eV and 17 597 for 1.0 eV. It
uses k = 8.617·10⁻⁵ eV/K, here the constants of CODATA 2018 through J/mol.
Tolerance: half a unit of 133 (0.4 %), and 0.1 % of 17 597, which the digits of k alone move by 0.04 %.
"""

from __future__ import annotations

import pytest

from logbook.model.wear import wear
from logbook.physics import heat
from tests.model.builders import practice_with

J_MOL_PER_EV = 96_485.33212  # Faraday constant of CODATA 2018, by definition of the electronvolt


@pytest.mark.parametrize(("ea_ev", "factor", "tolerance"), [(0.5, 133, 0.5 / 133), (1.0, 17_597, 1e-3)])
def test_the_factor_between_25_and_125_is_the_handbooks(
    ea_ev: float, factor: float, tolerance: float
) -> None:
    assert heat.ageing_rate(125, ea_ev * J_MOL_PER_EV, 25) == pytest.approx(factor, rel=tolerance)
    assert heat.ageing_rate(25, ea_ev * J_MOL_PER_EV, 125) == pytest.approx(1 / factor, rel=tolerance)


@pytest.mark.parametrize(("ea_ev", "factor", "tolerance"), [(0.5, 133, 0.5 / 133), (1.0, 17_597, 1e-3)])
def test_a_seal_ages_that_much_faster_with_such_an_energy(
    ea_ev: float, factor: float, tolerance: float
) -> None:
    ea = ea_ev * J_MOL_PER_EV / 1e3
    practice = practice_with(f"[constants.Ea]\nvalue = {ea}\nlow = {ea}\nhigh = {ea}\n")
    hot, cold = (wear.ageing_share_per_hour(celsius, "NBR", practice) for celsius in (125, 25))
    assert hot / cold == pytest.approx(factor, rel=tolerance)
