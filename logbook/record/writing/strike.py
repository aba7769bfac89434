"""Striking an entry of any kind from the record; undo brings it back."""

from __future__ import annotations

from sqlmodel import Session

from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.reading import labels
from logbook.record.reading.entries import Kind, kind_of
from logbook.record.reading.sql import rows_of
from logbook.record.schema.tables import (
    EventRow,
    ExposureRow,
    HabitRow,
    ImportedRow,
    ProfilePointRow,
    WornStretchRow,
)
from logbook.record.writing import journal
from logbook.record.writing.events import seals_of

_ROWS = {"exposure": ExposureRow, "event": EventRow, "habit": HabitRow, "worn_stretch": WornStretchRow}


def strike(store: Store, entry_id: int, practice: Practice) -> Kind:
    """Removes an exposure with its profile, an event with its seals, a habit or a worn stretch.

    Returns which kind it was; raises NotFound.
    """
    with store.action(labels.striking(store.rows, entry_id), practice) as session:
        kind = kind_of(rows_of(session.connection()), entry_id)
        _remove_what_belongs(session, kind, entry_id)
        session.delete(session.get(_ROWS[kind], entry_id))
        return kind


def _remove_what_belongs(session: Session, kind: Kind, entry_id: int) -> None:
    if kind == "exposure":
        journal.replace_rows(session, ProfilePointRow, entry_id, [])
        journal.replace_rows(session, ImportedRow, entry_id, [])
    elif kind == "event":
        for seal in seals_of(session, entry_id):
            session.delete(seal)
