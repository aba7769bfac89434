"""What the shapes of exposures do: cycles of pressure and of case temperature, and ageing on the way.

Pressure follows the depth; the case follows the water with a first-order lag, solved exactly for water that
changes linearly between two points, so it needs no time step. The way back to the surface and the rewarming
on the wrist are always counted. See docs/method.md, "With a profile".

The water is cut into pieces for all shapes together. The case goes through the pieces of each shape in turn,
since each begins where the one before ended. The ageing rate is taken at all nodes of all pieces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import exp, fsum, inf, log
from typing import TYPE_CHECKING

from logbook.model.practice import Practice
from logbook.model.values import Exposure
from logbook.model.wear.columns import Columns, columns_of, each, rates, real, whole
from logbook.model.wear.cycles import Cycle, count_cycles

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array, Whole

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
RULES: tuple[tuple[float, Rule], ...] = ((0.1, _THREE), (1.0, _FOUR), (3.0, _FIVE), (inf, EIGHT))
STEPS_A_LAG = 6
# They cover two days at a lag of three minutes, and limit the work where an owner sets a lag of seconds.
MOST_STEPS = 6000
# After so many lags in steady water, one step takes the case all the way.
SETTLING_LAGS = 0.5
INSTANT_MIN = 1e-6  # closer points are one instant; times are kept to the millisecond


def gated(values: Sequence[float], gate: float) -> list[float]:
    """The turning points of a series that lie more than `gate` from the turn before, with both ends.

    It is a hysteresis: smaller wavering is one stay. Turns that are kept have their full extreme. Nothing
    counts until the series has left its first value by more than the gate.
    """
    if not values:
        return []
    kept = [values[0]]
    extreme, way = values[0], 0  # of the current run: its farthest value, and +1 up, −1 down, 0 not yet
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


def depth_cycles(depths_m: list[float], greatest_m: float, gauge_pa: float, gate_m: float) -> list[Cycle]:
    """Pressure cycles in Pa of a series of depths, none beyond the greatest, which has the gauge pressure.

    Turns within the gate of noise are one stay, but the way to the greatest depth and back always counts.
    Pressure is taken in proportion to depth, which is off by less than one part in a thousand.
    """
    if greatest_m <= 0:
        return []
    # Samples can miss the greatest depth, and noise can go beyond it; the stated depth holds.
    depths = [0.0, *depths_m, 0.0]
    depths[1 + max(range(len(depths_m)), key=depths_m.__getitem__)] = greatest_m
    turns = gated(depths, gate_m)
    if len(turns) < 3:  # shallower than the gate
        turns = [0.0, greatest_m, 0.0]
    per_m = gauge_pa / greatest_m
    return count_cycles([depth_m * per_m for depth_m in turns])


def shaped_courses(
    columns: Columns, practice: Practice, law: tuple[float, float]
) -> Iterator[tuple[int, Sequence[Cycle], Sequence[Cycle], float]]:
    """Place, cycles of pressure and of case temperature, and mean ageing rate of each exposure with a shape.

    `law` holds the numbers of the ageing rate from `wear.arrhenius`.
    """
    import numpy as np

    shaped = np.nonzero(np.bincount(columns.points.owner, minlength=len(columns)) >= 2)[0]
    if len(shaped):
        on_the_way = pieces(columns, shaped, practice)
        from_c = columns.from_c[shaped]
        yield from zip(
            shaped.tolist(),
            _pressure_cycles(columns, shaped, practice["profile_gate_m"]),
            map(count_cycles, _case_series(from_c, on_the_way)),
            _mean_rates(from_c, on_the_way, law),
            strict=True,
        )


def span_c(exposure: Exposure, practice: Practice) -> tuple[float, float]:
    """Lowest and highest case temperature in °C through a shape, the start included."""
    columns, alone = columns_of([exposure]), whole([0])
    (met,) = _case_series(columns.from_c, pieces(columns, alone, practice))
    return min(met), max(met)


def _pressure_cycles(columns: Columns, shaped: Whole, gate_m: float) -> Iterator[list[Cycle]]:
    import numpy as np

    owner = columns.points.owner
    depths = np.minimum(columns.points.depth_m, columns.depth_m[owner])
    begin, end = (np.searchsorted(owner, shaped, side=side).tolist() for side in ("left", "right"))
    for at, first, last in zip(shaped.tolist(), begin, end, strict=True):
        greatest_m, gauge_pa = float(columns.depth_m[at]), float(columns.gauge_pa[at])
        yield depth_cycles(depths[first:last].tolist(), greatest_m, gauge_pa, gate_m)


@dataclass(frozen=True, eq=False)
class Pieces:
    """Pieces of water that changes linearly over some minutes, and the case in it, in °C, as columns.

    `owner` is the number of the shape; `behind_k` is how far the case trails in the long run, slope × lag.
    """

    owner: Whole
    minutes: Array
    water_from_c: Array
    water_to_c: Array
    case_from_c: Array
    case_to_c: Array
    lag_min: Array
    behind_k: Array

    @classmethod
    def through(
        cls,
        owner: Whole,
        minutes: Array,
        water_from_c: Array,
        water_to_c: Array,
        lag_min: Array,
        from_c: Array,
    ) -> Pieces:
        """Pieces of water with the case in them; it begins each piece as it ended the one before.

        T(t) = W(t) − sτ + (T₀ − W₀ + sτ)·exp(−t/τ), W the water, s its slope, τ the lag. Textbook. `from_c`
        is where the case of each shape begins.
        """
        behind = (water_to_c - water_from_c) / minutes * lag_min
        decay = each(exp, -minutes / lag_min)
        settled = water_from_c + behind * minutes / lag_min - behind
        ways = zip(
            *(column.tolist() for column in (owner, water_from_c, behind, decay, settled)), strict=True
        )
        case = from_c.tolist()  # by shape, as far as it got
        begun, ended = [], []
        for shape, water, trails, left, rest in ways:
            begun.append(case[shape])
            case[shape] = rest + (case[shape] - water + trails) * left
            ended.append(case[shape])
        return cls(owner, minutes, water_from_c, water_to_c, real(begun), real(ended), lag_min, behind)

    def case_c(self, which: Whole, minutes: Array) -> Array:
        """Case temperature in °C some minutes into these pieces: the exact response to a ramp."""
        lag_min, behind, water_from = self.lag_min[which], self.behind_k[which], self.water_from_c[which]
        start = self.case_from_c[which] - water_from + behind
        water = water_from + behind * minutes / lag_min
        case: Array = water - behind + start * each(exp, -minutes / lag_min)
        return case

    def turns(self) -> tuple[Whole, Array]:
        """The pieces inside which the case turns, and its temperature in °C there.

        The case turns where it meets the water: exp(−t/τ) = sτ / (T₀ − W₀ + sτ).
        """
        import numpy as np

        turning = np.nonzero(self.behind_k)[0]
        behind = self.behind_k[turning]
        ratio = (self.case_from_c[turning] - self.water_from_c[turning] + behind) / behind
        turning, ratio = turning[ratio > 1], ratio[ratio > 1]
        at_min = self.lag_min[turning] * each(log, ratio)
        inside = at_min < self.minutes[turning]
        turning, at_min = turning[inside], at_min[inside]
        return turning, self.case_c(turning, at_min)

    def aged(self, law: tuple[float, float]) -> tuple[Whole, Array]:
        """The ageing over the pieces, in minutes at a rate of 1, step by step, with the shape of each step.

        Gauss's rule in time. In steady water, the part of the way that is left, u = exp(−t/τ), replaces the
        time, so one step also covers the settled case:
        ∫ r dt = t·r(W) + τ·∫ (r(W + (T₀ − W)·u) − r(W)) / u du.
        """
        import numpy as np

        settling = (self.water_from_c == self.water_to_c) & (self.minutes > self.lag_min * SETTLING_LAGS)
        steps = [self._settling(np.nonzero(settling)[0], law), *self._stepping(np.nonzero(~settling)[0], law)]
        owner, terms = (np.concatenate(column) for column in zip(*steps, strict=True))
        order = np.argsort(owner, kind="stable")
        return owner[order], terms[order]

    def _settling(self, which: Whole, law: tuple[float, float]) -> tuple[Whole, Array]:
        import numpy as np

        minutes, lag, water = self.minutes[which], self.lag_min[which], self.water_from_c[which]
        apart = self.case_from_c[which] - water
        left = each(exp, -minutes / lag)
        gone, settled = 1 - left, rates(water, law)
        mean = np.zeros(len(which))
        for node, weight in EIGHT:
            part = left + node * gone
            mean += weight * ((rates(water + apart * part, law) - settled) / part)
        return self.owner[which], minutes * settled + lag * gone * mean

    def _stepping(self, which: Whole, law: tuple[float, float]) -> Iterator[tuple[Whole, Array]]:
        """The other pieces, rule by rule."""
        import numpy as np

        minutes, lag = self.minutes[which], self.lag_min[which]
        count = np.minimum(MOST_STEPS, np.ceil(minutes * STEPS_A_LAG / lag)).astype(np.int64)
        width = minutes / count
        case = self.case_from_c[which]
        apart = np.maximum(np.abs(self.water_from_c[which] - case), np.abs(self.water_to_c[which] - case))
        fits = np.searchsorted([most for most, _ in RULES], width / lag * apart)
        for n, (_, rule) in enumerate(RULES):
            chosen = np.nonzero(fits == n)[0]
            rows = np.repeat(chosen, count[chosen])
            step = np.arange(len(rows)) - np.repeat(np.cumsum(count[chosen]) - count[chosen], count[chosen])
            mean = np.zeros(len(rows))
            for node, weight in rule:
                mean += weight * rates(self.case_c(which[rows], (step + node) * width[rows]), law)
            yield self.owner[which[rows]], width[rows] * mean


def pieces(columns: Columns, shaped: Whole, practice: Practice) -> Pieces:
    """The pieces of exposures, in straight lines from one measured temperature to the next."""
    import numpy as np

    shape, at_min, water_c = _knots(columns, shaped)
    minutes = at_min[1:] - at_min[:-1]
    lasting = (shape[1:] == shape[:-1]) & (minutes > INSTANT_MIN)
    owner = shape[1:][lasting]
    lag = np.where(columns.in_air[shaped[owner]], practice["lag_wrist_min"], practice["lag_water_min"])
    water_from, water_to = water_c[:-1][lasting], water_c[1:][lasting]
    return Pieces.through(owner, minutes[lasting], water_from, water_to, lag, columns.from_c[shaped])


def _knots(columns: Columns, shaped: Whole) -> tuple[Whole, Array, Array]:
    """Shape, minutes and water temperature in °C where the slope of the water changes.

    The first measured temperature holds from the start, the last one to the end, which may lie up to a second
    after the whole seconds of the duration. Without any, the exposure's own temperature holds.
    """
    import numpy as np

    points, count = columns.points, np.arange(len(shaped))
    number = np.full(len(columns), -1)
    number[shaped] = count
    measured = (number[points.owner] >= 0) & ~np.isnan(points.water_c)
    own, at, water = number[points.owner[measured]], points.time_s[measured] / 60, points.water_c[measured]
    first = np.searchsorted(own, count)
    some = first < np.searchsorted(own, count, side="right")
    last = np.searchsorted(own, count, side="right") - 1
    end, start_c = columns.duration_s[shaped] / 60, columns.water_c[shaped].copy()
    end_c = start_c.copy()
    end[some] = np.maximum(end[some], at[last[some]])
    start_c[some], end_c[some] = water[first[some]], water[last[some]]
    shape = np.concatenate([count, own, count])
    order = np.argsort(shape, kind="stable")
    shape = shape[order]
    minutes = np.concatenate([np.zeros(len(shaped)), at, end])[order]
    celsius = np.concatenate([start_c, water, end_c])[order]
    steady = (shape[2:] == shape[:-2]) & (celsius[2:] == celsius[1:-1]) & (celsius[1:-1] == celsius[:-2])
    kept = np.concatenate([[True], ~steady, [True]])
    return shape[kept], minutes[kept], celsius[kept]


def _case_series(from_c: Array, on_the_way: Pieces) -> Iterator[list[float]]:
    """The case temperatures of each shape: at the start, at turns and ends of pieces, at the start again."""
    import numpy as np

    p, shapes = on_the_way, np.arange(len(from_c))
    turning, at_turn = p.turns()
    owner = np.concatenate([shapes, p.owner, p.owner[turning], shapes])
    place = np.concatenate(
        [shapes * 0 - 1, np.arange(len(p.owner)) * 2 + 1, turning * 2, shapes * 0 + 2 * len(p.owner)]
    )
    celsius = np.concatenate([from_c, p.case_to_c, at_turn, from_c])
    order = np.lexsort((place, owner))
    for series in np.split(celsius[order], np.searchsorted(owner[order], shapes[1:])):
        yield series.tolist()


def _mean_rates(from_c: Array, on_the_way: Pieces, law: tuple[float, float]) -> Iterator[float]:
    """Mean ageing rate over each shape, relative to the rate at the reference temperature."""
    import numpy as np

    p, shapes = on_the_way, np.arange(1, len(from_c))
    owner, terms = p.aged(law)
    lasting = np.split(p.minutes, np.searchsorted(p.owner, shapes))
    added = np.split(terms, np.searchsorted(owner, shapes))
    for minutes, aged, at_the_start in zip(lasting, added, rates(from_c, law).tolist(), strict=True):
        # The sum must not depend on the order.
        whole_min = fsum(minutes.tolist())
        yield fsum(aged.tolist()) / whole_min if whole_min else at_the_start
