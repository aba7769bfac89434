"""Force of the water on a crystal or a case back."""

from __future__ import annotations

import math

from logbook.physics.bounds import finite, within


def force_n(gauge_pa: float, diameter_m: float) -> float:
    """Force in N of a gauge pressure in Pa on a disc of a diameter in m: F = p π d² / 4, textbook.

    Raises ValueError for a negative diameter.
    """
    within("diameter", diameter_m, 0, math.inf, "m")
    return finite("gauge pressure", gauge_pa, "Pa") * math.pi * diameter_m**2 / 4
