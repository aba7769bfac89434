"""How a watch is lived with between its logged contacts: worn stretches, habits, "nothing else happened"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from logbook.model.practice import Practice
from logbook.model.values import Habit, WornStretch
from logbook.model.wear.worn_day import DAY_WORN_H
from logbook.record.file.store import Store
from logbook.record.schema.tables import WatchRow
from logbook.record.writing import entries
from logbook.record.writing.watch_names import names_of


def add_stretches(
    store: Store, stretches: Sequence[WornStretch], practice: Practice, label: str | None = None
) -> list[int]:
    """Writes worn stretches, each with its `watch_id`, as one step of undo; returns their ids."""
    names = names_of(store, [stretch.watch_id for stretch in stretches])
    listed = ", ".join(dict.fromkeys(names[s.watch_id] for s in stretches))
    with store.action(label or f"worn time of {listed}", practice) as session:
        return [one.id or 0 for one in entries.add(session, stretches)]


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
        new = entries.add(session, [WornStretch(on, on, each, watch_id) for watch_id in watch_ids])
        for stretch in sharing:
            entries.write_over(session, replace(stretch, hours=each))
    return [one.id or 0 for one in new]


def amend_stretch(store: Store, stretch: WornStretch, practice: Practice) -> None:
    """Replaces the worn stretch with this id."""
    names = names_of(store, [stretch.watch_id])
    with store.action(f"amend worn time of {names[stretch.watch_id]}", practice) as session:
        entries.write_over(session, stretch)


def add_habit(store: Store, habit: Habit, practice: Practice) -> int:
    """Writes a repeated exposure, with its `watch_id`; returns its id."""
    names = names_of(store, [habit.watch_id])
    with store.action(f"log habit {habit.exposure.activity} of {names[habit.watch_id]}", practice) as session:
        (kept,) = entries.add(session, [habit])
    return kept.id or 0


def amend_habit(store: Store, habit: Habit, practice: Practice) -> None:
    """Replaces the habit with this id, for instance to give it an end."""
    names = names_of(store, [habit.watch_id])
    label = f"amend habit {habit.exposure.activity} of {names[habit.watch_id]}"
    with store.action(label, practice) as session:
        entries.write_over(session, habit)


def confirm(store: Store, watch_ids: Sequence[int], on: date) -> None:
    """Nothing else happened to these watches up to a day; a day earlier than is known changes nothing."""
    names = names_of(store, watch_ids)
    with store.action(f"nothing else for {', '.join(names[w] for w in watch_ids)}") as session:
        for watch_id in watch_ids:
            row = session.get(WatchRow, watch_id)
            if row is not None and (row.confirmed_on is None or row.confirmed_on < on.isoformat()):
                row.confirmed_on = on.isoformat()
