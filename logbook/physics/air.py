"""Pressure of the air: outside at altitude, after the standard atmosphere, and sealed in a case."""

from __future__ import annotations

from logbook.physics.bounds import positive, within
from logbook.physics.constants import ABSOLUTE_ZERO_C, STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY, kelvin

ISO_2533 = "ISO 2533:1975, standard atmosphere, troposphere (same as ICAO Doc 7488)"
IDEAL_GAS = "ideal gas law at constant volume, textbook; sealed at 21 °C and 1013.25 hPa, an assumption"
SEALED_C, SEALED_PA = 21.0, STANDARD_ATMOSPHERE_PA  # when the case was closed: a workshop near the sea

# ISO 2533:1975, clauses 2 and 3
EARTH_RADIUS_M = 6_356_766.0  # m, nominal
SEA_LEVEL_K = 288.15  # K
LAPSE_K_M = -0.0065  # K per geopotential metre, up to 11 km
AIR_GAS_CONSTANT = 287.05287  # J/(kg K), dry air
LOWEST_M, TROPOPAUSE_M = -2_000.0, 11_000.0  # geopotential metres


def geopotential_m(altitude_m: float) -> float:
    """Geopotential altitude in m' of a geometric altitude in m; ISO 2533:1975, H = r h / (r + h)."""
    return EARTH_RADIUS_M * altitude_m / (EARTH_RADIUS_M + altitude_m)


def ambient_pa(altitude_m: float) -> float:
    """Absolute pressure in Pa of the standard atmosphere at a geometric altitude in m (−2000…11 000).

    Raises ValueError outside the layer. ISO 2533:1975; the weather moves it by a few per cent.
    """
    # The bound is geopotential in the standard; 11 000 m geometric is 19 m lower, so it is well inside.
    within("altitude", altitude_m, LOWEST_M, TROPOPAUSE_M, "m")
    kelvin_ratio = 1 + LAPSE_K_M * geopotential_m(altitude_m) / SEA_LEVEL_K
    return float(
        STANDARD_ATMOSPHERE_PA * kelvin_ratio ** (-STANDARD_GRAVITY / (AIR_GAS_CONSTANT * LAPSE_K_M))
    )


def case_air_pa(case_c: float, sealed_c: float = SEALED_C, sealed_pa: float = SEALED_PA) -> float:
    """Absolute pressure in Pa of the air in a tight case at °C, sealed at °C and Pa (absolute).

    p₂ = p₁ T₂ / T₁ at constant volume. Raises ValueError at or below absolute zero, or for a sealing pressure
    of 0 or less. Ideal gas law, textbook; condensing vapour takes off 25 hPa at most and is not counted.
    """
    for what, celsius in (("case temperature", case_c), ("sealing temperature", sealed_c)):
        positive(f"{what} above {ABSOLUTE_ZERO_C:g} °C", kelvin(celsius), "K")
    return positive("sealing pressure", sealed_pa, "Pa") * kelvin(case_c) / kelvin(sealed_c)


def across_pa(gauge_pa: float, ambient_pa: float, case_pa: float) -> float:
    """Pressure difference in Pa across the seals: above 0 it presses from outside, below 0 from inside.

    It is the water's gauge pressure plus the absolute pressure of the air above, less that of the air in the
    case, all in Pa. Definition.
    """
    return gauge_pa + ambient_pa - case_pa
