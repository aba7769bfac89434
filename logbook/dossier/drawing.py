"""Where things stand in the two drawings of the page: what used up each seal's interval, and depth over time.

`drawing.svg.jinja` draws them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

from logbook.dossier.exposed import Curve
from logbook.dossier.seals import PARTS, Bar

_MOST = 2.0  # intervals that the scale reaches at most
_COLUMNS = 240  # parts into which a long profile is thinned


class Scale:
    """From a share of an interval to a place on the paper; it reaches at least one interval."""

    left, right = 84.0, 664.0

    def __init__(self, shares: Sequence[float]) -> None:
        self.most = min(_MOST, max(1.0, math.ceil(4 * max(shares, default=1.0)) / 4))
        self.quarters = round(4 * self.most)

    def x(self, share: float) -> float:
        """Where a share stands; what is off the scale stands at its end."""
        return self.left + (self.right - self.left) * min(share, self.most) / self.most

    def parts(self, bar: Bar) -> Iterator[tuple[str, float, float]]:
        """Each part of a wear share, from where to where."""
        ends = [self.x(end) for end in accumulate(bar.parts)]
        return zip(PARTS, [self.left, *ends], ends, strict=False)


class SealBars:
    """One bar for each seal: the parts of its wear share, and its band as a line under it."""

    def __init__(self, bars: Sequence[Bar]) -> None:
        self.bars = bars
        self.shown = [name for n, name in enumerate(PARTS) if any(bar.parts[n] >= 0.0005 for bar in bars)]
        self.scale = Scale([*(sum(b.parts) for b in bars), *(b.high or 0.0 for b in bars)])

    @property
    def described(self) -> str:
        """The drawing in words."""
        return f"{'; '.join(map(self._told, self.bars))}. The parts stand in the table above."

    @staticmethod
    def _told(bar: Bar) -> str:
        known = bar.low is not None and bar.high is not None
        likely = f", likely {100 * (bar.low or 0):.0f} to {100 * (bar.high or 0):.0f} %" if known else ""
        return f"{bar.place}: {bar.used} of its interval used{likely}"


class DepthPlot:
    """Depth over time, downwards, of one or a few exposures."""

    left, right, top, bottom = 44.0, 460.0, 6.0, 90.0

    def __init__(self, curves: Sequence[Curve]) -> None:
        self.curves = curves
        self.unit = curves[0].unit
        self.depth_marks = _marks(max(max(curve.depths) for curve in curves), 4)
        self.time_marks = _marks(max(max(curve.minutes) for curve in curves), 8)

    def x(self, minutes: float) -> float:
        """Where a time stands."""
        return self.left + (self.right - self.left) * minutes / self.time_marks[-1]

    def y(self, depth: float) -> float:
        """Where a depth stands."""
        return self.top + (self.bottom - self.top) * max(0.0, depth) / self.depth_marks[-1]

    @property
    def described(self) -> str:
        """The drawing in words."""
        return "; ".join(curve.label for curve in self.curves)

    @staticmethod
    def points(curve: Curve) -> list[tuple[float, float]]:
        """The points of a profile, of a long one the least and greatest depth of each part of its time."""
        points = list(zip(curve.minutes, curve.depths, strict=True))
        if len(points) <= 2 * _COLUMNS:
            return points
        bounds = [round(n * len(points) / _COLUMNS) for n in range(_COLUMNS + 1)]
        kept = [points[0]]
        for first, after in pairwise(bounds):
            part = points[first:after]
            ends = {min(part, key=lambda p: p[1]), max(part, key=lambda p: p[1])}
            kept += sorted(ends)
        return [*kept, points[-1]]


def _marks(most: float, parts: int) -> list[float]:
    """Marks from nothing to `most` or beyond, apart by the smallest of 1, 2, 5, 10, … for about `parts`."""
    step = 1.0
    if most > 0:
        exact = most / parts
        power = 10.0 ** math.floor(math.log10(exact))
        step = next(power * n for n in (1, 2, 5, 10) if power * n >= exact - 1e-9)
    return [n * step for n in range(max(1, math.ceil(most / step - 1e-9)) + 1)]
