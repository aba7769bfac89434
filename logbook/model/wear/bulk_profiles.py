"""The shapes of many exposures at once: what `profiles` says of each, to the same digit.

The water on the way is cut into pieces for all of them together; the case goes through the pieces of each in
turn, since each begins where the one before it ended; the ageing rate is taken at all nodes of all pieces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import exp, fsum, log
from typing import TYPE_CHECKING

from logbook.model.practice import Practice
from logbook.model.wear import profiles, wear
from logbook.model.wear.columns import Columns, each, rates, real
from logbook.model.wear.cycles import Cycle, count_cycles

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array, Whole


def shaped_courses(
    columns: Columns, practice: Practice
) -> Iterator[tuple[int, Sequence[Cycle], Sequence[Cycle], float]]:
    """Place, cycles of pressure and of case temperature, and mean ageing rate of each that has a shape."""
    import numpy as np

    shaped = np.nonzero(np.bincount(columns.points.owner, minlength=len(columns)) >= 2)[0]
    if len(shaped):
        on_the_way = _pieces(columns, shaped, practice)
        from_c = columns.from_c[shaped]
        yield from zip(
            shaped.tolist(),
            _pressure_cycles(columns, shaped, practice["profile_gate_m"]),
            _temperature_cycles(from_c, on_the_way),
            _mean_rates(from_c, on_the_way, wear.arrhenius(practice)),
            strict=True,
        )


def _pressure_cycles(columns: Columns, shaped: Whole, gate_m: float) -> Iterator[list[Cycle]]:
    """`profiles.pressure_cycles` of each shape."""
    import numpy as np

    owner = columns.points.owner
    depths = np.minimum(columns.points.depth_m, columns.depth_m[owner])
    begin, end = (np.searchsorted(owner, shaped, side=side).tolist() for side in ("left", "right"))
    for at, first, last in zip(shaped.tolist(), begin, end, strict=True):
        greatest_m, gauge_pa = float(columns.depth_m[at]), float(columns.gauge_pa[at])
        yield profiles.depth_cycles(depths[first:last].tolist(), greatest_m, gauge_pa, gate_m)


@dataclass(frozen=True, eq=False)
class _Pieces:
    """Pieces of shapes, shape by shape, as columns; `owner` counts the shapes."""

    owner: Whole
    minutes: Array
    water_from_c: Array
    water_to_c: Array
    case_from_c: Array
    case_to_c: Array
    lag_min: Array
    behind_k: Array

    def case_c(self, which: Whole, minutes: Array) -> Array:
        """Case temperature in °C some minutes into those pieces."""
        lag_min = self.lag_min[which]
        return profiles.ramp_c(
            minutes, each(exp, -minutes / lag_min), self.water_from_c[which], self.case_from_c[which],
            self.behind_k[which], lag_min,
        )  # fmt: skip


def _pieces(columns: Columns, shaped: Whole, practice: Practice) -> _Pieces:
    """`profiles.pieces` of each shape."""
    import numpy as np

    shape, at_min, water_c = _knots(columns, shaped)
    minutes = at_min[1:] - at_min[:-1]
    lasting = (shape[1:] == shape[:-1]) & (minutes > profiles.INSTANT_MIN)
    owner, minutes = shape[1:][lasting], minutes[lasting]
    water_from, water_to = water_c[:-1][lasting], water_c[1:][lasting]
    in_air = columns.water[shaped[owner]] == "air"
    lag = np.where(in_air, practice["lag_wrist_min"], practice["lag_water_min"])
    behind = profiles.behind_k(minutes, water_from, water_to, lag)
    decay = each(exp, -minutes / lag)
    steady = water_from + behind * minutes / lag - behind
    # The case begins each piece where it ended the one before: `profiles.ramp_c`, one piece after the other.
    found: list[float] = []
    ways = [column.tolist() for column in (water_from, behind, decay, steady)]
    begin = 0
    ends = np.searchsorted(owner, np.arange(len(shaped)), side="right").tolist()
    for case_c, end in zip(columns.from_c[shaped].tolist(), ends, strict=True):
        for water, trails, left, rest in zip(*(way[begin:end] for way in ways), strict=True):
            found.append(case_c)
            case_c = rest + (case_c - water + trails) * left
        begin = end
    case_from = real(found)
    case_to = steady + (case_from - water_from + behind) * decay
    return _Pieces(owner, minutes, water_from, water_to, case_from, case_to, lag, behind)


def _knots(columns: Columns, shaped: Whole) -> tuple[Whole, Array, Array]:
    """Shape, minutes and water temperature in °C where the slope of the water changes."""
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


def _temperature_cycles(from_c: Array, on_the_way: _Pieces) -> Iterator[list[Cycle]]:
    """`profiles.temperature_cycles` of each shape."""
    import numpy as np

    p, shapes = on_the_way, np.arange(len(from_c))
    start = p.case_from_c - p.water_from_c + p.behind_k
    turning = np.nonzero(p.behind_k)[0]
    ratio = start[turning] / p.behind_k[turning]
    turning, ratio = turning[ratio > 1], ratio[ratio > 1]
    at_min = p.lag_min[turning] * each(log, ratio)
    inside = at_min < p.minutes[turning]
    turning, at_min = turning[inside], at_min[inside]
    turns = np.zeros(len(p.owner), dtype=np.int64)
    turns[turning] = 1
    # A shape's stretch of the series: the case at the start, its turns and ends on the way, the start again.
    ends = np.arange(len(p.owner)) + np.cumsum(turns) + 2 * p.owner + 1
    last = np.cumsum(np.bincount(p.owner, weights=turns + 1, minlength=len(shapes)).astype(np.int64) + 2) - 1
    first = np.concatenate([[0], last[:-1] + 1])
    series = np.empty(len(p.owner) + len(turning) + 2 * len(shapes))
    series[ends] = p.case_to_c
    series[ends[turning] - 1] = p.case_c(turning, at_min)
    series[first] = series[last] = from_c
    for begin, end in zip(first.tolist(), last.tolist(), strict=True):
        yield count_cycles(series[begin : end + 1].tolist())


def _mean_rates(from_c: Array, on_the_way: _Pieces, law: tuple[float, float]) -> list[float]:
    """`profiles.mean_rate` of each shape under a law of Arrhenius."""
    import numpy as np

    p, shapes = on_the_way, np.arange(len(from_c))
    settling = (p.water_from_c == p.water_to_c) & (p.minutes > p.lag_min * profiles.SETTLING_LAGS)
    steps = [_settling(p, np.nonzero(settling)[0], law), *_stepping(p, np.nonzero(~settling)[0], law)]
    owner = np.concatenate([which for which, _ in steps])
    order = np.argsort(owner, kind="stable")
    ends = np.searchsorted(owner[order], shapes, side="right").tolist()
    terms = np.concatenate([aged for _, aged in steps])[order].tolist()
    ends_of_pieces = np.searchsorted(p.owner, shapes, side="right").tolist()
    minutes = p.minutes.tolist()
    at_the_start = rates(from_c, law).tolist()
    found, begin, piece = [], 0, 0
    for shape, (end, last) in enumerate(zip(ends, ends_of_pieces, strict=True)):
        whole_min = fsum(minutes[piece:last])
        found.append(fsum(terms[begin:end]) / whole_min if whole_min else at_the_start[shape])
        begin, piece = end, last
    return found


def _settling(p: _Pieces, which: Whole, law: tuple[float, float]) -> tuple[Whole, Array]:
    """`Piece.aged` of pieces in steady water, with the shapes they are of."""
    import numpy as np

    minutes, lag, water = p.minutes[which], p.lag_min[which], p.water_from_c[which]
    apart = p.case_from_c[which] - water
    left = each(exp, -minutes / lag)
    gone, settled = 1 - left, rates(water, law)
    mean = np.zeros(len(which))
    for node, weight in profiles.EIGHT:
        part = left + node * gone
        mean += weight * ((rates(water + apart * part, law) - settled) / part)
    return p.owner[which], minutes * settled + lag * gone * mean


def _stepping(p: _Pieces, which: Whole, law: tuple[float, float]) -> Iterator[tuple[Whole, Array]]:
    """`Piece.aged` of the other pieces, step by step, with the shapes they are of: rule by rule."""
    import numpy as np

    minutes, lag = p.minutes[which], p.lag_min[which]
    count = np.minimum(profiles.MOST_STEPS, np.ceil(minutes * profiles.STEPS_A_LAG / lag)).astype(np.int64)
    width = minutes / count
    case = p.case_from_c[which]
    apart = np.maximum(np.abs(p.water_from_c[which] - case), np.abs(p.water_to_c[which] - case))
    fits = np.searchsorted([most for most, _ in profiles.RULES], width / lag * apart)
    for n, (_, rule) in enumerate(profiles.RULES):
        chosen = np.nonzero(fits == n)[0]
        rows = np.repeat(chosen, count[chosen])
        step = np.arange(len(rows)) - np.repeat(np.cumsum(count[chosen]) - count[chosen], count[chosen])
        mean = np.zeros(len(rows))
        for node, weight in rule:
            mean += weight * rates(p.case_c(which[rows], (step + node) * width[rows]), law)
        yield p.owner[which[rows]], width[rows] * mean
