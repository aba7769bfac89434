"""Exposures as columns: an array for each number that charging reads, for one pass over all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import exp, nan
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from logbook.model.values import Exposure, Water
from logbook.physics.constants import ICE_POINT_K

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Whole = NDArray[np.int64]
    Mask = NDArray[np.bool_]


Some = TypeVar("Some")


class Kind(NamedTuple):
    """What many exposures share: their water, its salinity in g/kg, and whether the watch was rinsed."""

    water: Water
    salinity: float | None
    rinsed: bool


@dataclass(frozen=True, eq=False)
class Points:
    """The points of profiles, by exposure and by time; `owner` is the place of each point's exposure."""

    owner: Whole
    time_s: Array
    depth_m: Array
    water_c: Array  # NaN where it was not measured


@dataclass(frozen=True, eq=False)
class Columns:
    """Exposures of one watch as columns of one length, with the points of their profiles."""

    id: Whole
    day: Whole  # ordinal of the date it starts on
    duration_s: Whole
    depth_m: Array
    gauge_pa: Array
    water_c: Array
    from_c: Array
    dips: Array
    crown_wet: Array
    crown_under: Array
    pusher_wet: Array
    pusher_under: Array
    kind: Whole  # its place among `kinds`
    kinds: Sequence[Kind]
    points: Points

    def __len__(self) -> int:
        return len(self.id)

    @property
    def in_air(self) -> Mask:
        """True for exposures in hot air."""
        import numpy as np

        return np.array([kind.water == "air" for kind in self.kinds], dtype=bool)[self.kind]


def columns_of(exposures: Sequence[Exposure]) -> Columns:
    """Values as columns."""
    kind, kinds = numbered(Kind(e.water, e.salinity, e.rinsed) for e in exposures)
    points = [(n, p) for n, e in enumerate(exposures) for p in e.profile]
    return Columns(
        id=whole([e.id or 0 for e in exposures]),
        day=whole([e.starts_on.toordinal() for e in exposures]),
        duration_s=whole([e.duration_s for e in exposures]),
        depth_m=real([e.depth_m for e in exposures]),
        gauge_pa=real([e.gauge_pa for e in exposures]),
        water_c=real([e.water_c for e in exposures]),
        from_c=real([e.from_c for e in exposures]),
        dips=real([e.dips for e in exposures]),
        crown_wet=real([e.crown_wet for e in exposures]),
        crown_under=real([e.crown_under for e in exposures]),
        pusher_wet=real([e.pusher_wet for e in exposures]),
        pusher_under=real([e.pusher_under for e in exposures]),
        kind=kind,
        kinds=kinds,
        points=Points(
            owner=whole([n for n, _ in points]),
            time_s=real([p.time_s for _, p in points]),
            depth_m=real([p.depth_m for _, p in points]),
            water_c=real([nan if p.water_c is None else p.water_c for _, p in points]),
        ),
    )


def numbered(kinds: Iterable[Some]) -> tuple[Whole, Sequence[Some]]:
    """Each exposure's kind as its place in the list, and the list of kinds."""
    found: dict[Some, int] = {}
    return whole([found.setdefault(kind, len(found)) for kind in kinds]), list(found)


def whole(column: Sequence[int]) -> Whole:
    """Whole numbers as an array."""
    import numpy as np

    return np.array(column, dtype=np.int64)


def real(column: Sequence[float]) -> Array:
    """Numbers as an array."""
    import numpy as np

    return np.array(column, dtype=np.float64)


def each(function: Callable[[float], float], values: Array) -> Array:
    """Applies a function of the standard library to an array, one number after the other.

    Numpy's own exponentials and powers may differ in the last digit; these do not.
    """
    import numpy as np

    return np.fromiter(map(function, values.tolist()), np.float64, len(values))


def rates(case_c: Array, arrhenius: tuple[float, float]) -> Array:
    """`wear.relative_rate` at many case temperatures in °C, with the numbers from `wear.arrhenius`."""
    slope, reference = arrhenius
    return each(exp, slope * (1 / (case_c + ICE_POINT_K) - reference))
