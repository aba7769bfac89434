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
from typing import TYPE_CHECKING, TypeVar

from logbook.model.practice import Practice
from logbook.model.values import Exposure, ProfilePoint
from logbook.model.wear.cycles import Cycle, count_cycles

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Number = TypeVar("Number", float, "NDArray[np.float64]")
Rule = tuple[tuple[float, float], ...]

# Nodes and weights of Gauss and Legendre on [0, 1] with three, four, five and eight points.
_THREE: Rule = ((0.1127016653792583, 5 / 18), (0.5, 8 / 18), (0.8872983346207417, 5 / 18))
_FOUR: Rule = (
    (0.06943184420297371, 0.17392742256872692), (0.33000947820757187, 0.32607257743127307),
    (0.6699905217924281, 0.32607257743127307), (0.9305681557970262, 0.17392742256872692),
)  # fmt: skip
_FIVE: Rule = (
    (0.04691007703066802, 0.11846344252809464), (0.23076534494715845, 0.23931433524968315),
    (0.5, 0.28444444444444433), (0.7692346550528415, 0.23931433524968315),
    (0.9530899229693319, 0.11846344252809464),
)  # fmt: skip
EIGHT: Rule = (
    (0.019855071751231912, 0.05061426814518853), (0.10166676129318664, 0.11119051722668721),
    (0.2372337950418355, 0.15685332293894344), (0.4082826787521751, 0.18134189168918083),
    (0.5917173212478248, 0.18134189168918083), (0.7627662049581645, 0.15685332293894344),
    (0.8983332387068134, 0.11119051722668721), (0.9801449282487681, 0.05061426814518853),
)  # fmt: skip
# The rule for a step, by how many K the case can change in it. In steps of a sixth of a lag at most, each
# leaves less than a billionth of the rate, for all waters and saunas there are.
RULES: tuple[tuple[float, Rule], ...] = ((0.1, _THREE), (1.0, _FOUR), (3.0, _FIVE), (math.inf, EIGHT))
STEPS_A_LAG = 6
# They cover two days at a lag of three minutes, and bound the work where an owner sets one of seconds.
MOST_STEPS = 6000
# From so many lags in steady water on, one step takes the case all the way.
SETTLING_LAGS = 0.5
INSTANT_MIN = 1e-6  # points nearer than this are one instant; times are kept to the millisecond


# The formulae are written for numbers and for arrays of them alike: the same operations in the same order, so
# that one pass over many exposures gives the digits of one exposure alone.


def behind_k(minutes: Number, water_from_c: Number, water_to_c: Number, lag_min: Number) -> Number:
    """How far in K the case trails the water in the long run: slope × lag, with the slope's sign."""
    return (water_to_c - water_from_c) / minutes * lag_min


def ramp_c(
    minutes: Number, decay: Number, water_from_c: Number, case_from_c: Number, behind: Number, lag_min: Number
) -> Number:
    """Case temperature in °C some minutes into water that changes linearly; `decay` is exp(−t/τ).

    T(t) = W(t) − sτ + (T₀ − W₀ + sτ)·exp(−t/τ), W the water, s its slope, τ the lag, `behind` sτ. Textbook.
    """
    start = case_from_c - water_from_c + behind
    water = water_from_c + behind * minutes / lag_min
    return water - behind + start * decay


@dataclass(frozen=True, slots=True)
class Piece:
    """Water that changes linearly between two temperatures in °C over some minutes, and the case in it."""

    minutes: float
    water_from_c: float
    water_to_c: float
    case_from_c: float
    lag_min: float

    def case_c(self, minutes: float) -> float:
        """Case temperature in °C some minutes into the piece: the exact response to a ramp."""
        return self._ramp_c(minutes, self._behind_k)

    def turning_c(self) -> list[float]:
        """Case temperatures in °C where it turns inside the piece, if it does, and at its end.

        It turns where the case meets the water: exp(−t/τ) = sτ / (T₀ − W₀ + sτ).
        """
        behind = self._behind_k
        start = self.case_from_c - self.water_from_c + behind
        end = self._ramp_c(self.minutes, behind)
        if behind and start / behind > 1:
            at = self.lag_min * math.log(start / behind)
            if at < self.minutes:
                return [self._ramp_c(at, behind), end]
        return [end]

    def aged(self, rate: Callable[[float], float]) -> list[float]:
        """What the ageing rate adds up to over the piece, in minutes at a rate of 1, step by step.

        By Gauss's rule in time. In steady water the part of the way that is left, u = exp(−t/τ), stands for
        the time, so that one step reaches over the settled case too:
        ∫ r dt = t·r(W) + τ·∫ (r(W + (T₀ − W)·u) − r(W)) / u du.
        """
        if self.water_from_c == self.water_to_c and self.minutes > self.lag_min * SETTLING_LAGS:
            return [self._settling(rate)]
        behind, lag, water_from, case_from = (
            self._behind_k, self.lag_min, self.water_from_c, self.case_from_c,
        )  # fmt: skip
        count = min(MOST_STEPS, math.ceil(self.minutes * STEPS_A_LAG / lag))
        width = self.minutes / count
        apart = max(abs(water_from - case_from), abs(self.water_to_c - case_from))
        rule = next(rule for most, rule in RULES if width / lag * apart <= most)
        found = []
        for n in range(count):
            mean = 0.0
            for node, weight in rule:
                at = (n + node) * width
                decay = math.exp(-at / lag)
                mean += weight * rate(ramp_c(at, decay, water_from, case_from, behind, lag))
            found.append(width * mean)
        return found

    def _settling(self, rate: Callable[[float], float]) -> float:
        water, apart = self.water_from_c, self.case_from_c - self.water_from_c
        left = math.exp(-self.minutes / self.lag_min)
        gone, settled = 1 - left, rate(water)
        mean = 0.0
        for node, weight in EIGHT:
            part = left + node * gone
            mean += weight * ((rate(water + apart * part) - settled) / part)
        return self.minutes * settled + self.lag_min * gone * mean

    def _ramp_c(self, minutes: float, behind: float) -> float:
        decay = math.exp(-minutes / self.lag_min)
        return ramp_c(minutes, decay, self.water_from_c, self.case_from_c, behind, self.lag_min)

    @property
    def _behind_k(self) -> float:
        return behind_k(self.minutes, self.water_from_c, self.water_to_c, self.lag_min)


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
    """Pressure cycles in Pa of an exposure with a profile, from the surface and back to it."""
    depths = [min(point.depth_m, exposure.depth_m) for point in exposure.profile]
    return depth_cycles(depths, exposure.depth_m, exposure.gauge_pa, practice["profile_gate_m"])


def depth_cycles(depths_m: list[float], greatest_m: float, gauge_pa: float, gate_m: float) -> list[Cycle]:
    """Pressure cycles in Pa of a series of depths, none beyond the greatest, which has the gauge pressure.

    Turns within the gate of noise are one stay, but there is always the way to the greatest depth and back.
    Pressure is taken in proportion to depth, which the column leaves by less than one part in a thousand.
    """
    if greatest_m <= 0:
        return []
    # Samples can miss the greatest depth and noise can lift a reading over it; what was said of it holds.
    depths = [0.0, *depths_m, 0.0]
    depths[1 + max(range(len(depths_m)), key=depths_m.__getitem__)] = greatest_m
    turns = gated(depths, gate_m)
    if len(turns) < 3:  # shallower than the gate
        turns = [0.0, greatest_m, 0.0]
    per_m = gauge_pa / greatest_m
    return count_cycles([depth_m * per_m for depth_m in turns])


def temperature_cycles(exposure: Exposure, on_the_way: Sequence[Piece]) -> list[Cycle]:
    """Cycles of case temperature in K, through the pieces and back to the temperature at the start."""
    turns = [celsius for piece in on_the_way for celsius in piece.turning_c()]
    return count_cycles([exposure.from_c, *turns, exposure.from_c])


def span_c(exposure: Exposure, practice: Practice) -> tuple[float, float]:
    """Lowest and highest case temperature in °C on the way, the start included."""
    met = [exposure.from_c, *(c for piece in pieces(exposure, practice) for c in piece.turning_c())]
    return min(met), max(met)


def mean_rate(exposure: Exposure, on_the_way: Sequence[Piece], rate: Callable[[float], float]) -> float:
    """Mean over the pieces of an exposure of an ageing rate that depends on the case temperature in °C."""
    minutes = math.fsum(piece.minutes for piece in on_the_way)
    if not minutes:
        return rate(exposure.from_c)
    # A sum of so many must not depend on their order.
    return math.fsum(term for piece in on_the_way for term in piece.aged(rate)) / minutes


def pieces(exposure: Exposure, practice: Practice) -> list[Piece]:
    """The exposure as the case goes through it: straight lines from one measured temperature to the next."""
    lag = practice["lag_wrist_min" if exposure.water == "air" else "lag_water_min"]
    knots = _water_knots(exposure)
    case = exposure.from_c
    found = []
    for (begin, water_from), (end, water_to) in pairwise(knots):
        if end - begin > INSTANT_MIN:
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
