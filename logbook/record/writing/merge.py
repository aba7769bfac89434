"""A whole record brought into this one as one action: as it is into an empty one, else what is new of it.

Nothing comes in twice (`record_news` tells what is new), and a watch that is here stays as it is described
here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from sqlmodel import Session

from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.record.file.record_file import RecordFile
from logbook.record.file.store import Store
from logbook.record.reading.record_news import Merged as Merged
from logbook.record.reading.record_news import News
from logbook.record.reading.sql import rows_of, run, take_ids
from logbook.record.schema.tables import (
    SnoozeRow,
)
from logbook.record.writing import entries, journal
from logbook.record.writing import events as event_service
from logbook.record.writing import exposures as exposure_service
from logbook.record.writing import settings as settings_service
from logbook.record.writing import watches as watch_service
from logbook.record.writing.entries import Entry
from logbook.record.writing.told import forget_told


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
    watch_service.write(session, [one.watch for one in file.watches])
    entries.insert(session, file.events)
    seals = [(seal, one.watch.id) for one in file.watches for seal in one.seals]
    watch_service.write_seals(session, seals)
    exposure_service.write(session, file.exposures, file.origins)
    entries.insert(session, file.habits)
    entries.insert(session, file.stretches)
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
    watch_service.write(session, [replace(one.watch, id=ids[one.watch.id]) for one in new.watches])
    came_with = [(s, ids[one.watch.id]) for one in new.watches for s in one.seals if s.event_id is None]
    watch_service.add_seals(session, came_with)
    event_service.write(session, _of_here(new.events, ids))
    came = [origins.get(one.id or 0) for one in new.exposures]
    exposure_service.write_new(session, _of_here(new.exposures, ids), came)
    entries.add(session, _of_here(new.habits, ids))
    entries.add(session, _of_here(new.stretches, ids))


def _of_here(found: Sequence[Entry], ids: Mapping[int | None, int]) -> list[Entry]:
    """The entries with the ids that their watches have here."""
    return [replace(one, watch_id=ids[one.watch_id]) for one in found]


def _pass_by(session: Session, counter: str, ids: Iterable[int | None]) -> None:
    """Lets a counter go on after the highest of these ids."""
    name, after = f"next_{counter}_id", max((id_ or 0 for id_ in ids), default=0) + 1
    run(session, f"UPDATE meta SET {name} = ? WHERE {name} < ?", (after, after))


def _replace_snoozes(session: Session, snoozed: Mapping[str, date]) -> None:
    """What the file silences, and no more: what an empty record silenced was of watches that are gone."""
    for (item_id,) in list(rows_of(session.connection())("SELECT item_id FROM snooze", ())):
        journal.replace_rows(session, SnoozeRow, item_id, [])
    for item_id, until in snoozed.items():
        journal.replace_rows(
            session, SnoozeRow, item_id, [{"item_id": item_id, "until_on": until.isoformat()}]
        )
