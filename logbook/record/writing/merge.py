"""A whole record brought into this one as one action: as it is into an empty one, else what is new of it.

Nothing comes in twice (`record_news` tells what is new), and a watch that is here stays as it is described
here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TypeVar

from sqlmodel import Session

from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.model.values import Event, Exposure, Habit, Seal, WornStretch
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.file.store import Store
from logbook.record.reading.record_news import Merged as Merged
from logbook.record.reading.record_news import News
from logbook.record.reading.sql import rows_of, run, take_ids
from logbook.record.schema import shapes
from logbook.record.schema.tables import (
    EventRow,
    HabitRow,
    SealRow,
    SnoozeRow,
    WatchIntervalRow,
    WatchRow,
    WornStretchRow,
)
from logbook.record.writing import events as event_service
from logbook.record.writing import exposures as exposure_service
from logbook.record.writing import journal
from logbook.record.writing import settings as settings_service
from logbook.record.writing.told import forget_told

Entry = TypeVar("Entry", Exposure, Event, Habit, WornStretch)


def bring_in(store: Store, file: RecordFile, practice: Practice) -> Merged:
    """Writes what is new of a file as one step of undo, all of it or nothing.

    Raises BadInput, with the entry's place in the file, for one that cannot be of the watch that is here.
    """
    with store.action(f"import {printable(file.name, 80)}", practice) as session:
        new = News.of(rows_of(session.connection()), file)
        if new.counts.whole:
            _write_whole(session, file)
        else:
            _write_new(session, new, file.origins)
        return new.counts


def look(store: Store, file: RecordFile, practice: Practice) -> Merged:
    """What `bring_in` would do; nothing is written. Raises as it does."""
    with store.reading() as rows:
        return News.of(rows, file).counts


def _write_whole(session: Session, file: RecordFile) -> None:
    """The file as it is, ids included; new ones will follow them.

    What was told of watches that are gone had the same ids, and would silence what is due of these.
    """
    forget_told(session)
    _write_watches(session, file.watches)
    journal.insert_rows(session, EventRow, [shapes.event_columns(event) for event in file.events])
    seals = [(seal, one.watch.id) for one in file.watches for seal in one.seals]
    _write_seals(session, seals)
    exposure_service.write(session, file.exposures, file.origins)
    _write_wearing(session, file.habits, file.stretches)
    _replace_snoozes(session, file.snoozed)
    if file.settings is not None:
        settings_service.put(session, file.settings)
    _pass_by(session, "entry", (entry.id for entry in file.entries))
    _pass_by(session, "watch", (one.watch.id for one in file.watches))
    _pass_by(session, "seal", (seal.id for seal, _ in seals))


def _write_new(session: Session, new: News, origins: Mapping[int, str]) -> None:
    """What is not on record yet, under ids of this record."""
    own = take_ids(session, "watch", len(new.watches))
    ids = {**new.ids, **{one.watch.id: id_ for one, id_ in zip(new.watches, own, strict=True)}}
    _write_watches(
        session, [replace(one, watch=replace(one.watch, id=ids[one.watch.id])) for one in new.watches]
    )
    came_with = [(s, ids[one.watch.id]) for one in new.watches for s in one.seals if s.event_id is None]
    numbered = zip(came_with, take_ids(session, "seal", len(came_with)), strict=True)
    _write_seals(session, [(replace(seal, id=id_), watch_id) for (seal, watch_id), id_ in numbered])
    event_service.write(session, [replace(event, watch_id=ids[event.watch_id]) for event in new.events])
    exposures = _numbered(session, new.exposures, ids)
    told = {
        now.id or 0: origins[old.id or 0]
        for old, now in zip(new.exposures, exposures, strict=True)
        if old.id in origins
    }
    exposure_service.write(session, exposures, told)
    _write_wearing(session, _numbered(session, new.habits, ids), _numbered(session, new.stretches, ids))


def _numbered(session: Session, found: Sequence[Entry], ids: Mapping[int | None, int]) -> list[Entry]:
    """The entries under new ids of their own and of their watches."""
    own = take_ids(session, "entry", len(found))
    return [replace(e, id=id_, watch_id=ids[e.watch_id]) for e, id_ in zip(found, own, strict=True)]


def _pass_by(session: Session, counter: str, ids: Iterable[int | None]) -> None:
    """Lets a counter go on after the highest of these ids."""
    name, after = f"next_{counter}_id", max((id_ or 0 for id_ in ids), default=0) + 1
    run(session, f"UPDATE meta SET {name} = ? WHERE {name} < ?", (after, after))


def _write_watches(session: Session, found: Sequence[FiledWatch]) -> None:
    watches = [one.watch for one in found]
    journal.insert_rows(session, WatchRow, [shapes.watch_columns(watch) for watch in watches])
    intervals = [
        {"watch_id": watch.id, "task": task, "months": months}
        for watch in watches
        for task, months in sorted(watch.intervals_months.items())
    ]
    journal.insert_rows(session, WatchIntervalRow, intervals)


def _write_seals(session: Session, found: Sequence[tuple[Seal, int | None]]) -> None:
    columns = [shapes.SEAL.columns(seal) | {"watch_id": watch_id or 0} for seal, watch_id in found]
    journal.insert_rows(session, SealRow, columns)


def _write_wearing(session: Session, habits: Sequence[Habit], stretches: Sequence[WornStretch]) -> None:
    journal.insert_rows(session, HabitRow, [shapes.habit_columns(habit) for habit in habits])
    journal.insert_rows(session, WornStretchRow, [shapes.STRETCH.columns(one) for one in stretches])


def _replace_snoozes(session: Session, snoozed: Mapping[str, date]) -> None:
    """What the file silences, and no more: what an empty record silenced was of watches that are gone."""
    for (item_id,) in list(rows_of(session.connection())("SELECT item_id FROM snooze", ())):
        journal.replace_rows(session, SnoozeRow, item_id, [])
    for item_id, until in snoozed.items():
        journal.replace_rows(session, SnoozeRow, item_id, [{"item_id": item_id, "until_on": until}])
