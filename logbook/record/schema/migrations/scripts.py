"""The SQL script of a revision, statement by statement, as SQLite or another database takes it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, text

ELSEWHERE = "-- elsewhere: "  # begins a line of a script that SQLite passes over


def statements(module: str, dialect: str) -> list[str]:
    """What the `.sql` file beside a revision's module says, for one database."""
    script = Path(module).with_suffix(".sql").read_text(encoding="utf-8")
    if dialect != "sqlite":
        script = script.replace(ELSEWHERE, "")
        for word in (" WITHOUT ROWID, STRICT", " STRICT"):
            script = script.replace(word, "")
        # References to a table that is made anew fall with it there; lines of `ELSEWHERE` bring them back.
        script = re.sub(r"(?m)^(DROP TABLE \w+);", r"\1 CASCADE;", script)
        script = script.replace(" INTEGER", " BIGINT")
    lines = [line for line in script.splitlines() if not line.startswith("--")]
    return [statement for statement in "\n".join(lines).split(";") if statement.strip()]


def rewrite_journal(
    connection: Connection,
    new_columns: Mapping[str, dict[str, Any]],
    row: Callable[[str, dict[str, Any]], dict[str, Any]] = lambda table, row: row,
    key: Callable[[str, Any], Any] = lambda table, key: key,
) -> None:
    """Gives rows that undo or redo would put back the columns, words and keys that tables have now."""
    for table, columns in new_columns.items():
        chosen = "SELECT action_id, seq, row_key, other_rows FROM change WHERE table_name = :table"
        changed = [
            {
                "action": action_id, "seq": seq, "key": json.dumps(key(table, json.loads(of))),
                "rows": rows and json.dumps([row(table, columns | each) for each in json.loads(rows)]),
            }
            for action_id, seq, of, rows in connection.execute(text(chosen), {"table": table})
        ]  # fmt: skip
        if changed:
            statement = "UPDATE change SET row_key = :key, other_rows = :rows"
            connection.execute(text(f"{statement} WHERE action_id = :action AND seq = :seq"), changed)
