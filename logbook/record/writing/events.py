"""Workshop events and faults; a gaskets event brings its seals with it and takes them away again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sqlmodel import Session, select

from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import Event, Seal
from logbook.record.file.store import Store
from logbook.record.reading import labels
from logbook.record.reading.sql import take_ids
from logbook.record.schema import shapes
from logbook.record.schema.tables import EventRow, SealRow
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
    ids = take_ids(session, "entry", len(events))
    for event, id_ in zip(events, ids, strict=True):
        kept = replace(event, id=id_)
        session.add(EventRow(**shapes.event_columns(kept)))
        _match_seals(session, kept, {})
    return list(ids)


def amend(store: Store, event: Event, practice: Practice) -> None:
    """Replaces the event with this id; seals that it brought follow its date, order and materials."""
    names = names_of(store, [event.watch_id])
    with store.action(f"amend {labels.event(event)} for {names[event.watch_id]}", practice) as session:
        row = session.get(EventRow, event.id)
        if row is None:
            raise NotFound(f"There is no event {event.id} in the record.", where="id")
        for column, value in shapes.event_columns(event).items():
            setattr(row, column, value)
        _match_seals(session, event, {seal.position: seal for seal in seals_of(session, row.id)})


def seals_of(session: Session, event_id: int) -> Sequence[SealRow]:
    return session.exec(select(SealRow).where(SealRow.event_id == event_id)).all()


def _match_seals(session: Session, event: Event, there: dict[str, SealRow]) -> None:
    """Makes the seals of an event those that it names; a place that stays keeps its seal and its id."""
    left = dict(there)
    earliest, latest = event.days
    for position, material in event.seals:
        seal = Seal(position, material, earliest, latest, event.order, event.id)
        columns = shapes.SEAL.columns(seal) | {"watch_id": event.watch_id or 0}
        row = left.pop(position, None)
        columns["id"] = take_ids(session, "seal", 1)[0] if row is None else row.id
        if row is None:
            session.add(SealRow(**columns))
            continue
        for column, value in columns.items():
            setattr(row, column, value)
    for row in left.values():
        session.delete(row)
