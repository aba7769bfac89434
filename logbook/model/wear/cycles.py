"""Cycles of a series, counted by rainflow: ASTM E1049-85 (reapproved 2017), section 5.4.4."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Cycle:
    """Cycles of one range: range and mean in the unit of the series, count in whole and half cycles."""

    range: float
    mean: float
    count: float


def count_cycles(series: Sequence[float]) -> list[Cycle]:
    """Rainflow cycles of a series of values in any one unit, smallest range first; none of range 0.

    Raises ValueError when a value is not a finite number. The rainflow library does the counting.
    """
    import math

    import rainflow

    if not all(math.isfinite(value) for value in series):
        raise ValueError("every value of the series must be a finite number")
    found: dict[tuple[float, float], float] = {}
    # The library finds nothing in a series of two; repeating the last value makes three and adds no turn.
    for size, mean, count, _, _ in rainflow.extract_cycles([*series, *series[-1:]]):
        if size > 0:
            found[(size, mean)] = found.get((size, mean), 0.0) + count
    return [Cycle(size, mean, count) for (size, mean), count in sorted(found.items())]
