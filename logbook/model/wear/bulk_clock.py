"""Time accounting for all exposures of a watch at once: what `clock.spend` gives, to the same digit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from logbook.model.values import WatchRecord
from logbook.model.wear.charge import charged_habits
from logbook.model.wear.clock import DAY_MIN, WornDays
from logbook.model.wear.columns import Columns

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array, Whole


class AllSpent(NamedTuple):
    """Hours that exposures take, off the wrist and out of storage, as columns."""

    from_wrist_h: Array
    from_storage_h: Array

    def at(self, places: Whole) -> AllSpent:
        """Those at some places."""
        return AllSpent(self.from_wrist_h[places], self.from_storage_h[places])


def spend_all(record: WatchRecord, columns: Columns) -> AllSpent:
    """Hours that each exposure takes, of all that a watch had."""
    import numpy as np

    start_min = columns.day * DAY_MIN + columns.into_day_min - columns.utc_offset_s / 60
    order = np.lexsort((columns.id, start_min))
    stays = list(_by_midnights(columns, start_min, order))
    place = np.concatenate([stay.place for stay in stays]) if stays else order
    day = np.concatenate([stay.day for stay in stays]) if stays else order
    free_min = np.concatenate([stay.free_min for stay in stays]) if stays else start_min
    hours, wrist = _shared_out(record, day, place, free_min / 60)
    from_wrist, from_storage = np.zeros(len(columns)), np.zeros(len(columns))
    done = 0
    for stay in stays:  # an exposure is in each of them once at most
        part = slice(done, done + len(stay.place))
        from_wrist[order[stay.place]] += wrist[part]
        from_storage[order[stay.place]] += hours[part] - wrist[part]
        done += len(stay.place)
    return AllSpent(from_wrist, from_storage)


class _Stays(NamedTuple):
    """Parts of exposures between two midnights of their owners."""

    place: Whole  # of the exposure in the order of their starts
    day: Whole
    free_min: Array  # what no earlier exposure covered


def _by_midnights(columns: Columns, start_min: Array, order: Whole) -> Iterator[_Stays]:
    """The first day of every exposure, then the second of those that have one, and so on."""
    import numpy as np

    place, begin = np.arange(len(order)), start_min[order]
    day, into, timed = columns.day[order], columns.into_day_min[order], columns.timed[order]
    remaining = columns.duration_s[order] / 60
    # What is covered at a start is one span, since exposures stand in the order of their starts.
    ends = np.where(timed, begin + remaining, -np.inf)
    covered_to = np.concatenate(([-np.inf], np.maximum.accumulate(ends)[:-1])) if len(ends) else ends
    while len(place):
        length = np.minimum(remaining, DAY_MIN - into)
        end = begin + length
        covered = np.where(timed, np.maximum(0.0, np.minimum(end, covered_to) - begin), 0.0)
        yield _Stays(place, day, end - begin - covered)
        remaining, begin, day, into = remaining - length, end, day + 1, np.zeros(len(place))
        more = remaining > 0
        place, day, timed = place[more], day[more], timed[more]
        begin, into, remaining, covered_to = begin[more], into[more], remaining[more], covered_to[more]


def _shared_out(record: WatchRecord, day: Whole, place: Whole, asked_h: Array) -> tuple[Array, Array]:
    """Hours that each stay gets of its day, the earlier first, and how many of them come off the wrist."""
    import numpy as np

    days, at = np.unique(day, return_inverse=True)
    worn, left = _hours_left(record, days)
    order = np.lexsort((place, at))
    first = np.searchsorted(at[order], np.arange(len(days)))
    rank = np.empty(len(at), dtype=np.int64)
    rank[order] = np.arange(len(at)) - first[at[order]]
    hours, wrist = np.zeros(len(at)), np.zeros(len(at))
    by_rank = np.argsort(rank, kind="stable")
    for chosen in np.split(by_rank, np.cumsum(np.bincount(rank))[:-1]) if len(at) else ():
        on = at[chosen]
        hours[chosen] = np.minimum(asked_h[chosen], left[on])
        wrist[chosen] = np.minimum(hours[chosen], worn[on])
        left[on] -= hours[chosen]
        worn[on] -= wrist[chosen]
    return hours, wrist


def _hours_left(record: WatchRecord, days: Whole) -> tuple[Array, Array]:
    """What `charge.hours_left` says of many days, given as ordinals."""
    import numpy as np

    habit_h = np.zeros(len(days))
    for habit in charged_habits(record):
        running = days >= habit.from_on.toordinal()
        if habit.to_on is not None:
            running &= days <= habit.to_on.toordinal()
        habit_h[running] += habit.per_day * habit.exposure.duration_s / 3600
    worn_h = WornDays(record.watch.worn_h, record.stretches).hours_on_all(days)
    return np.maximum(0.0, worn_h - habit_h), np.maximum(0.0, 24.0 - habit_h)
