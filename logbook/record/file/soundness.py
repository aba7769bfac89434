"""Whether every value in a record is one that logbook can have written there: types, words, ranges, dates.

The tables of today say what that is; rules of entry, which may change from version to version, have no part
in it.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from sqlalchemy import CheckConstraint, Column, Table, Text

from logbook.record.file.trouble import is_busy
from logbook.record.schema.columns import Row
from logbook.record.schema.tables import TABLES
from logbook.record.writing.journal import JOURNALLED

# Texts that are a moment in UTC, ISO 8601.
_MOMENTS = {"action": ("done_at",), "told": ("claimed_at", "sent_at"), "calendar_entry": ("changed_at",)}
# Texts that are a day, or empty.
_DAYS = {"told": ("after_snooze",), "calendar_entry": ("alarm_from",)}


MANY = 20  # faults of pages or references; more of them say nothing new


class Fault(NamedTuple):
    """What is wrong inside a record; `about` is pages, references, rows or journal."""

    about: str
    words: str


def faults_of(connection: sqlite3.Connection) -> list[Fault]:
    """Everything wrong inside a record of the newest revision; nothing when every row of it can be read."""
    found = file_faults(connection)
    if any(fault.about == "pages" for fault in found):
        return found
    return [*found, *row_faults(connection)]


def file_faults(connection: sqlite3.Connection) -> list[Fault]:
    """What SQLite finds wrong inside a file of any revision: damaged pages, else references to nothing."""
    pages = [str(row[0]) for row in connection.execute(f"PRAGMA integrity_check({MANY})")]
    if pages != ["ok"]:
        return [Fault("pages", words) for words in pages]
    return [
        Fault("references", f"row {rowid} of {table} refers to a missing row of {parent}")
        for table, rowid, parent, _ in connection.execute("PRAGMA foreign_key_check").fetchmany(MANY)
    ]


def row_faults(connection: sqlite3.Connection) -> Iterator[Fault]:
    """What stands in rows that no version would have written there, table by table."""
    for table in Row.metadata.sorted_tables:
        try:
            yield from _broken_rules(connection, table)
            yield from _texts(connection, table)
        except sqlite3.OperationalError as error:  # a column is gone, or a text is no UTF-8
            if is_busy(error):
                raise
            yield Fault("rows", f"{table.name} is not readable")


def _broken_rules(connection: sqlite3.Connection, table: Table) -> Iterator[Fault]:
    said = rules(table)
    counts = ", ".join(f"COUNT(*) FILTER (WHERE NOT ({rule}))" for rule in said.values())
    (broken,) = connection.execute(f"SELECT {counts} FROM {table.name}")
    yield from (_told(count, table, what) for what, count in zip(said, broken, strict=True) if count)


def rules(table: Table) -> dict[str, str]:
    """What a row that breaks a rule holds -> the rule, as SQL."""
    said = {}
    for column in table.columns:
        kind, name = _affinity(column), column.name
        absent = f"{name} IS NULL OR " if column.nullable else ""
        said[f"no {'text' if kind == 'text' else 'whole number'} as {name}"] = (
            f"{absent}typeof({name}) = '{kind}'"
        )
        if column.info["type"] == "date":
            said[f"no date as {name}"] = f"{absent}{_is_day(name)}"
        if column.info["type"] == "time":
            said[f"no time of day as {name}"] = f"{absent}{name} IS time({name})"
        if name in _DAYS.get(table.name, ()):
            said[f"no date as {name}"] = f"{name} = '' OR {_is_day(name)}"
    for check in table.constraints:
        if isinstance(check, CheckConstraint):
            said[f"what breaks the rule {check.name}"] = str(check.sqltext)
    return said


def _is_day(name: str) -> str:
    # Worked out anew, for SQLite takes 30 February as it stands.
    return f"{name} IS date({name}, '+0 days') AND {name} >= '0001-01-01'"


def _affinity(column: Column[object]) -> str:
    return "text" if isinstance(column.type, Text) else "integer"


def _texts(connection: sqlite3.Connection, table: Table) -> Iterator[Fault]:
    """Reads every text of a table, and looks at those that are a moment or rows of undo."""
    names = [column.name for column in table.columns if _affinity(column) == "text"]
    if names:
        for _ in connection.execute(f"SELECT {', '.join(names)} FROM {table.name}"):
            pass
    for name in _MOMENTS.get(table.name, ()):
        found = connection.execute(f"SELECT {name} FROM {table.name} WHERE {name} IS NOT NULL")
        if wrong := sum(not _is_moment(text) for (text,) in found):
            yield _told(wrong, table, f"no moment as {name}")
    if table.name == "change":
        yield from _journal(connection)


def _is_moment(text: object) -> bool:
    try:
        return datetime.fromisoformat(str(text)).tzinfo is not None
    except ValueError:
        return False


def _told(count: int, table: Table, what: str) -> Fault:
    return Fault("rows", f"{count} {'row' if count == 1 else 'rows'} of {table.name} with {what}")


def _journal(connection: sqlite3.Connection) -> Iterator[Fault]:
    """What undo would put back has the columns of today."""
    columns = {name: {column.name for column in TABLES[name].columns} for name in JOURNALLED}
    found = connection.execute("SELECT action_id, table_name, row_key, other_rows FROM change")
    for action_id, table, key, rows in found:
        try:
            json.loads(key)
            kept = [set(row.keys()) for row in json.loads(rows or "[]")]
        except (ValueError, TypeError, AttributeError):  # no JSON, or no rows
            kept = [set()]
        if table in columns and any(each != columns[table] for each in kept):
            yield Fault("journal", f"step {action_id} of undo has lost what it would put back into {table}")
