"""Exposures as columns: an array for each of the numbers that reckoning reads, for one pass over them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from math import exp, nan
from typing import TYPE_CHECKING, Any

from logbook.model.values import Exposure
from logbook.model.wear.clock import minutes_into_day
from logbook.physics.constants import ICE_POINT_K

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Whole = NDArray[np.int64]
    Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Points:
    """The points of profiles, exposure by exposure and by time; `owner` is the place of its exposure."""

    owner: Whole
    time_s: Array
    depth_m: Array
    water_c: Array  # NaN where it was not measured


@dataclass(frozen=True, eq=False)
class Columns:
    """Exposures of one watch as columns of one length, with the points of their profiles."""

    id: Whole
    day: Whole  # ordinal of the date it starts on
    timed: Mask  # a time of day was given
    into_day_min: Array  # 0 without a time
    utc_offset_s: Whole
    duration_s: Whole
    water: NDArray[np.str_]
    depth_m: Array
    gauge_pa: Array
    water_c: Array
    from_c: Array
    salinity: Array  # NaN where none is known
    rinsed: Mask
    dips: Whole
    crown_wet: Whole
    crown_under: Whole
    pusher_wet: Whole
    pusher_under: Whole
    points: Points

    def __len__(self) -> int:
        return len(self.id)

    def at(self, places: Whole, points: Points) -> Columns:
        """Those at some places, with the points of their profiles."""
        return Columns(**{name: getattr(self, name)[places] for name in _NAMES}, points=points)


_NAMES = tuple(field.name for field in fields(Columns) if field.name != "points")


def columns_of(exposures: Sequence[Exposure]) -> Columns:
    """Values as columns."""
    rows = [
        (
            e.id or 0, e.starts_on.toordinal(), e.starts_at is not None,
            minutes_into_day(e.starts_at) if e.starts_at is not None else 0.0, e.utc_offset_s or 0,
            e.duration_s, e.water, e.depth_m, e.gauge_pa, e.water_c, e.from_c,
            nan if e.salinity is None else e.salinity, e.rinsed, e.dips,
            e.crown_wet, e.crown_under, e.pusher_wet, e.pusher_under,
        )
        for e in exposures
    ]  # fmt: skip
    points = [
        (n, p.time_s, p.depth_m, float("nan") if p.water_c is None else p.water_c)
        for n, e in enumerate(exposures)
        for p in e.profile
    ]
    found = {name: _typed(name, c) for name, c in zip(_NAMES, _turned(rows, len(_NAMES)), strict=True)}
    owner, *rest = _turned(points, 4)
    return Columns(**found, points=Points(whole(owner), *(real(column) for column in rest)))


def _turned(rows: Sequence[Sequence[Any]], width: int) -> list[tuple[Any, ...]]:
    """Columns of rows, empty ones where there is no row."""
    return list(zip(*rows, strict=True)) or [()] * width


def _typed(name: str, column: Sequence[Any]) -> Any:
    """A column as an array of its own kind."""
    import numpy as np

    kind = Columns.__annotations__[name]
    return np.array(column, dtype={"Whole": np.int64, "Array": np.float64, "Mask": np.bool_}.get(kind, str))


def whole(column: Sequence[int]) -> Whole:
    """Whole numbers as an array."""
    import numpy as np

    return np.array(column, dtype=np.int64)


def real(column: Sequence[float]) -> Array:
    """Numbers as an array."""
    import numpy as np

    return np.array(column, dtype=np.float64)


def each(function: Callable[[float], float], values: Array) -> Array:
    """A function of the standard library over an array, one number after the other.

    Numpy's own exponentials and powers may differ from those in the last place; these are the same.
    """
    import numpy as np

    return np.fromiter(map(function, values.tolist()), np.float64, len(values))


def rates(case_c: Array, arrhenius: tuple[float, float]) -> Array:
    """`wear.relative_rate` at many case temperatures in °C, from what `wear.arrhenius` gives."""
    slope, reference = arrhenius
    return each(exp, slope * (1 / (case_c + ICE_POINT_K) - reference))
