"""Every action of the owner as one step of undo, caught from the session's own flush.

A change keeps only the other side of what it did: the rows that were there before it. Undoing puts those rows
back and keeps what it found in their place, so that the same exchange once more is redo.
"""

from __future__ import annotations

import json
from collections.abc import ItemsView, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import event
from sqlmodel import Session

from logbook.errors import NotFound
from logbook.record.reading.rows import in_chunks
from logbook.record.reading.sql import rows_of, run, run_many, take_ids
from logbook.record.schema.columns import Row
from logbook.record.schema.tables import TABLES

# Every journalled table with the column that names what changes as one: a profile changes as a whole.
JOURNALLED = {
    "watch": "id", "watch_interval": "watch_id", "event": "id", "seal": "id", "exposure": "id",
    "profile_point": "exposure_id", "imported": "exposure_id", "habit": "id", "worn_stretch": "id",
    "snooze": "item_id", "setting": "id", "home_month": "setting_id",
}  # fmt: skip

LONG = "profile_point"  # the one table with many rows under a key

# A new action ends what could be redone: undone ones are the newest, so that no others are looked through.
_END_REDO = (
    "DELETE FROM action WHERE undone = 1"
    " AND id > COALESCE((SELECT id FROM action WHERE undone = 0 ORDER BY id DESC LIMIT 1), 0)"
)

PlainRow = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Change:
    """One thing named by table and key: its rows before the action and its rows now."""

    table: str
    key: Any
    before: list[PlainRow]
    now: list[PlainRow]


class Recorder:
    """Keeps, for one action, how everything it touches looked before it was first touched."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.before: dict[tuple[str, Any], list[PlainRow]] = {}
        self.changed: list[Change] = []  # once the action is recorded
        self._new_profiles: set[tuple[str, Any]] = set()

    def on_flush(self, session: Session, *_: Any) -> None:
        touched: dict[str, list[Any]] = {}
        for row in (*session.new, *(r for r in session.dirty if session.is_modified(r)), *session.deleted):
            table = row.__tablename__
            if table in JOURNALLED:
                touched.setdefault(table, []).append(getattr(row, JOURNALLED[table]))
        for table, keys in touched.items():
            self.note(table, keys)

    def note(self, table: str, keys: Sequence[Any]) -> None:
        """Remembers the rows of these keys as they are now, unless it did so before."""
        fresh = [key for key in dict.fromkeys(keys) if (table, key) not in self.before]
        for key, rows in fetch(self.session, table, fresh).items():
            self.before[table, key] = rows

    def note_new(self, table: str, keys: Sequence[Any]) -> None:
        """Remembers that there is nothing under these keys yet, and will be."""
        for key in keys:
            if (table, key) not in self.before:
                self.before[table, key] = []
                if table == LONG:
                    self._new_profiles.add((table, key))

    def changes(self) -> list[Change]:
        """What is different now; what was touched but came out the same is left out.

        The points of a new profile are not read back: there may be millions, and that they are new is enough.
        """
        keys: dict[str, list[Any]] = {}
        for table, key in self.before:
            if (table, key) not in self._new_profiles:
                keys.setdefault(table, []).append(key)
        now = {(t, key): rows for t, found in keys.items() for key, rows in self._fetch(t, found)}
        return [
            Change(t, key, before, now.get((t, key), []))
            for (t, key), before in self.before.items()
            if (t, key) in self._new_profiles or before != now[t, key]
        ]

    def _fetch(self, table: str, keys: Sequence[Any]) -> ItemsView[Any, list[PlainRow]]:
        return fetch(self.session, table, keys).items()


@contextmanager
def recording(session: Session, label: str) -> Iterator[Recorder]:
    """Journals whatever is flushed inside under one label; an action that changes nothing leaves no step."""
    recorder = Recorder(session)
    event.listen(session, "before_flush", recorder.on_flush)
    session.info["journal"] = recorder
    yield recorder
    session.flush()
    recorder.changed = recorder.changes()
    if recorder.changed:
        run(session, _END_REDO)
        action_id = take_ids(session, "action", 1)[0]
        done_at = datetime.now(UTC).isoformat(timespec="seconds")
        run(session, "INSERT INTO action (id, done_at, label, undone) VALUES (?, ?, ?, 0)",
            (action_id, done_at, label))  # fmt: skip
        write_changes(session, action_id, [(c.table, c.key, c.before) for c in recorder.changed])


def insert_rows(session: Session, row_class: type[Row], columns: Sequence[PlainRow]) -> None:
    """Many new rows in one call of the driver, journalled; their keys are new to the record."""
    table = str(row_class.__tablename__)
    session.info["journal"].note_new(table, [row[JOURNALLED[table]] for row in columns])
    _insert(session, table, columns)


def there(session: Session, row_class: Any, key: Any, what: str, where: str = "id") -> Any:
    """The row under a key, to be changed or deleted; raises NotFound."""
    row = session.get(row_class, key)
    if row is None:
        raise NotFound(f"There is no {what} {key} in the record.", where=where)
    return row


def replace_rows(session: Session, row_class: type[Row], key: Any, columns: Sequence[PlainRow]) -> None:
    """All rows under one key give way to others, journalled as one change."""
    table = str(row_class.__tablename__)
    session.info["journal"].note(table, [key])
    put(session, table, {key: columns})


def fetch(session: Session, table: str, keys: Sequence[Any]) -> dict[Any, list[PlainRow]]:
    """Key -> its rows as stored, in a fixed order."""
    column = JOURNALLED[table]
    found: dict[Any, list[PlainRow]] = {key: [] for key in keys}
    names, fixed = _columns(table)
    for marks, piece in in_chunks(keys):
        statement = f"SELECT {', '.join(names)} FROM {table} WHERE {column} IN {marks} ORDER BY {fixed}"
        for row in plain(session, statement, piece):
            named = dict(zip(names, row, strict=True))
            found[named[column]].append(named)
    return found


def put(session: Session, table: str, rows: Mapping[Any, Sequence[PlainRow]]) -> None:
    """Replaces whatever stands under each key by the rows given."""
    run_many(session, f"DELETE FROM {table} WHERE {JOURNALLED[table]} = ?", [(key,) for key in rows])
    _insert(session, table, [row for found in rows.values() for row in found])


def _insert(session: Session, table: str, rows: Sequence[PlainRow]) -> None:
    by_columns: dict[tuple[str, ...], list[tuple[Any, ...]]] = {}
    for row in rows:
        by_columns.setdefault(tuple(row), []).append(tuple(row.values()))
    for names, values in by_columns.items():
        marks = ", ".join("?" * len(names))
        run_many(session, f"INSERT INTO {table} ({', '.join(names)}) VALUES ({marks})", values)


def write_changes(
    session: Session, action_id: int, others: Sequence[tuple[str, Any, list[PlainRow]]]
) -> None:
    """The other side of each change."""
    run_many(
        session,
        "INSERT INTO change (action_id, seq, table_name, row_key, other_rows) VALUES (?, ?, ?, ?, ?)",
        [
            (action_id, seq, table, json.dumps(key), json.dumps(rows) if rows else None)
            for seq, (table, key, rows) in enumerate(others)
        ],
    )


def read_changes(
    session: Session, action_id: int, at_once: int
) -> Iterator[list[tuple[int, str, Any, list[PlainRow]]]]:
    """Number, table, key and kept rows of an action's changes: all but profiles together, those in pieces."""
    columns = "SELECT seq, table_name, row_key, other_rows FROM change WHERE action_id = ?"
    yield _read(session, f"{columns} AND table_name <> ? ORDER BY seq", (action_id, LONG))
    last = -1
    while found := _read(
        session,
        f"{columns} AND table_name = ? AND seq > ? ORDER BY seq LIMIT ?",
        (action_id, LONG, last, at_once),
    ):
        last = found[-1][0]
        yield found


def _read(
    session: Session, statement: str, params: Sequence[Any]
) -> list[tuple[int, str, Any, list[PlainRow]]]:
    return [
        (seq, table, json.loads(key), json.loads(rows) if rows else [])
        for seq, table, key, rows in plain(session, statement, params)
    ]


def keep_instead(session: Session, action_id: int, others: Sequence[tuple[int, list[PlainRow]]]) -> None:
    """Other rows in place of those that were kept for changes of an action, by number."""
    run_many(
        session,
        "UPDATE change SET other_rows = ? WHERE action_id = ? AND seq = ?",
        [(json.dumps(rows) if rows else None, action_id, seq) for seq, rows in others],
    )


def _columns(table: str) -> tuple[list[str], str]:
    found = TABLES[table]
    return [c.name for c in found.columns], ", ".join(c.name for c in found.primary_key)


def plain(session: Session, statement: str, params: Sequence[Any]) -> Any:
    return rows_of(session.connection())(statement, params)
