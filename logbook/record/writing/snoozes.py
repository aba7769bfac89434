"""Silencing a due item until a date."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.record.file.store import Store
from logbook.record.reading import labels
from logbook.record.schema.tables import SnoozeRow
from logbook.record.writing import journal


def snooze(store: Store, item_id: str, until: date, others: Sequence[str] = ()) -> None:
    """The item, and others of its watch, stay silent until a date; a later word replaces an earlier one."""
    every = (item_id, *others)
    with store.action(labels.snoozing(store.rows, every, until)) as session:
        for one in every:
            journal.replace_rows(session, SnoozeRow, one, [{"item_id": one, "until_on": until.isoformat()}])
