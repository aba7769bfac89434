"""Time accounting: each hour since a seal was fitted is spent once.

First in exposures (where two overlap, the hours count once), then the rest of that day's worn hours on the
wrist, the rest in storage. Hours of ageing only; salt and soap are charged for each exposure's own length.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING

from logbook.model.values import Exposure, WornStretch

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array, Whole

DAY_MIN = 24 * 60


@dataclass(frozen=True, slots=True)
class Spent:
    """Hours that an exposure takes, and whether they came off the wrist or out of storage."""

    from_wrist_h: float
    from_storage_h: float

    @property
    def hours(self) -> float:
        """All hours of the exposure that no earlier one had taken."""
        return self.from_wrist_h + self.from_storage_h


class WornDays:
    """Worn hours a day: the latest entered stretch that covers a day, else the watch's own habit."""

    def __init__(self, default_h: float, stretches: Sequence[WornStretch]) -> None:
        self.default_h = default_h
        self._segments = _resolve(stretches)
        self._starts = [start for start, _, _ in self._segments]

    def hours_on(self, day: date) -> float:
        """Worn hours on one day."""
        at = bisect_right(self._starts, day) - 1
        if at >= 0 and day < self._segments[at][1]:
            return self._segments[at][2]
        return self.default_h

    def hours_on_all(self, days: Whole) -> Array:
        """Worn hours on many days, given as ordinals."""
        import numpy as np

        if not self._segments:
            return np.full(len(days), self.default_h)
        starts = np.array([start.toordinal() for start, _, _ in self._segments])
        ends = np.array([end.toordinal() for _, end, _ in self._segments])
        hours = np.array([hours for _, _, hours in self._segments])
        at = np.searchsorted(starts, days, side="right") - 1
        return np.where((at >= 0) & (days < ends[at]), hours[at], self.default_h)

    def regimes(self, start: date, end: date, breaks: Iterable[date] = ()) -> list[tuple[date, date, float]]:
        """Runs of days with the same worn hours from `start` up to, without, `end`; cut at `breaks` too."""
        if start >= end:
            return []
        cuts = {start, end, *(b for b in breaks if start < b < end)}
        first = max(bisect_right(self._starts, start) - 1, 0)
        for begin, stop, _ in self._segments[first:]:
            if begin >= end:
                break
            cuts.update(edge for edge in (begin, stop) if start < edge < end)
        edges = sorted(cuts)
        return [(a, b, self.hours_on(a)) for a, b in pairwise(edges)]


def _resolve(stretches: Sequence[WornStretch]) -> list[tuple[date, date, float]]:
    """Stretches without overlap, sorted, as (first day, day after the last, hours); later entries win."""
    from heapq import heappop, heappush

    one = timedelta(days=1)
    edges = sorted({d for s in stretches for d in (s.from_on, s.to_on + one)})
    starting = sorted(range(len(stretches)), key=lambda n: stretches[n].from_on)
    open_now: list[int] = []  # the latest entered first
    resolved: list[tuple[date, date, float]] = []
    at = 0
    for begin, end in pairwise(edges):
        while at < len(starting) and stretches[starting[at]].from_on <= begin:
            heappush(open_now, -starting[at])
            at += 1
        while open_now and stretches[-open_now[0]].to_on < begin:
            heappop(open_now)
        if open_now:
            resolved.append((begin, end, stretches[-open_now[0]].hours))
    return resolved


def spend(
    exposures: Sequence[Exposure],
    worn_left_h: Callable[[date], float],
    day_left_h: Callable[[date], float],
) -> dict[int, Spent]:
    """Exposure id -> the hours it takes.

    `worn_left_h` and `day_left_h` say how many worn hours, and hours at all, repeated exposures leave on a
    day. To be exact for a day it needs every exposure that begins on it or in the two days before.
    """
    worn: dict[date, float] = {}
    left: dict[date, float] = {}
    # What is covered at a start is one span, which ends here, as exposures come in the order of their starts.
    covered_to = -inf
    spent: dict[int, Spent] = {}
    for start, exposure in sorted(
        ((_start_min(e), e) for e in exposures), key=lambda pair: (pair[0], pair[1].id or 0)
    ):
        from_wrist = from_storage = 0.0
        for day, begin, end in _pieces(exposure, start):
            free_min = end - begin
            if exposure.starts_at is not None:
                free_min -= max(0.0, min(end, covered_to) - begin)
            if day not in left:
                worn[day], left[day] = worn_left_h(day), day_left_h(day)
            hours = min(free_min / 60, left[day])
            wrist = min(hours, worn[day])
            left[day] -= hours
            worn[day] -= wrist
            from_wrist += wrist
            from_storage += hours - wrist
        if exposure.starts_at is not None:
            covered_to = max(covered_to, start + exposure.duration_s / 60)
        spent[exposure.id or 0] = Spent(from_wrist, from_storage)
    return spent


def minutes_into_day(at: time) -> float:
    """Minutes from midnight to a time of day."""
    return at.hour * 60 + at.minute + at.second / 60


def _civil_min(exposure: Exposure) -> float:
    return minutes_into_day(exposure.starts_at) if exposure.starts_at is not None else 0.0


def _start_min(exposure: Exposure) -> float:
    """Minutes on one time line for all zones; an exposure without a time stands at the start of its day."""
    return exposure.starts_on.toordinal() * DAY_MIN + _civil_min(exposure) - (exposure.utc_offset_s or 0) / 60


def _pieces(exposure: Exposure, start: float) -> list[tuple[date, float, float]]:
    """The exposure cut at the owner's midnights: day, begin and end on the common time line."""
    pieces = []
    day, into_day, remaining = exposure.starts_on, _civil_min(exposure), exposure.duration_s / 60
    while remaining > 0:
        length = min(remaining, DAY_MIN - into_day)
        pieces.append((day, start, start + length))
        start += length
        remaining -= length
        day += timedelta(days=1)
        into_day = 0.0
    return pieces
