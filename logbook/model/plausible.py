"""Doubtful depths and lengths: more than an activity has in practice, so worth asking about.

The limits are generous assumptions among the constants. Only typed entries are asked about; those from files
are taken as they are.
"""

from __future__ import annotations

from typing import Literal

from logbook.model.practice import Activity, Practice
from logbook.model.shown import show_depth, show_minutes
from logbook.model.values import Exposure

Doubtful = Literal["depth_m", "duration_s"]

# Activities whose name alone does not read as one thing.
_WHOSE = {"hands": "hand washing's", "rain": "rain's", "mixed-gas": "a mixed-gas dive's"}


def doubtful_field(exposure: Exposure, practice: Practice) -> Doubtful | None:
    """The field that goes beyond what its activity has in practice, depth first; None where neither does."""
    row = practice.activities.get(exposure.activity)
    return None if row is None else beyond(row, exposure.depth_m, exposure.duration_s)


def beyond(row: Activity, depth_m: float | None, duration_s: float | None) -> Doubtful | None:
    """Which of the two goes beyond what the activity has in practice; a None never does."""
    if row.most_depth_m is not None and depth_m is not None and depth_m > row.most_depth_m:
        return "depth_m"
    if row.most_minutes is not None and duration_s is not None and duration_s > row.most_minutes * 60:
        return "duration_s"
    return None


def most_words(row: Activity, field: Doubtful, units: str = "metric") -> str:
    """The limit of a doubtful field for its activity, in words: `a shower's 0.5 m`."""
    article = "an" if row.name[:1] in "aeiou" else "a"
    whose = _WHOSE.get(row.name, f"{article} {row.name}'s")
    most_m, most_min = row.most_depth_m or 0.0, row.most_minutes or 0.0
    return f"{whose} {show_depth(most_m, units) if field == 'depth_m' else show_minutes(most_min * 60)}"


def doubt(exposure: Exposure, practice: Practice, units: str = "metric") -> str | None:
    """The question about a depth or length that is unlikely for its activity; None where there is none."""
    field = doubtful_field(exposure, practice)
    if field is None:
        return None
    most = most_words(practice.activities[exposure.activity], field, units)
    if field == "depth_m":
        return f"{show_depth(exposure.depth_m, units)} deep is more than {most}: is that right?"
    return f"{show_minutes(exposure.duration_s)} is longer than {most}: is that right?"
