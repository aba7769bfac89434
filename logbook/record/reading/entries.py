"""What the one id space of exposures, events, habits and worn stretches holds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, get_args

from logbook.errors import NotFound
from logbook.record.reading.rows import Rows

Kind = Literal["exposure", "event", "habit", "worn_stretch"]
KINDS: tuple[Kind, ...] = get_args(Kind)


def kind_of(rows: Rows, entry_id: int) -> Kind:
    """Which kind of entry an id belongs to; raises NotFound."""
    for kind in KINDS:
        if list(rows(f"SELECT 1 FROM {kind} WHERE id = ?", (entry_id,))):
            return kind
    raise NotFound(f"There is no entry {entry_id} in the record.", where="id")


def last_entry_id(rows: Rows, watch_id: int | None = None, kinds: Sequence[Kind] = KINDS) -> int:
    """The entry that was made last, of one watch or of all; raises NotFound when there is none."""
    only, params = ("", []) if watch_id is None else (" WHERE watch_id = ?", [watch_id])
    newest = [id_ for kind in kinds for (id_,) in rows(f"SELECT MAX(id) FROM {kind}{only}", params) if id_]
    if not newest:
        raise NotFound("There is no entry yet.", where="id")
    return int(max(newest))
