"""Says that the clock is right although the record holds days ahead of it, such as a mistyped year."""

from __future__ import annotations

from datetime import date, timedelta

from logbook.record.file.store import Store
from logbook.record.reading.sql import run

_NEWEST = (
    "SELECT MAX(day) FROM (SELECT MAX(starts_on) AS day FROM exposure WHERE planned = 0"
    " UNION ALL SELECT MAX(happened_on) FROM event"
    " UNION ALL SELECT MAX(confirmed_on) FROM watch"
    " UNION ALL SELECT SUBSTR(MAX(done_at), 1, 10) FROM action) AS days"
)


def say_right(store: Store, today: date) -> date | None:
    """Writes down that the clock is right, up to the newest day on record; returns that day.

    None where nothing on record lies more than a day after `today`: then nothing is written.
    """
    ((newest,),) = store.rows(_NEWEST)
    if newest is None or date.fromisoformat(newest) <= today + timedelta(days=1):
        return None
    with store.transaction() as session:
        run(session, "UPDATE meta SET clock_right_to = ?", (newest,))
    return date.fromisoformat(newest)
