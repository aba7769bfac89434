"""The calendar's entries in the record, so that each keeps its name and counts its changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from typing import Any
from uuid import uuid4

from sqlmodel import Session

from logbook.model.due.calendar_plan import Entry, plan_entries
from logbook.model.due.services import Service
from logbook.record.file.store import Store
from logbook.record.reading.named import name_dates
from logbook.record.reading.rows import Rows
from logbook.record.reading.sql import rows_of, run, run_many

_COLUMNS = "item_id, uid, sequence, summary, description, due_on, alarm_from, cancelled, changed_at"


@contextmanager
def following(
    store: Store, services: Sequence[Service], now: datetime, today: date
) -> Iterator[tuple[list[Entry], list[Entry]]]:
    """Brings the entries up to the due list; yields them as they were and as they are.

    What is raised inside leaves them as they were: what a subscriber never saw is a change still. No one else
    changes them meanwhile, so that of two files written at once the newer state wins.
    """
    with store.transaction() as session:
        before = read_entries(rows_of(session.connection()))
        after = plan_entries(services, before, now, today, _new_uid)
        if after != before:
            _write(session, after)
        name_dates(session, [item for service in services for item in service.items], today)
        yield before, after


def read_entries(rows: Rows) -> list[Entry]:
    """Every entry, cancelled ones too, by date."""
    found = (_entry(row) for row in rows(f"SELECT {_COLUMNS} FROM calendar_entry", ()))
    return sorted(found, key=lambda entry: (entry.due_on, entry.item_id))


def _new_uid() -> str:
    return str(uuid4())


def _entry(row: Sequence[Any]) -> Entry:
    item_id, uid, sequence, summary, description, due_on, alarm_from, cancelled, changed_at = row
    return Entry(
        item_id=item_id,
        uid=uid,
        sequence=sequence,
        summary=summary,
        description=description,
        due_on=date.fromisoformat(due_on),
        alarm_from=date.fromisoformat(alarm_from) if alarm_from else None,
        cancelled=bool(cancelled),
        changed_at=datetime.fromisoformat(changed_at),
    )


def _write(session: Session, entries: Sequence[Entry]) -> None:
    run(session, "DELETE FROM calendar_entry")
    run_many(
        session,
        f"INSERT INTO calendar_entry ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (
                entry.item_id,
                entry.uid,
                entry.sequence,
                entry.summary,
                entry.description,
                entry.due_on.isoformat(),
                entry.alarm_from.isoformat() if entry.alarm_from else "",
                int(entry.cancelled),
                entry.changed_at.isoformat(),
            )
            for entry in entries
        ],
    )
