"""The Arrhenius factor as makers of electronic components print it for their own life tests.

Sources, looked up on the open web: (a) a semiconductor maker's page on its reliability calculations, 0.7 eV,
to 55 °C: 258 from 150 °C, 128 from 135 °C, 77 from 125 °C, 8 from 85 °C; (b) a data sheet of a crystal
oscillator, 0.40 eV, 298 K to 398 K: 49.910 09, with k = 8.625·10⁻⁵ eV/K.
Tolerance: (a) 0.5 % or one unit of the last printed digit, since the page cuts some digits off and does not
say its k (8.62·10⁻⁵ eV/K, the usual three digits, would make 258.8 of the 258); (b) 0.5 %, for that k is
0.09 % above the constant of CODATA 2018 and stands in an exponent of 3.9.
"""

from __future__ import annotations

import pytest

from logbook.physics import heat

J_MOL_PER_EV = 96_485.33212  # Faraday constant of CODATA 2018, by definition of the electronvolt
CODATA_K_EV, PRINTED_K_EV = 8.617_333_262e-5, 8.625e-5


@pytest.mark.parametrize(("stress_c", "factor"), [(150, 258), (135, 128), (125, 77), (85, 8)])
def test_a_life_test_counts_for_as_much_as_the_page_says(stress_c: float, factor: float) -> None:
    assert heat.ageing_rate(stress_c, 0.7 * J_MOL_PER_EV, 55) == pytest.approx(factor, rel=5e-3, abs=1)


def test_the_data_sheets_factor_is_met_with_its_own_constant() -> None:
    hot, cold = 398 - 273.15, 298 - 273.15
    assert heat.ageing_rate(hot, 0.4 * J_MOL_PER_EV, cold) == pytest.approx(49.91009, rel=5e-3)
    as_printed = 0.4 * J_MOL_PER_EV * CODATA_K_EV / PRINTED_K_EV
    assert heat.ageing_rate(hot, as_printed, cold) == pytest.approx(49.91009, rel=1e-5)
