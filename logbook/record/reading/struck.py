"""What came from a file and was struck since, as the journal remembers it."""

from __future__ import annotations

import json

from logbook.record.reading.rows import Rows


def read_struck(rows: Rows) -> list[tuple[int | None, str]]:
    """Watch and origin of every exposure of a file that was struck, whether or not it came in again."""
    statement = (
        "SELECT i.other_rows, e.other_rows FROM change i JOIN action a ON a.id = i.action_id AND a.undone = 0"
        " JOIN change e ON e.action_id = i.action_id AND e.row_key = i.row_key AND e.table_name = 'exposure'"
        " WHERE i.table_name = 'imported' AND i.other_rows IS NOT NULL AND e.other_rows IS NOT NULL"
    )
    return [
        (json.loads(exposure)[0]["watch_id"], json.loads(imported)[0]["origin"])
        for imported, exposure in rows(statement, ())
    ]
