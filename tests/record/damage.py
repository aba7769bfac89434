"""A record with rows in every table, and real damage: cells as no version of logbook would write them."""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

from logbook.model import values as v
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.schema.columns import Row
from logbook.record.writing import events, exposures, habits, settings, snoozes, undo, watches
from tests.record.making import a_dive, a_test, a_watch, gaskets, its_seals

NOT_UTF8 = "CAST(x'41FF42' AS TEXT)"

BY_OTHER_MEANS = (
    "INSERT INTO told VALUES ('1:test', 'due', '', '2025-01-01', '2025-01-01T08:00:00+00:00', NULL)",
    "INSERT INTO named_date VALUES ('1:gaskets', '2025-01-01', '2024-12-01')",
    "INSERT INTO calendar_entry VALUES ('1:test', 'u', 0, '', '', '2025-01-01', '', 0, '2025-01-01T08:00Z')",
)


def fill_every_table(store: Store, practice: Practice) -> None:
    """At least one row in each table, by the actions that write them."""
    watch = a_watch(intervals_months={"pressure-test": 12}, note="kept in a drawer")
    key = watches.add(store, watch, its_seals(), [a_test(None, date(2024, 1, 1))], practice)
    profile = (v.ProfilePoint(0.0, 0.0, 17.0), v.ProfilePoint(60.0, 18.0))
    dived = [a_dive(key, profile=profile), a_dive(key, date(2024, 5, 2), crown_under=1)]
    exposures.add(store, dived, practice, origins=["log:1", "log:2"])
    exposures.add(store, [a_dive(key, date(2024, 9, 1), planned=True)], practice)
    events.add(store, [gaskets(key, date(2024, 6, 1), ("crown", "FKM"))], practice)
    habits.add_stretches(store, [v.WornStretch(date(2024, 7, 1), date(2024, 7, 9), 9.0, key)], practice)
    habits.add_habit(store, v.Habit(a_dive(key), 0.5, date(2024, 7, 1), watch_id=key), practice)
    snoozes.snooze(store, "1:test", date(2024, 12, 1))
    settings.write(store, v.Settings(v.HomeWater(monthly_c=(15.0,) * 12)))
    exposures.add(store, [a_dive(key, date(2024, 8, 1))], practice)
    undo.undo(store, practice)
    with store.transaction() as session:
        for statement in BY_OTHER_MEANS:
            session.connection().exec_driver_sql(statement)


def spoil(path: Path, statement: str, *, table: str | None = None) -> None:
    """Runs a statement past every constraint; past the types of a `table` too, where one is named."""
    before = _schema(path, table) if table else ""
    if table:
        _write_schema(path, table, re.sub(r",?\s+STRICT\b", "", before))
    with _past_constraints(path) as connection:
        assert connection.execute(statement).rowcount != 0, statement
    if table:
        _write_schema(path, table, before)


def spoil_cell(path: Path, table: str, column: str, value: str, *, loose: bool = False) -> None:
    """Puts a value, written as in SQL, into the first row of a table; `loose`: whatever its type."""
    keys = ", ".join(key.name for key in Row.metadata.tables[table].primary_key)
    first = f"({keys}) = (SELECT {keys} FROM {table} LIMIT 1)"
    spoil(path, f"UPDATE {table} SET {column} = {value} WHERE {first}", table=table if loose else None)


def _schema(path: Path, table: str) -> str:
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT sql FROM sqlite_schema WHERE name = ?", (table,))
        return str(found.fetchone()[0])


def _write_schema(path: Path, table: str, sql: str) -> None:
    with _past_constraints(path) as connection:
        connection.execute("UPDATE sqlite_schema SET sql = ? WHERE name = ?", (sql, table))


def _past_constraints(path: Path) -> closing[sqlite3.Connection]:
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA ignore_check_constraints = 1")
    connection.execute("PRAGMA foreign_keys = 0")
    connection.execute("PRAGMA synchronous = OFF")
    connection.execute("PRAGMA writable_schema = 1")
    return closing(connection)
