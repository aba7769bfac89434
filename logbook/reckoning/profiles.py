"""What the shape of an exposure does: cycles of pressure and of case temperature, and ageing on the way.

Pressure follows the depth; the case follows the water with a first-order lag, solved exactly for water that
changes linearly between two points, so that no time step enters. The way back to the surface and the
rewarming on the wrist are always counted. See docs/method.md, "With a profile".
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from logbook.reckoning.cycles import Cycle, count_cycles
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import Exposure, ProfilePoint

# Nodes and weights of Gauss and Legendre with three points on [0, 1]: exact to the fifth power of time.
_GAUSS = ((0.1127016653792583, 5 / 18), (0.5, 8 / 18), (0.8872983346207417, 5 / 18))
_LONGEST_PIECE_MIN = 2.0  # of the ageing integral; the case moves by a third of its lag in it at most


@dataclass(frozen=True, slots=True)
class Piece:
    """Water that changes linearly from one temperature in °C to another over some minutes, and the case in it."""

    minutes: float
    water_from_c: float
    water_to_c: float
    case_from_c: float
    lag_min: float

    def case_c(self, minutes: float) -> float:
        """Case temperature in °C some minutes into the piece: the exact response to a ramp.

        T(t) = W(t) − sτ + (T₀ − W₀ + sτ)·exp(−t/τ), W the water, s its slope, τ the lag.
        """
        slope = (self.water_to_c - self.water_from_c) / self.minutes if self.minutes else 0.0
        behind = slope * self.lag_min
        start = self.case_from_c - self.water_from_c + behind
        return self.water_from_c + slope * minutes - behind + start * math.exp(-minutes / self.lag_min)

    def turning_c(self) -> list[float]:
        """Case temperatures in °C where it turns inside the piece, if it does, and at its end."""
        slope = (self.water_to_c - self.water_from_c) / self.minutes if self.minutes else 0.0
        start = self.case_from_c - self.water_from_c + slope * self.lag_min
        found = []
        if slope and start / (slope * self.lag_min) > 0:
            at = self.lag_min * math.log(start / (slope * self.lag_min))
            if 0 < at < self.minutes:
                found.append(self.case_c(at))
        return [*found, self.case_c(self.minutes)]


def gated(values: Sequence[float], gate: float) -> list[float]:
    """The turning points of a series that differ from the last one by more than `gate`, with both ends.

    A hysteresis: what wavers by less is one stay. The extremes between two kept turns are kept in full.
    """
    if not values:
        return []
    kept = [values[0]]
    extreme, rising = values[0], 0
    for value in values[1:]:
        if rising >= 0 and value >= extreme or rising <= 0 and value <= extreme:
            if rising == 0 and abs(value - kept[0]) > gate:
                rising = 1 if value > kept[0] else -1
            if rising != 0:
                extreme = value
            continue
        if rising != 0 and abs(value - extreme) > gate:
            kept.append(extreme)
            extreme, rising = value, -rising
        elif rising == 0 and abs(value - kept[0]) > gate:
            extreme, rising = value, 1 if value > kept[0] else -1
    if rising != 0:
        kept.append(extreme)
    if values[-1] != kept[-1]:
        kept.append(values[-1])
    return kept


def pressure_cycles(exposure: Exposure, practice: Practice) -> list[Cycle]:
    """Pressure cycles in Pa of an exposure with a profile, from the surface and back to it.

    Depths below the gate of noise are one stay. Pressure is taken in proportion to depth, which the column
    leaves by less than one part in a thousand.
    """
    deepest = max(point.depth_m for point in exposure.profile)
    if deepest <= 0:
        return []
    # Noise lifts the greatest reading; what was said of the greatest depth holds.
    depths = [0.0, *(min(p.depth_m, exposure.depth_m) for p in exposure.profile), 0.0]
    per_m = exposure.gauge_pa / exposure.depth_m if exposure.depth_m else 0.0
    return count_cycles([d * per_m for d in gated(depths, practice["profile_gate_m"])])


def pieces(exposure: Exposure, practice: Practice) -> list[Piece]:
    """The exposure as the case goes through it, in water; measured temperatures as they were, else the given one."""
    lag = practice["lag_wrist_min" if exposure.water == "air" else "lag_water_min"]
    knots = _water_knots(exposure)
    case = exposure.from_c
    found = []
    for (begin, water_from), (end, water_to) in zip(knots, knots[1:], strict=False):
        if end > begin:
            piece = Piece(end - begin, water_from, water_to, case, lag)
            found.append(piece)
            case = piece.case_c(piece.minutes)
    return found


def _water_knots(exposure: Exposure) -> list[tuple[float, float]]:
    """Minutes and water temperature in °C, from the start to the end of the exposure."""
    minutes = exposure.duration_s / 60
    measured = [(p.time_s / 60, p.water_c) for p in exposure.profile if p.water_c is not None]
    if not measured:
        return [(0.0, exposure.water_c), (minutes, exposure.water_c)]
    inside = [(at, c) for at, c in measured if at <= minutes]
    first, last = (inside or measured)[0][1], (inside or measured)[-1][1]
    return [(0.0, first), *inside, (minutes, last)]


def temperature_cycles(exposure: Exposure, practice: Practice) -> list[Cycle]:
    """Cycles of case temperature in K, through the water and back to the temperature at the start."""
    series = [exposure.from_c]
    for piece in pieces(exposure, practice):
        series += piece.turning_c()
    return count_cycles([*series, exposure.from_c])


def mean_rate(exposure: Exposure, practice: Practice, rate: Callable[[float], float]) -> float:
    """Mean over the exposure of an ageing rate that depends on the case temperature in °C."""
    total = minutes = 0.0
    for piece in pieces(exposure, practice):
        count = max(1, math.ceil(piece.minutes / _LONGEST_PIECE_MIN))
        width = piece.minutes / count
        for n in range(count):
            total += width * sum(w * rate(piece.case_c((n + node) * width)) for node, w in _GAUSS)
        minutes += piece.minutes
    return total / minutes if minutes else rate(exposure.from_c)


def has_shape(points: Sequence[ProfilePoint]) -> bool:
    """True when a profile says more than one depth: one point is no shape."""
    return len(points) >= 2
