"""How much there is to reckon anew when the constants or the version have changed, through plain SQL."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.model.practice import Practice
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows

# Above this it takes about half a second or more, the libraries for it included, and people are told.
MUCH = 10_000
_POINTS_AS_ONE = 8  # points of profiles that take as long as one exposure


@dataclass(frozen=True, slots=True)
class Backlog:
    """Exposures whose cost is to be reckoned anew, and whether that takes longer than a moment."""

    exposures: int
    much: bool


def backlog_of(rows: Rows, practice: Practice) -> Backlog | None:
    """What is to be reckoned anew; None when the ledger was reckoned with the constants in force."""
    if not glance.is_stale(rows, practice):
        return None
    exposures = glance.count_exposures(rows, planned=False)
    ((points,),) = rows("SELECT COUNT(*) FROM profile_point", ())
    return Backlog(exposures, exposures + points // _POINTS_AS_ONE >= MUCH)
