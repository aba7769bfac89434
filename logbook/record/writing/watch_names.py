"""Nicknames: those that labels of actions speak of, and those that are taken."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from logbook.errors import BadInput, NotFound
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.schema import shapes

if TYPE_CHECKING:
    from logbook.record.file.store import Store


def names_of(store: Store, watch_ids: Sequence[int | None]) -> dict[int | None, str]:
    """Watch id -> nickname; raises NotFound for an id that the record does not hold."""
    wanted = sorted({watch_id for watch_id in watch_ids if watch_id is not None})
    found: dict[int | None, str] = {}
    for marks, piece in in_chunks(wanted):
        found.update(store.rows(f"SELECT id, name FROM watch WHERE id IN {marks}", piece))
    for watch_id in watch_ids:
        if watch_id not in found:
            raise NotFound(f"There is no watch {watch_id} in the record.", where="watch")
    return found


def refuse_double(rows: Rows, name: str, watch_id: int) -> None:
    """Raises BadInput where another watch has the nickname, also a retired one."""
    statement = "SELECT name, retired_on FROM watch WHERE name_key = ? AND id <> ?"
    for taken, retired_on in rows(statement, (shapes.name_key(name), watch_id)):
        state = " (retired)" if retired_on else ""
        raise BadInput(
            f"There is already a watch called {taken}{state}; capitals do not count.", where="name"
        )
