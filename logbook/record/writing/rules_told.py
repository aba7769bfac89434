"""Writes down that the owner of an older record was told which watches read otherwise."""

from __future__ import annotations

from logbook.record.file.store import Store
from logbook.record.reading.sql import run


def rules_told(store: Store) -> None:
    """From now on nobody is told again."""
    with store.transaction() as session:
        run(session, "UPDATE meta SET rules_told = 1")
