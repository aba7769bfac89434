"""Workshop events and faults; a gaskets event brings its seals with it and takes them away again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlmodel import Session, select

from logbook.model.practice import Practice
from logbook.model.values import Event, Seal
from logbook.record.file.store import Store
from logbook.record.reading import labels
from logbook.record.reading.sql import take_ids
from logbook.record.schema import shapes
from logbook.record.schema.tables import SealRow
from logbook.record.writing import entries
from logbook.record.writing.watch_names import names_of


def add(store: Store, events: Sequence[Event], practice: Practice, label: str | None = None) -> list[int]:
    """Writes events, each with its `watch_id`, all or none, as one step of undo; returns their ids."""
    names = names_of(store, [event.watch_id for event in events])
    if label is None:
        first = events[0] if len(events) == 1 else None
        label = (
            f"log {labels.event(first)} for {names[first.watch_id]}" if first else f"log {len(events)} events"
        )
    with store.action(label, practice) as session:
        return write(session, events)


def write(session: Session, events: Sequence[Event]) -> list[int]:
    """Adds events, and the seals that they bring, inside an action that is under way."""
    kept = entries.add(session, events)
    for event in kept:
        _match_seals(session, event, {})
    return [event.id or 0 for event in kept]


def amend(store: Store, event: Event, practice: Practice) -> None:
    """Replaces the event with this id; seals that it brought follow its date, order and materials."""
    names = names_of(store, [event.watch_id])
    with store.action(f"amend {labels.event(event)} for {names[event.watch_id]}", practice) as session:
        entries.write_over(session, event)
        _match_seals(session, event, {seal.position: seal for seal in seals_of(session, event.id or 0)})


def seals_of(session: Session, event_id: int) -> Sequence[Any]:
    """Rows of the seals that an event brought."""
    return session.exec(select(SealRow).where(SealRow.event_id == event_id)).all()


def _match_seals(session: Session, event: Event, there: dict[str, Any]) -> None:
    """Makes the seals of an event those that it names; a place that stays keeps its seal and its id."""
    left = dict(there)
    earliest, latest = event.days
    for position, material in event.seals:
        row = left.pop(position, None)
        id_ = take_ids(session, "seal", 1)[0] if row is None else row.id
        seal = Seal(position, material, earliest, latest, event.order, event.id, id_)
        session.merge(SealRow(**shapes.seal_columns(seal, event.watch_id)))
    for row in left.values():
        session.delete(row)
