"""Pressure from water: a uniform column of the water at hand, and the conventions that instruments use.

Gauge pressure counts from the air above the water; the sea pressure of TEOS-10 is the same in decibar at sea
level. `gsw` is loaded when sea water is first computed, never for a convention.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from logbook.physics.bounds import finite, positive, within
from logbook.physics.constants import FRESH_WATER_KG_M3, STANDARD_GRAVITY

Basis = Literal["EN 13319", "fresh", "true"]

STANDARD_SALINITY_G_KG = 35.16504  # g/kg at practical salinity 35: TEOS-10 manual, section 2.4
PA_PER_DBAR = 1e4
CONVERGED_PA = 1e-6  # each round of the iteration gains about three digits, so this ends after four or five
MAX_ROUNDS = 50
GAUSS_SHARES = (0.5 - 0.5 / math.sqrt(3), 0.5 + 0.5 / math.sqrt(3))  # Gauss-Legendre, two points
DEEPEST_M, DEEPEST_PA = 11_000.0, 1.2e8  # no water is deeper

TEOS10 = "TEOS-10 (IOC, SCOR and IAPSO 2010), with the gsw library: 75-term density, gravity of GRS 80"
EN_13319_KG_M3 = 1019.7  # kg/m³, for which 1 bar is 10 m: EN 13319:2000, as secondary sources quote it


@dataclass(frozen=True, slots=True)
class Convention:
    """A fixed factor between depth and gauge pressure: `pa_per_unit` pascal for each `unit` of depth."""

    pa_per_unit: float
    unit: str  # "m" or "ft"
    source: str


CONVENTIONS: Mapping[str, Convention] = MappingProxyType(
    {
        "EN 13319": Convention(
            EN_13319_KG_M3 * STANDARD_GRAVITY,
            "m",
            "EN 13319:2000, as secondary sources quote it: 1019.7 kg/m³ and 9.80665 m/s², 1 bar ≈ 10 m",
        ),
        "fresh": Convention(
            FRESH_WATER_KG_M3 * STANDARD_GRAVITY,
            "m",
            "fresh-water setting of instruments: 1000 kg/m³ and 9.80665 m/s², common practice, no source",
        ),
        "metre of sea water": Convention(1e4, "m", "msw: 10 kPa by definition, common practice"),
        "foot of sea water": Convention(
            3064.3, "ft", "fsw: 3064.3 Pa, 1/33.066 of an atmosphere; other feet exist, common practice"
        ),
        "10 m = 1 bar": Convention(
            1e4, "m", "the watch trade's conversion of a marked depth, common practice"
        ),
    }
)


@dataclass(frozen=True, slots=True)
class WaterColumn:
    """The water above the watch: the same salinity and Conservative Temperature from top to bottom.

    `practical_salinity` on PSS-78 (dimensionless, 0 for fresh water), `surface_c` in °C (ITS-90),
    `latitude_deg` in degrees. Raises ValueError beyond salinity 60, −5 or 60 °C: the density is fitted up to
    42 and 40 °C; up to these limits it stays within 0.05 kg/m³ of the exact Gibbs function, then departs
    fast. For a brine the density in kg/m³ is given: it is the same at every depth, and so is gravity.
    """

    practical_salinity: float
    surface_c: float
    latitude_deg: float
    given_kg_m3: float | None = None

    def __post_init__(self) -> None:
        if self.given_kg_m3 is None:
            within("practical salinity", self.practical_salinity, 0, 60, "")
        else:
            positive("density", self.given_kg_m3, "kg/m³")
        within("water temperature", self.surface_c, -5, 60, "°C")
        within("latitude", self.latitude_deg, -90, 90, "°")


def reference_salinity_g_kg(practical_salinity: float) -> float:
    """Reference Salinity in g/kg of a practical salinity (PSS-78); TEOS-10 manual, eq. (2.4.1).

    It replaces Absolute Salinity, since no longitude is known; practical salinity itself never does.
    """
    return STANDARD_SALINITY_G_KG / 35 * practical_salinity


@lru_cache(maxsize=256)
def salinity_and_temperature(column: WaterColumn) -> tuple[float, float]:
    """Salinity S_A in g/kg and Conservative Temperature Θ in °C of the column, from its surface; TEOS-10."""
    import gsw

    salinity_g_kg = reference_salinity_g_kg(column.practical_salinity)
    return salinity_g_kg, float(gsw.CT_from_t(salinity_g_kg, column.surface_c, 0.0))


def density_kg_m3(column: WaterColumn, gauge_pa: float = 0.0) -> float:
    """In-situ density in kg/m³ of the column's water at the gauge pressure `gauge_pa`; TEOS-10."""
    if column.given_kg_m3 is not None:
        return column.given_kg_m3
    import gsw

    salinity_g_kg, conservative_c = salinity_and_temperature(column)
    return float(gsw.rho(salinity_g_kg, conservative_c, gauge_pa / PA_PER_DBAR))


def gravity_m_s2(column: WaterColumn, gauge_pa: float = 0.0) -> float:
    """Gravity in m/s² at the column's latitude and the gauge pressure `gauge_pa`; TEOS-10, app. D.

    For a column with a given density it is the gravity at the surface.
    """
    import gsw

    return float(gsw.grav(column.latitude_deg, gauge_pa / PA_PER_DBAR if column.given_kg_m3 is None else 0.0))


def _mean_weight_pa_m(column: WaterColumn, gauge_pa: float) -> float:
    """Weight in Pa per metre of the water above `gauge_pa`: the harmonic mean of ρ g from 0 to that pressure.

    It takes two Gauss points in pressure; the mid-point alone would be 1.6 Pa off at 300 m.
    """
    metres_per_pa = [
        1 / (density_kg_m3(column, share * gauge_pa) * gravity_m_s2(column, share * gauge_pa))
        for share in GAUSS_SHARES
    ]
    return len(GAUSS_SHARES) / sum(metres_per_pa)


@lru_cache(maxsize=4096)
def gauge_pa_at_depth(depth_m: float, column: WaterColumn) -> float:
    """Gauge pressure in Pa at a true depth in m: dp = ρ(S_A, Θ, p) g(latitude, p) dz from the surface.

    Solved as p = z / mean(1/(ρ g)) by iteration, which is within 0.01 Pa of the integral down to 400 m.
    With a given density it is p = ρ g z. A depth of 0 or less has a gauge pressure of 0. Raises ValueError
    for a depth that is not a number. TEOS-10 for density and gravity. At altitude g is smaller (0.03 % for
    each 1000 m), which is not counted.
    """
    within("depth", depth_m, -math.inf, DEEPEST_M, "m")
    if depth_m <= 0:
        return 0.0
    gauge_pa = 0.0
    for _ in range(MAX_ROUNDS):
        before, gauge_pa = gauge_pa, depth_m * _mean_weight_pa_m(column, gauge_pa)
        if abs(gauge_pa - before) < CONVERGED_PA:
            return gauge_pa
    raise ValueError(f"no pressure found at {depth_m:g} m in this water")


def depth_m_at_gauge(gauge_pa: float, column: WaterColumn) -> float:
    """True depth in m at which the gauge pressure is `gauge_pa` (Pa): the inverse of `gauge_pa_at_depth`.

    A pressure of 0 or less is at depth 0. Raises ValueError for a pressure that is not a number. TEOS-10.
    """
    within("gauge pressure", gauge_pa, -math.inf, DEEPEST_PA, "Pa")
    return gauge_pa / _mean_weight_pa_m(column, gauge_pa) if gauge_pa > 0 else 0.0


def en13319_depth_m(gauge_pa: float) -> float:
    """Depth in m that an instrument to EN 13319 shows at a gauge pressure in Pa; 0 at 0 or less."""
    return max(0.0, finite("gauge pressure", gauge_pa, "Pa")) / CONVENTIONS["EN 13319"].pa_per_unit


def gauge_pa_for(depth_m: float, basis: Basis, column: WaterColumn | None = None) -> float:
    """Gauge pressure in Pa at a depth in m whose `basis` says how the depth was measured.

    "EN 13319" and "fresh" are the conventions of instruments and need no column; "true" is a real depth in
    the water of `column`. Raises ValueError for another basis, or a true depth without a column.
    """
    if basis == "true":
        if column is None:
            raise ValueError(
                "a true depth needs the water it was measured in: salinity, temperature, latitude"
            )
        return gauge_pa_at_depth(depth_m, column)
    if basis not in ("EN 13319", "fresh"):
        raise ValueError(f"the basis of a depth is EN 13319, fresh or true, not {basis}")
    return max(0.0, finite("depth", depth_m, "m")) * CONVENTIONS[basis].pa_per_unit
