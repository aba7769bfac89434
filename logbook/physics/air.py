"""Pressure of the air at altitude, after the standard atmosphere."""

from __future__ import annotations

from logbook.physics.bounds import within
from logbook.physics.constants import STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY

ISO_2533 = "ISO 2533:1975, standard atmosphere, troposphere (same as ICAO Doc 7488)"

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
