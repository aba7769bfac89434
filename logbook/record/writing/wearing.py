"""How a watch is lived with between its logged contacts: worn stretches, habits, "nothing else happened"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from sqlmodel import Session

from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import Habit, WornStretch
from logbook.record.file.store import Store
from logbook.record.reading.sql import take_ids
from logbook.record.schema import shapes
from logbook.record.schema.tables import HabitRow, WatchRow, WornStretchRow
from logbook.record.writing.watch_names import names_of

DAY_WORN_H = 12.0


def add_stretches(
    store: Store, stretches: Sequence[WornStretch], practice: Practice, label: str | None = None
) -> list[int]:
    """Writes worn stretches, each with its `watch_id`, as one step of undo; returns their ids."""
    names = names_of(store, [stretch.watch_id for stretch in stretches])
    listed = ", ".join(dict.fromkeys(names[s.watch_id] for s in stretches))
    with store.action(label or f"worn time of {listed}", practice) as session:
        ids = take_ids(session, "entry", len(stretches))
        for stretch, id_ in zip(stretches, ids, strict=True):
            session.add(WornStretchRow(**shapes.STRETCH.columns(replace(stretch, id=id_))))
    return list(ids)


def wore(
    store: Store,
    watch_ids: Sequence[int],
    on: date,
    practice: Practice,
    hours: float = DAY_WORN_H,
    sharing: Sequence[WornStretch] = (),
) -> list[int]:
    """These watches were worn on one day, the hours shared out evenly; returns the ids of the stretches.

    `sharing` are stretches of that day, of other watches, that the hours are shared with: they become as
    long as the new ones, in the same step of undo.
    """
    each = hours / (len(watch_ids) + len(sharing))
    names = names_of(store, [*watch_ids, *(stretch.watch_id for stretch in sharing)])
    label = f"worn time of {', '.join(names[watch_id] for watch_id in watch_ids)}"
    with store.action(label, practice) as session:
        ids = take_ids(session, "entry", len(watch_ids))
        for watch_id, id_ in zip(watch_ids, ids, strict=True):
            session.add(WornStretchRow(**shapes.STRETCH.columns(WornStretch(on, on, each, watch_id, id_))))
        for stretch in sharing:
            _replace(session, replace(stretch, hours=each))
    return list(ids)


def amend_stretch(store: Store, stretch: WornStretch, practice: Practice) -> None:
    """Replaces the worn stretch with this id."""
    names = names_of(store, [stretch.watch_id])
    with store.action(f"amend worn time of {names[stretch.watch_id]}", practice) as session:
        _replace(session, stretch)


def _replace(session: Session, stretch: WornStretch) -> None:
    row = session.get(WornStretchRow, stretch.id)
    if row is None:
        raise NotFound(f"There is no worn stretch {stretch.id} in the record.", where="id")
    for column, value in shapes.STRETCH.columns(stretch).items():
        setattr(row, column, value)


def add_habit(store: Store, habit: Habit, practice: Practice) -> int:
    """Writes a repeated exposure, with its `watch_id`; returns its id."""
    names = names_of(store, [habit.watch_id])
    with store.action(f"log habit {habit.exposure.activity} of {names[habit.watch_id]}", practice) as session:
        habit_id = take_ids(session, "entry", 1)[0]
        session.add(HabitRow(**shapes.habit_columns(replace(habit, id=habit_id))))
    return habit_id


def amend_habit(store: Store, habit: Habit, practice: Practice) -> None:
    """Replaces the habit with this id, for instance to give it an end."""
    names = names_of(store, [habit.watch_id])
    label = f"amend habit {habit.exposure.activity} of {names[habit.watch_id]}"
    with store.action(label, practice) as session:
        row = session.get(HabitRow, habit.id)
        if row is None:
            raise NotFound(f"There is no habit {habit.id} in the record.", where="id")
        for column, value in shapes.habit_columns(habit).items():
            setattr(row, column, value)


def confirm(store: Store, watch_ids: Sequence[int], on: date) -> None:
    """Nothing else happened to these watches up to a day; a day earlier than is known changes nothing."""
    names = names_of(store, watch_ids)
    with store.action(f"nothing else for {', '.join(names[w] for w in watch_ids)}") as session:
        for watch_id in watch_ids:
            row = session.get(WatchRow, watch_id)
            if row is not None and (row.confirmed_on is None or row.confirmed_on < on):
                row.confirmed_on = on
