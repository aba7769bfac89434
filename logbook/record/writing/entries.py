"""The rows of entries of any kind, written with their journal entry; what belongs to them comes apart."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from sqlmodel import Session

from logbook.model.values import Event, Exposure, Habit, WornStretch
from logbook.record.reading.sql import take_ids
from logbook.record.schema import shapes, tables
from logbook.record.writing import journal

Entry = TypeVar("Entry", Exposure, Event, Habit, WornStretch)

_KINDS: Mapping[type, tuple[Any, Callable[[Any], shapes.Columns], str]] = {
    Exposure: (tables.ExposureRow, shapes.EXPOSURE.columns, "exposure"),
    Event: (tables.EventRow, shapes.event_columns, "event"),
    Habit: (tables.HabitRow, shapes.habit_columns, "habit"),
    WornStretch: (tables.WornStretchRow, shapes.STRETCH.columns, "worn stretch"),
}


def add(session: Session, found: Sequence[Entry]) -> list[Entry]:
    """Adds entries of one kind under new ids, and hands them back with these."""
    ids = take_ids(session, "entry", len(found))
    kept = [replace(one, id=id_) for one, id_ in zip(found, ids, strict=True)]
    insert(session, kept)
    return kept


def insert(session: Session, found: Sequence[Entry]) -> None:
    """Adds entries of one kind under the ids that they have."""
    for row_class, columns, _ in [_KINDS[type(one)] for one in found[:1]]:
        journal.insert_rows(session, row_class, [columns(one) for one in found])


def write_over(session: Session, entry: Exposure | Event | Habit | WornStretch) -> None:
    """Replaces the entry of this id; raises NotFound."""
    row_class, columns, word = _KINDS[type(entry)]
    journal.there(session, row_class, entry.id, word)
    session.merge(row_class(**columns(entry)))
