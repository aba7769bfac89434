"""What the shape of an exposure does: cycles of pressure and of case temperature, and ageing on the way.

Pressure follows the depth; the case follows the water with a first-order lag, solved exactly for water that
changes linearly between two points, so that no time step enters. The way back to the surface and the
rewarming on the wrist are always counted. See docs/method.md, "With a profile".
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from logbook.reckoning.cycles import Cycle, count_cycles
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import Exposure, ProfilePoint

# Nodes and weights of Gauss and Legendre with three points on [0, 1]: exact to the fifth power of time.
_GAUSS = ((0.1127016653792583, 5 / 18), (0.5, 8 / 18), (0.8872983346207417, 5 / 18))
# Steps of the ageing integral alone. A twelfth of a lag leaves less than a billionth of the rate. The most of
# them cover two days at the shipped lags, and bound the work where an owner sets a lag of seconds.
_STEPS_A_LAG = 12
_MOST_STEPS = 6000
_INSTANT_MIN = 1e-6  # points nearer than this are one instant; times are kept to the millisecond


@dataclass(frozen=True, slots=True)
class Piece:
    """Water that changes linearly between two temperatures in °C over some minutes, and the case in it."""

    minutes: float
    water_from_c: float
    water_to_c: float
    case_from_c: float
    lag_min: float

    def case_c(self, minutes: float) -> float:
        """Case temperature in °C some minutes into the piece: the exact response to a ramp.

        T(t) = W(t) − sτ + (T₀ − W₀ + sτ)·exp(−t/τ), W the water, s its slope, τ the lag. Textbook.
        """
        behind = self._behind_k
        start = self.case_from_c - self.water_from_c + behind
        water = self.water_from_c + behind * minutes / self.lag_min
        return water - behind + start * math.exp(-minutes / self.lag_min)

    def turning_c(self) -> list[float]:
        """Case temperatures in °C where it turns inside the piece, if it does, and at its end.

        It turns where the case meets the water: exp(−t/τ) = sτ / (T₀ − W₀ + sτ).
        """
        behind = self._behind_k
        start = self.case_from_c - self.water_from_c + behind
        end = self.case_c(self.minutes)
        if behind and start / behind > 1:
            at = self.lag_min * math.log(start / behind)
            if at < self.minutes:
                return [self.case_c(at), end]
        return [end]

    @property
    def _behind_k(self) -> float:
        """How far in K the case trails the water in the long run: slope × lag, with the slope's sign."""
        return (self.water_to_c - self.water_from_c) / self.minutes * self.lag_min


def has_shape(points: Sequence[ProfilePoint]) -> bool:
    """True when a profile says more than one depth: one point is no shape."""
    return len(points) >= 2


def gated(values: Sequence[float], gate: float) -> list[float]:
    """The turning points of a series that lie more than `gate` from the turn before, with both ends.

    A hysteresis: what wavers by less is one stay. The turns that are kept stand at their full extreme. Until
    the series has left its first value by more than the gate, nothing counts.
    """
    if not values:
        return []
    kept = [values[0]]
    extreme, way = values[0], 0  # of the run that goes on: its farthest value, and +1 up, −1 down, 0 not yet
    for value in values[1:]:
        if way == 0:
            if abs(value - extreme) > gate:
                extreme, way = value, 1 if value > extreme else -1
        elif (value - extreme) * way >= 0:
            extreme = value
        elif abs(value - extreme) > gate:
            kept.append(extreme)
            extreme, way = value, -way
    if way:
        kept.append(extreme)
    if values[-1] != kept[-1]:
        kept.append(values[-1])
    return kept


def pressure_cycles(exposure: Exposure, practice: Practice) -> list[Cycle]:
    """Pressure cycles in Pa of an exposure with a profile, from the surface and back to it.

    Turns within the gate of noise are one stay, but there is always the way to the greatest depth and back.
    Pressure is taken in proportion to depth, which the column leaves by less than one part in a thousand.
    """
    if exposure.depth_m <= 0:
        return []
    depths = [0.0, *_depths_m(exposure), 0.0]
    turns = gated(depths, practice["profile_gate_m"])
    if len(turns) < 3:  # shallower than the gate
        turns = [0.0, exposure.depth_m, 0.0]
    per_m = exposure.gauge_pa / exposure.depth_m
    return count_cycles([depth_m * per_m for depth_m in turns])


def _depths_m(exposure: Exposure) -> list[float]:
    """Depths in m of the profile, its deepest point at the greatest depth of the exposure.

    Samples can miss that depth and noise can lift a reading over it; what was said of it holds.
    """
    depths = [min(point.depth_m, exposure.depth_m) for point in exposure.profile]
    depths[max(range(len(depths)), key=depths.__getitem__)] = exposure.depth_m
    return depths


def temperature_cycles(exposure: Exposure, practice: Practice) -> list[Cycle]:
    """Cycles of case temperature in K, through the water and back to the temperature at the start."""
    series = [exposure.from_c]
    for piece in pieces(exposure, practice):
        series += piece.turning_c()
    return count_cycles([*series, exposure.from_c])


def span_c(exposure: Exposure, practice: Practice) -> tuple[float, float]:
    """Lowest and highest case temperature in °C on the way, the start included."""
    met = [exposure.from_c, *(c for piece in pieces(exposure, practice) for c in piece.turning_c())]
    return min(met), max(met)


def mean_rate(exposure: Exposure, practice: Practice, rate: Callable[[float], float]) -> float:
    """Mean over the exposure of an ageing rate that depends on the case temperature in °C."""
    total = minutes = 0.0
    for piece in pieces(exposure, practice):
        count = min(_MOST_STEPS, math.ceil(piece.minutes * _STEPS_A_LAG / piece.lag_min))
        width = piece.minutes / count
        for n in range(count):
            total += width * sum(w * rate(piece.case_c((n + node) * width)) for node, w in _GAUSS)
        minutes += piece.minutes
    return total / minutes if minutes else rate(exposure.from_c)


def pieces(exposure: Exposure, practice: Practice) -> list[Piece]:
    """The exposure as the case goes through it: straight lines from one measured temperature to the next."""
    lag = practice["lag_wrist_min" if exposure.water == "air" else "lag_water_min"]
    knots = _water_knots(exposure)
    case = exposure.from_c
    found = []
    for (begin, water_from), (end, water_to) in pairwise(knots):
        if end - begin > _INSTANT_MIN:
            piece = Piece(end - begin, water_from, water_to, case, lag)
            found.append(piece)
            case = piece.case_c(piece.minutes)
    return found


def _water_knots(exposure: Exposure) -> list[tuple[float, float]]:
    """Minutes and water temperature in °C from the start to the end of the exposure, where the slope changes.

    The first measured one holds from the start, the last one to the end; with none, the exposure's own holds.
    """
    end = exposure.duration_s / 60
    measured = [(p.time_s / 60, p.water_c) for p in exposure.profile if p.water_c is not None]
    if not measured:
        return [(0.0, exposure.water_c), (end, exposure.water_c)]
    # A last point lies up to a second after the whole seconds of the duration.
    knots = [(0.0, measured[0][1]), *measured, (max(end, measured[-1][0]), measured[-1][1])]
    inner = (knots[n] for n in range(1, len(knots) - 1) if not _steady(knots[n - 1 : n + 2]))
    return [knots[0], *inner, knots[-1]]


def _steady(knots: Sequence[tuple[float, float]]) -> bool:
    """True when the middle one of three knots changes nothing: temperatures repeat for minutes."""
    return knots[0][1] == knots[1][1] == knots[2][1]
