"""Fog under the crystal: what air sealed into a case can and cannot do.

Sealed air keeps its vapour *density* at one volume, so its vapour pressure follows the air's temperature.
The crystal fogs where its inner face is colder than the dew point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from logbook.physics.bounds import within
from logbook.physics.constants import VAPOUR_GAS_CONSTANT, kelvin

WMO_8 = "WMO-No. 8, Guide to Instruments and Methods of Observation, vol. I, ch. 4, annex 4.B, over water"

# WMO-No. 8, annex 4.B: e_s(t) = 6.112 exp(17.62 t / (243.12 + t)) hPa over water, −45…60 °C
MAGNUS_PA, MAGNUS_FACTOR, MAGNUS_C = 611.2, 17.62, 243.12
COLDEST_C, HOTTEST_C = -45.0, 60.0


@dataclass(frozen=True, slots=True)
class FogPoint:
    """The answer for sealed air: vapour density, dew point (None for perfectly dry air), and whether it fogs.

    `needed_g_m3` is the vapour density, in air at the case's temperature, above which the crystal fogs.
    """

    vapour_g_m3: float
    dew_point_c: float | None
    fogs: bool
    needed_g_m3: float


def saturation_vapour_pa(temp_c: float) -> float:
    """Saturation vapour pressure in Pa over water at −45…60 °C; WMO-No. 8, annex 4.B.

    Raises ValueError outside that range. Below 0 °C it is the pressure over supercooled water, not over ice.
    """
    within("temperature", temp_c, COLDEST_C, HOTTEST_C, "°C")
    return MAGNUS_PA * math.exp(MAGNUS_FACTOR * temp_c / (MAGNUS_C + temp_c))


def dew_point_c(vapour_pa: float) -> float:
    """Dew point in °C of a vapour pressure in Pa: the Magnus form of WMO-No. 8, annex 4.B, solved for t.

    Raises ValueError for a vapour pressure of 0 or less: dry air has no dew point.
    """
    if not 0 < vapour_pa < math.inf:
        raise ValueError(f"a dew point needs a vapour pressure above 0 Pa, not {vapour_pa:g}")
    exponent = math.log(vapour_pa / MAGNUS_PA)
    return MAGNUS_C * exponent / (MAGNUS_FACTOR - exponent)


def vapour_density_g_m3(vapour_pa: float, temp_c: float) -> float:
    """Vapour density in g/m³ of a vapour pressure in Pa in air at a temperature in °C.

    Ideal gas, e / (R_v T), with R_v = 461.5 J/(kg K).
    """
    return 1e3 * vapour_pa / (VAPOUR_GAS_CONSTANT * kelvin(temp_c))


def sealed_vapour_pa(sealed_c: float, humidity_pct: float, case_air_c: float) -> float:
    """Vapour pressure in Pa in a case sealed at `sealed_c`, once its air is at `case_air_c` (both °C).

    e = e_0 T_air / T_0 with e_0 = U/100 · e_s(T_0): the vapour density stays. `humidity_pct` is 0…100 %
    (relative, over water). Raises ValueError outside the ranges.
    """
    within("relative humidity", humidity_pct, 0, 100, "%")
    within("air temperature in the case", case_air_c, COLDEST_C, HOTTEST_C, "°C")
    at_sealing_pa = humidity_pct / 100 * saturation_vapour_pa(sealed_c)
    # The quotient comes first: it is exactly 1 for equal temperatures, so saturated air stays just saturated.
    return at_sealing_pa * (kelvin(case_air_c) / kelvin(sealed_c))


def fog_point(
    sealed_c: float, humidity_pct: float, crystal_c: float, case_air_c: float | None = None
) -> FogPoint:
    """Would air sealed at `sealed_c` (°C) and `humidity_pct` (%) fog a crystal whose inner face is at
    `crystal_c` (°C), with the air inside at `case_air_c` (°C; None: still at the sealing temperature)?

    Temperatures −45…60 °C; raises ValueError outside. Fogs when the crystal is below the dew point.
    Magnus form of WMO-No. 8, annex 4.B; ideal gas.
    """
    air_c = sealed_c if case_air_c is None else case_air_c
    vapour_pa = sealed_vapour_pa(sealed_c, humidity_pct, air_c)
    at_crystal_pa = saturation_vapour_pa(crystal_c)
    return FogPoint(
        vapour_g_m3=vapour_density_g_m3(vapour_pa, air_c),
        dew_point_c=dew_point_c(vapour_pa) if vapour_pa > 0 else None,
        fogs=at_crystal_pa < vapour_pa,
        needed_g_m3=vapour_density_g_m3(at_crystal_pa, air_c),
    )
