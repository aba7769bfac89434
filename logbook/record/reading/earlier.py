"""What watches and entries of the record were before they were changed: the steps of undo remember it."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any

from logbook.model.values import Entry, Event, Exposure, Habit, WornStretch
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.schema import shapes

_SHAPES: Mapping[type, tuple[str, tuple[str, ...], Any]] = {
    Exposure: ("exposure", shapes.EXPOSURE.names, shapes.EXPOSURE.value),
    Event: ("event", shapes.EVENT.names, shapes.event_of),
    Habit: ("habit", shapes.HABIT.names, shapes.habit_of),
    WornStretch: ("worn_stretch", shapes.STRETCH.names, shapes.STRETCH.value),
}


def earlier_entries(rows: Rows, kind: type, ids: Sequence[int]) -> dict[int, list[Entry]]:
    """Id -> every other state that entries of a kind had here, without their profiles and their seals."""
    table, columns, shaped = _SHAPES[kind]
    return {
        id_: [shaped([row[column] for column in columns]) for row in found if row.keys() >= set(columns)]
        for id_, found in _earlier(rows, table, ids).items()
    }


def earlier_names(rows: Rows, ids: Sequence[int]) -> dict[int, set[str]]:
    """Watch id -> the other nicknames that it had here, as they are compared."""
    return {
        id_: {shapes.name_key(row["name"]) for row in found}
        for id_, found in _earlier(rows, "watch", ids).items()
    }


def _earlier(rows: Rows, table: str, ids: Sequence[int]) -> dict[int, list[dict[str, Any]]]:
    found: dict[int, list[dict[str, Any]]] = defaultdict(list)
    for marks, piece in in_chunks([str(id_) for id_ in ids]):
        statement = (
            "SELECT row_key, other_rows FROM change WHERE table_name = ? AND other_rows IS NOT NULL"
            f" AND row_key IN {marks}"
        )
        for key, other in rows(statement, (table, *piece)):
            found[int(key)] += json.loads(other)
    return found
