"""Time accounting: each hour since a seal was fitted is spent once.

Exposures come first (where two overlap, the hours count once), then what is left of the day's worn hours on
the wrist, then storage. This is for ageing only; salt and soap are charged for the full length of each
exposure.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from datetime import date, time, timedelta
from itertools import pairwise
from math import inf
from operator import itemgetter
from typing import Generic, NamedTuple

from logbook.model.values import Exposure, WornStretch
from logbook.model.wear.wear import Number

DAY_MIN, ONE_DAY = 24 * 60, timedelta(days=1)


class Spent(NamedTuple, Generic[Number]):
    """Hours that an exposure takes, off the wrist and out of storage; for many exposures, as columns."""

    from_wrist_h: Number
    from_storage_h: Number

    @property
    def hours(self) -> Number:
        """All hours of the exposure that no earlier one has taken."""
        return self.from_wrist_h + self.from_storage_h


class Moment(NamedTuple):
    """When an exposure was: only what its hours depend on."""

    id: int | None
    starts_on: date
    starts_at: time | None
    utc_offset_s: int | None
    duration_s: int


class WornDays:
    """Worn hours of a day: by the stretch entered last that covers it, else by the habit of the watch."""

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
    """Sorted stretches without overlap, as (first day, day after the last, hours); later entries win."""
    from heapq import heappop, heappush

    edges = sorted({d for s in stretches for d in (s.from_on, s.to_on + ONE_DAY)})
    starting = sorted(range(len(stretches)), key=lambda n: stretches[n].from_on)
    open_now: list[int] = []  # the last entered first
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
    exposures: Iterable[Exposure | Moment],
    worn_left_h: Callable[[date], float],
    day_left_h: Callable[[date], float],
) -> dict[int, Spent[float]]:
    """Exposure id -> the hours it takes.

    `worn_left_h` and `day_left_h` say how many worn hours, and how many hours in all, repeated exposures
    leave on a day. To be exact for a day, it needs every exposure that begins on it or in the two days
    before.
    """
    worn: dict[date, float] = {}
    left: dict[date, float] = {}
    # Exposures come in the order of their starts, so what is covered at a start is one span, which ends here.
    covered_to = -inf
    spent: dict[int, Spent[float]] = {}
    for begin, id_, into_day, exposure in sorted(map(_start, exposures), key=itemgetter(0, 1)):
        timed, day, remaining = exposure.starts_at is not None, exposure.starts_on, exposure.duration_s / 60
        ends, from_wrist, from_storage = begin + remaining, 0.0, 0.0
        while remaining > 0:  # cut at the owner's midnights
            length = min(remaining, DAY_MIN - into_day)
            end = begin + length
            free_min = end - begin
            if timed:
                free_min -= max(0.0, min(end, covered_to) - begin)
            if day not in left:
                worn[day], left[day] = worn_left_h(day), day_left_h(day)
            hours = min(free_min / 60, left[day])
            wrist = min(hours, worn[day])
            left[day] -= hours
            worn[day] -= wrist
            from_wrist += wrist
            from_storage += hours - wrist
            begin, day, remaining, into_day = end, day + ONE_DAY, remaining - length, 0.0
        if timed:
            covered_to = max(covered_to, ends)
        spent[id_] = Spent(from_wrist, from_storage)
    return spent


def _start(exposure: Exposure | Moment) -> tuple[float, int, float, Exposure | Moment]:
    """The start in minutes on one time line for all zones, and into its day; 0:00 where it has no time."""
    at = exposure.starts_at
    into_day = 0.0 if at is None else at.hour * 60 + at.minute + at.second / 60
    begin = exposure.starts_on.toordinal() * DAY_MIN + into_day - (exposure.utc_offset_s or 0) / 60
    return begin, exposure.id or 0, into_day, exposure
