"""Putting a watch into the record, describing it anew, correcting a seal, retiring it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from sqlmodel import Session

from logbook.errors import BadInput, NotFound
from logbook.model.practice import Practice
from logbook.model.validate.watch import check_bought_new
from logbook.model.values import Event, Seal, Watch, WatchRecord
from logbook.record.file.store import Store
from logbook.record.reading.glance import read_exposures
from logbook.record.reading.sql import rows_of, take_ids
from logbook.record.schema import shapes
from logbook.record.schema.tables import EventRow, SealRow, WatchIntervalRow, WatchRow
from logbook.record.writing import events as event_service
from logbook.record.writing import journal
from logbook.record.writing.watch_names import names_of, refuse_double


def add(
    store: Store, watch: Watch, seals: Sequence[Seal], events: Sequence[Event], practice: Practice
) -> int:
    """Puts a watch with the seals it came with and what is known of its past on record; returns its id."""
    with store.action(f"add {watch.name}", practice) as session:
        watch_id = take_ids(session, "watch", 1)[0]
        refuse_double(rows_of(session.connection()), watch.name, watch_id)
        write(session, [replace(watch, id=watch_id)])
        add_seals(session, [(seal, watch_id) for seal in seals])
        event_service.write(session, [replace(event, watch_id=watch_id) for event in events])
    return watch_id


def write(session: Session, found: Sequence[Watch]) -> None:
    """Adds watches under the ids that they have, inside an action that is under way."""
    journal.insert_rows(session, WatchRow, [shapes.watch_columns(watch) for watch in found])
    journal.insert_rows(session, WatchIntervalRow, [row for watch in found for row in _intervals(watch)])


def write_seals(session: Session, found: Sequence[tuple[Seal, int | None]]) -> None:
    """Adds seals, each with the id of its watch, under the ids that they have."""
    journal.insert_rows(session, SealRow, [shapes.seal_columns(seal, watch_id) for seal, watch_id in found])


def add_seals(session: Session, found: Sequence[tuple[Seal, int | None]]) -> range:
    """Adds seals, each with the id of its watch; returns the ids that they have now."""
    ids = take_ids(session, "seal", len(found))
    write_seals(
        session, [(replace(seal, id=id_), watch) for (seal, watch), id_ in zip(found, ids, strict=True)]
    )
    return ids


def edit(store: Store, watch: Watch, practice: Practice, seals: Sequence[Seal] = ()) -> None:
    """Replaces the description of the watch with this id, and corrects these of its seals, as one action."""
    with store.action(f"edit {watch.name}", practice) as session:
        watch_id = _row(session, watch.id).id
        refuse_double(rows_of(session.connection()), watch.name, watch_id)
        session.merge(WatchRow(**shapes.watch_columns(watch)))
        journal.replace_rows(session, WatchIntervalRow, watch_id, _intervals(watch))
        for seal in seals:
            _set_seal(session, watch_id, seal)


def correct(
    store: Store, before: WatchRecord, watch: Watch, seals: Sequence[Seal], practice: Practice
) -> None:
    """Writes what is told otherwise of a watch and of its seals, as one action, if anything is.

    Raises BadInput when it cannot have been bought new on the day that is given now.
    """
    if watch.new_on is not None and watch.new_on != before.watch.new_on:
        again = {seal.id: seal for seal in seals}
        told = replace(before, watch=watch, seals=tuple(again.get(s.id, s) for s in before.seals))
        check_bought_new(
            told, read_exposures(store.rows, watch_id=watch.id, until=watch.new_on, planned=False)
        )
    if watch != before.watch:
        edit(store, watch, practice, seals)
    elif seals:
        set_seals(store, watch.id or 0, seals, practice)


def set_seals(store: Store, watch_id: int, seals: Sequence[Seal], practice: Practice) -> list[int]:
    """Corrects what is known of seals, or adds those without an id (forgotten places); returns their ids.

    The dates of a seal that came with a gaskets event are the event's and are corrected there.
    """
    what = "a seal" if len(seals) == 1 else "the seals"
    with store.action(f"correct {what} of {names_of(store, [watch_id])[watch_id]}", practice) as session:
        return [_set_seal(session, watch_id, seal) for seal in seals]


def _set_seal(session: Session, watch_id: int, seal: Seal) -> int:
    if seal.id is None:
        return add_seals(session, [(replace(seal, event_id=None), watch_id)])[0]
    row = session.get(SealRow, seal.id)
    if row is None or row.watch_id != watch_id:
        raise NotFound(f"There is no seal {seal.id} on this watch.", where="seal")
    event = session.get(EventRow, row.event_id) if row.event_id is not None else None
    told = shapes.seal_columns(seal, watch_id)
    fitted = (row.fitted_earliest, row.fitted_latest)
    if event is not None and (told["fitted_earliest"], told["fitted_latest"]) != fitted:
        raise BadInput(
            f"This seal was fitted on {event.happened_on} in entry {event.id}; amend that entry's date.",
            where="fitted",
        )
    stays = {"position": row.position, "event_id": row.event_id}
    order = seal.order if event is None else event.day_order
    session.merge(SealRow(**(told | stays | {"day_order": order})))
    return seal.id


def retire(store: Store, watch_id: int, on: date) -> None:
    """Takes a watch off the shelf; everything of it stays on record."""
    with store.action(f"retire {names_of(store, [watch_id])[watch_id]}") as session:
        _row(session, watch_id).retired_on = on.isoformat()


def unretire(store: Store, watch_id: int) -> None:
    with store.action(f"take {names_of(store, [watch_id])[watch_id]} back") as session:
        _row(session, watch_id).retired_on = None


def _intervals(watch: Watch) -> list[shapes.Columns]:
    found = sorted(watch.intervals_months.items())
    return [{"watch_id": watch.id, "task": task, "months": months} for task, months in found]


def _row(session: Session, watch_id: int | None) -> Any:
    return journal.there(session, WatchRow, watch_id, "watch", "watch")
