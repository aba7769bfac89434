"""Moving water: the pressure of speed, its head, and the steady head of a jump."""

from __future__ import annotations

import math

from logbook.physics.bounds import positive, within
from logbook.physics.constants import STANDARD_GRAVITY

BERNOULLI = "Bernoulli's equation for steady flow, textbook; g = 9.80665 m/s²"


def dynamic_pa(speed_m_s: float, density_kg_m3: float) -> float:
    """Dynamic pressure in Pa, ½ρv², of a speed in m/s through water of a density in kg/m³.

    Raises ValueError for a negative speed or a density of 0 or less. Bernoulli's equation.
    """
    within("speed", speed_m_s, 0, math.inf, "m/s")
    return 0.5 * positive("density", density_kg_m3, "kg/m³") * speed_m_s**2


def head_m(speed_m_s: float) -> float:
    """Head in m, v²/2g, of a speed in m/s: the height of the same water that presses equally hard.

    Raises ValueError for a negative speed. Bernoulli's equation with standard gravity.
    """
    return within("speed", speed_m_s, 0, math.inf, "m/s") ** 2 / (2 * STANDARD_GRAVITY)


def speed_m_s_for_head(head_m: float) -> float:
    """Speed in m/s, √(2gh), whose dynamic pressure is a head in m; also of a free fall from that height.

    Raises ValueError for a negative head. Bernoulli's equation with standard gravity, drag ignored.
    """
    return math.sqrt(2 * STANDARD_GRAVITY * within("head", head_m, 0, math.inf, "m"))


def jump_pa(height_m: float, density_kg_m3: float) -> float:
    """Steady stagnation pressure in Pa, ρgH at most, after a jump from a height in m, drag ignored.

    It does not add to the depth. The slam of first contact can exceed it, locally and for milliseconds.
    Raises ValueError for a negative height or a density of 0 or less. Bernoulli's equation.
    """
    return dynamic_pa(speed_m_s_for_head(within("height", height_m, 0, math.inf, "m")), density_kg_m3)
