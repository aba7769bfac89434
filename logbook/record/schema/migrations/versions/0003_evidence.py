"""What evidence is: kinds of event in whole words, spans of days, knocks, what was open, what was raised."""

from __future__ import annotations

from typing import Any

from alembic import op
from sqlalchemy import Connection, text

from logbook.model.kinds_of_before import KINDS_OF_BEFORE, item_of_today, kind_of_today
from logbook.record.schema.migrations.scripts import rewrite_journal, statements

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_CONTACT = {"density_g_m3": None, "crown_open": 0, "pushers_open": 0}
# What a row that the journal keeps has not got yet.
NEW_COLUMNS: dict[str, dict[str, Any]] = {
    "watch": {"pushers_wet": 0, "made_from": None, "made_to": None, "marked_in": "bar"},
    "event": {"span_first": None, "span_last": None, "to_mark": 0, "moved": 0},
    "exposure": _CONTACT,
    "habit": _CONTACT,
    "snooze": {},
}


def upgrade() -> None:
    connection = op.get_bind()
    connection.exec_driver_sql("CREATE TABLE word_before (was TEXT, word TEXT)")
    words = [{"was": was, "word": word} for was, word in KINDS_OF_BEFORE.items()]
    connection.execute(text("INSERT INTO word_before (was, word) VALUES (:was, :word)"), words)
    for statement in statements(__file__, connection.dialect.name):
        connection.exec_driver_sql(statement)
    for table in ("snooze", "told", "named_date", "calendar_entry"):
        _rename_items(connection, table)
    rewrite_journal(connection, NEW_COLUMNS, _row, _key)


def _rename_items(connection: Connection, table: str) -> None:
    found = connection.execute(text(f"SELECT DISTINCT item_id FROM {table}")).scalars().all()
    changed = [{"was": was, "now": item_of_today(was)} for was in found if item_of_today(was) != was]
    if changed:
        connection.execute(text(f"UPDATE {table} SET item_id = :now WHERE item_id = :was"), changed)


def _key(table: str, key: Any) -> Any:
    return item_of_today(key) if table == "snooze" else key


def _row(table: str, row: dict[str, Any]) -> dict[str, Any]:
    for column in ("kind", "repaired"):
        if row.get(column) is not None:
            row[column] = kind_of_today(row[column])
    return row | {"item_id": item_of_today(row["item_id"])} if table == "snooze" else row
