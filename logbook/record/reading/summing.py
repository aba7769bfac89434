"""What the exposures of one watch come to: by activity, the deepest, the largest swing, those with a profile.

Plain SQL through any driver, plans left out; both ends of the dates are included.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from logbook.model.practice import Practice
from logbook.model.values import Exposure
from logbook.model.wear import wear
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows, values
from logbook.record.schema import shapes

_SALT = "water IN ('sea', 'brackish')"
_LOGGED = "watch_id = ? AND planned = 0 AND starts_on >= ? AND starts_on <= ?"


@dataclass(frozen=True, slots=True)
class ActivitySum:
    """All exposures of one activity: how many, how long together, the deepest, in which water."""

    activity: str
    count: int
    duration_s: int
    deepest_m: float
    in_salt: int  # sea or brackish water
    in_other: int  # any other water; hot air is neither
    salt_left: int  # salt water that was not rinsed off


def read_activity_sums(
    rows: Rows, watch_id: int, until: date, since: date | None = None
) -> list[ActivitySum]:
    """What each activity comes to, the most frequent first."""
    counted = [
        f"SUM(CASE WHEN {condition} THEN 1 ELSE 0 END)"
        for condition in (_SALT, f"NOT ({_SALT}) AND water <> 'air'", f"{_SALT} AND rinsed = 0")
    ]
    statement = (
        f"SELECT activity, COUNT(*) AS times, SUM(duration_s), MAX(depth_mm), {', '.join(counted)}"
        f" FROM exposure WHERE {_LOGGED} GROUP BY activity ORDER BY times DESC, activity"
    )
    found = rows(statement, _between(watch_id, since, until))
    return [
        ActivitySum(name, int(times), int(seconds), deepest / 1000, int(salt), int(other), int(left))
        for name, times, seconds, deepest, salt, other, left in found
    ]


def read_greatest(
    rows: Rows, watch_id: int, by: Literal["depth_mm", "gauge_pa"], until: date, since: date | None = None
) -> Exposure | None:
    """The exposure with the greatest depth or gauge pressure, the newest of equal ones; without profile."""
    rest = f"WHERE {_LOGGED} ORDER BY {by} DESC, starts_on DESC, id DESC LIMIT 1"
    return next(iter(values(rows, shapes.EXPOSURE, rest, _between(watch_id, since, until))), None)


def read_largest_swing(
    rows: Rows, watch_id: int, practice: Practice, until: date
) -> tuple[Exposure, float] | None:
    """The exposure with the largest temperature swing, and its size in K; None without any exposure."""
    between = _between(watch_id, None, until)
    # In water the case takes the water's temperature; in air it lags, which only the reckoning can tell.
    wettest = (
        f"SELECT id FROM exposure WHERE {_LOGGED} AND water <> 'air'"
        " ORDER BY ABS(from_mk - water_mk) DESC, starts_on DESC, id DESC LIMIT 1"
    )
    found = [glance.read_exposure(rows, key) for (key,) in list(rows(wettest, between))]
    found += values(rows, shapes.EXPOSURE, f"WHERE {_LOGGED} AND water = 'air'", between)
    sized = [(exposure, wear.swing_k(exposure, practice)) for exposure in found]
    return max(sized, key=lambda pair: (pair[1], pair[0].starts_on, pair[0].id or 0), default=None)


def read_profiled(rows: Rows, watch_id: int, until: date, limit: int) -> list[Exposure]:
    """The deepest exposures that have a profile with a shape, the deepest first."""
    statement = (
        f"SELECT id FROM exposure WHERE {_LOGGED}"
        " AND EXISTS (SELECT 1 FROM profile_point p WHERE p.exposure_id = exposure.id AND p.seq = 1)"
        " ORDER BY depth_mm DESC, starts_on DESC, id DESC LIMIT ?"
    )
    keys = [key for (key,) in rows(statement, [*_between(watch_id, None, until), limit])]
    found = [glance.read_exposure(rows, key) for key in keys]
    return [exposure for exposure in found if wear.has_shape(exposure.profile)]


def _between(watch_id: int, since: date | None, until: date) -> list[object]:
    return [watch_id, (since or date.min).isoformat(), until.isoformat()]
