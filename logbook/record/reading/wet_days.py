"""Days with water of one watch: how much was logged on each, and what it cost the seal in one place."""

from __future__ import annotations

from datetime import date

from logbook.model.fields import TRILLIONTH
from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, Position, WatchRecord
from logbook.model.wear import wet_days
from logbook.model.wear.wet_days import WetDay, Year
from logbook.record.reading.rows import Rows
from logbook.record.schema.shapes import day_of

_TOTAL = " + ".join(f"s.{channel}" for channel in CHANNELS)


def read_year(
    rows: Rows, record: WatchRecord, year: int, position: Position | None, practice: Practice, today: date
) -> Year:
    """A year of water up to today: what was logged, and the habits of the watch."""
    watch_id, first, last = record.watch.id or 0, date(year, 1, 1), min(date(year, 12, 31), today)
    logged = read_wet_days(rows, watch_id, first, last, position)
    [(heat_days,)] = rows(
        "SELECT COUNT(DISTINCT starts_on) FROM exposure WHERE water = 'air' AND watch_id = ? AND planned = 0"
        " AND starts_on BETWEEN ? AND ?",
        (watch_id, first.isoformat(), last.isoformat()),
    )
    return wet_days.year_of(year, logged, int(heat_days), record, position, practice, today)


def read_wet_days(
    rows: Rows, watch_id: int, since: date, until: date, position: Position | None = None
) -> list[WetDay]:
    """The days with water between two dates, both included, by date; plans and hot air are left out.

    The cost is that to the seals that were in `position` on those days, whichever they were; without it 0.
    """
    between = "e.water <> 'air' AND e.watch_id = ? AND e.planned = 0 AND e.starts_on BETWEEN ? AND ?"
    params = [watch_id, since.isoformat(), until.isoformat()]
    costs: dict[str, int] = {}
    if position is not None:
        statement = (
            f"SELECT e.starts_on, SUM({_TOTAL}) FROM exposure e JOIN ledger_share s ON s.exposure_id = e.id"
            " WHERE s.counted = 1 AND s.seal_id IN (SELECT id FROM seal WHERE watch_id = ? AND position = ?)"
            f" AND {between} GROUP BY e.starts_on"
        )
        costs = {day: int(cost) for day, cost in rows(statement, [watch_id, position, *params])}
    found = rows(
        f"SELECT e.starts_on, COUNT(*), SUM(e.duration_s) FROM exposure e WHERE {between}"
        " GROUP BY e.starts_on ORDER BY e.starts_on",
        params,
    )
    return [
        WetDay(day_of(day), int(count), int(seconds), TRILLIONTH.value(costs.get(day, 0)))
        for day, count, seconds in found
    ]
