"""The nicknames that labels of actions speak of."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.errors import NotFound
from logbook.keeping.rows import in_chunks
from logbook.keeping.store import Store


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
