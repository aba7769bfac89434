"""Bands and forecasts of watches, read from the record."""

from __future__ import annotations

from datetime import date

from logbook.keeping import glance
from logbook.keeping.rows import Rows
from logbook.keeping.tallies import read_contacts
from logbook.reckoning.account import Clockwork
from logbook.reckoning.bands import Outset
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import WatchRecord


def read_outset(rows: Rows, record: WatchRecord, practice: Practice, on: date) -> Outset:
    """All that bands and forecast of one watch start from: what it met, and what is planned."""
    watch_id = record.watch.id or 0
    return Outset(
        clockwork=Clockwork.of(record, practice),
        contacts=read_contacts(rows, watch_id, practice),
        plans=glance.read_exposures(rows, watch_id=watch_id, planned=True),
        on=on,
    )
