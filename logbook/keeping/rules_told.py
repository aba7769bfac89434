"""Writes down that the owner of an older record was told which watches read otherwise."""

from __future__ import annotations

from logbook.keeping.sql import run
from logbook.keeping.store import Store


def rules_told(store: Store) -> None:
    """From now on nobody is told again."""
    with store.transaction() as session:
        run(session, "UPDATE meta SET rules_told = 1")
