"""Bands and forecasts of watches, read from the record."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta

from logbook.model.practice import Practice
from logbook.model.predict import tally
from logbook.model.predict.bands import Outset
from logbook.model.predict.tally import ContactRow, Contacts
from logbook.model.predict.weeks import WEEKS_BACK
from logbook.model.values import Position, WatchRecord
from logbook.model.wear import charge
from logbook.model.wear.account import Clockwork
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows
from logbook.record.reading.tallies import read_contacts


def read_outset(rows: Rows, record: WatchRecord, practice: Practice, on: date) -> Outset:
    """All that bands and forecast of one watch start from: what it met, and what is planned."""
    watch_id = record.watch.id or 0
    contacts = read_contacts(rows, watch_id, practice)
    for position, unmet in _unmet(rows, record, practice, on).items():
        contacts[position] = tally.joined(contacts.get(position), unmet)
    return Outset(
        clockwork=Clockwork.of(record, practice),
        contacts=contacts,
        plans=glance.read_exposures(rows, watch_id=watch_id, planned=True),
        on=on,
    )


def _unmet(rows: Rows, record: WatchRecord, practice: Practice, on: date) -> dict[Position, Contacts]:
    """Water of the weeks that a forecast draws from which no seal is charged with, place by place.

    Gaskets fitted lately, with none on record before them: the watch was wet all the same.
    """
    since = max(record.watch.recorded_from, on - timedelta(weeks=WEEKS_BACK))
    found: dict[Position, list[ContactRow]] = defaultdict(list)
    for seal in charge.current_seals(record.seals):
        if seal.fitted_latest <= since:
            continue
        ids = _ids_without_charge(rows, record.watch.id or 0, seal.position, since)
        for exposure_id in ids:
            exposure = glance.read_exposure(rows, exposure_id)
            shares = charge.preview(record, exposure, practice)[seal.position]
            found[seal.position].append(tally.unmet_row(exposure, seal.position, shares, practice))
    return {position: tally.contacts_of(each) for position, each in found.items()}


def _ids_without_charge(rows: Rows, watch_id: int, position: Position, since: date) -> list[int]:
    statement = (
        "SELECT e.id FROM exposure e WHERE e.watch_id = ? AND e.planned = 0 AND e.starts_on >= ?"
        " AND NOT EXISTS (SELECT 1 FROM ledger_share s JOIN seal l ON l.id = s.seal_id"
        " WHERE s.exposure_id = e.id AND s.counted = 1 AND l.position = ?) ORDER BY e.id"
    )
    return [key for (key,) in rows(statement, (watch_id, since.isoformat(), position))]
