"""Silencing a due item until a date."""

from __future__ import annotations

from datetime import date

from logbook.keeping import journal, labels
from logbook.keeping.store import Store
from logbook.keeping.tables import SnoozeRow


def snooze(store: Store, item_id: str, until: date) -> None:
    """The item stays silent until a date; a later word on the same item replaces an earlier one."""
    with store.action(labels.snoozing(store.rows, item_id, until)) as session:
        journal.replace_rows(session, SnoozeRow, item_id, [{"item_id": item_id, "until_on": until}])
