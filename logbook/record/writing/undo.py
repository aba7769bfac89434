"""Undo and redo: the rows of one action change places with the rows kept for it, and the ledger follows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session

from logbook.errors import NothingLeft
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.ledger import ledger
from logbook.record.ledger.ledger import Progress
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.reading.sql import run
from logbook.record.writing import journal
from logbook.record.writing.journal import Change, PlainRow

NOTHING_TO_UNDO, NOTHING_TO_REDO = "There is nothing to undo.", "There is nothing to redo."


def undo(store: Store, practice: Practice, progress: Progress | None = None) -> str:
    """Takes the last action back and returns its label.

    `progress` is told how far a long one is; what it raises leaves the record as it was. Raises NothingLeft
    when there is nothing to undo.
    """
    return _step(store, practice, progress, undone=0, newest=True, nothing=NOTHING_TO_UNDO)


def redo(store: Store, practice: Practice, progress: Progress | None = None) -> str:
    """Does the last undone action again and returns its label; raises NothingLeft when there is none.

    `progress` as for `undo`.
    """
    return _step(store, practice, progress, undone=1, newest=False, nothing=NOTHING_TO_REDO)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was done, as undo and redo walk through them."""

    id: int  # never given twice
    label: str
    done_at: datetime  # UTC
    undone: bool
    changes: Mapping[str, int]  # table -> how many of its things it changed


def recent(store: Store, count: int | None = 20) -> list[str]:
    """Labels of the actions that undo would take back, the next one first; all of them for None."""
    limit, params = ("", ()) if count is None else (" LIMIT ?", (count,))
    found = store.rows(f"SELECT label FROM action WHERE undone = 0 ORDER BY id DESC{limit}", params)
    return [label for (label,) in found]


def steps(rows: Rows, count: int = 50) -> tuple[list[Step], list[Step]]:
    """What undo would take back and what redo would do again, of each the next one first."""
    return _steps(rows, 0, "DESC", count), _steps(rows, 1, "ASC", count)


def counts(rows: Rows) -> tuple[int, int]:
    """How many steps undo would take back, and how many redo would do again."""
    undone, all_ = next(iter(rows("SELECT COALESCE(SUM(undone), 0), COUNT(*) FROM action", ())))
    return int(all_) - int(undone), int(undone)


def _steps(rows: Rows, undone: int, order: str, count: int) -> list[Step]:
    listed = list(
        rows(
            f"SELECT id, label, done_at FROM action WHERE undone = ? ORDER BY id {order} LIMIT ?",
            (undone, count),
        )
    )
    touched: dict[int, dict[str, int]] = defaultdict(dict)
    for marks, piece in in_chunks([row[0] for row in listed]):
        grouped = f"FROM change WHERE action_id IN {marks} GROUP BY action_id, table_name"
        for action_id, table, number in rows(f"SELECT action_id, table_name, COUNT(*) {grouped}", piece):
            touched[action_id][table] = number
    return [
        Step(action_id, label, datetime.fromisoformat(done_at), bool(undone), touched[action_id])
        for action_id, label, done_at in listed
    ]


def _step(
    store: Store, practice: Practice, progress: Progress | None, *, undone: int, newest: bool, nothing: str
) -> str:
    order = "DESC" if newest else "ASC"
    with store.transaction() as session:
        found = journal.plain(
            session, f"SELECT id, label FROM action WHERE undone = ? ORDER BY id {order} LIMIT 1", (undone,)
        )
        if not found:
            raise NothingLeft(nothing)
        action_id, label = found[0]
        counted = journal.plain(session, "SELECT COUNT(*) FROM change WHERE action_id = ?", (action_id,))
        total = int(counted[0][0])
        tell = progress if progress is not None and total >= MUCH else _tell_nobody
        changes = _exchange(session, action_id, lambda done: tell(done, total))
        ledger.settle(session, changes, practice, tell)
        run(session, "UPDATE action SET undone = ? WHERE id = ?", (1 - undone, action_id))
        return str(label)


def _tell_nobody(done: int, total: int) -> None:
    """Of what takes a moment there is nothing to tell."""


MUCH = 500  # rows, from which on it takes longer than a moment
PROFILES_AT_ONCE = 50  # so that an import with millions of points goes back in little memory


def _exchange(session: Session, action_id: int, tell: Callable[[int], None]) -> list[Change]:
    """Puts the kept rows in place and keeps what was there; `tell` hears how many are done."""
    changes: list[Change] = []
    tell(0)
    for piece in journal.read_changes(session, action_id, PROFILES_AT_ONCE):
        kept: dict[str, dict[object, list[PlainRow]]] = {}
        for _, table, key, rows in piece:
            kept.setdefault(table, {})[key] = rows
        there = {table: journal.fetch(session, table, list(by_key)) for table, by_key in kept.items()}
        for table, by_key in kept.items():
            journal.put(session, table, by_key)
        journal.keep_instead(session, action_id, [(seq, there[table][key]) for seq, table, key, _ in piece])
        for _, table, key, rows in piece:
            # Whoever follows the changes needs no points, only whose they were.
            before, now = (there[table][key], rows) if table != journal.LONG else ([], [])
            changes.append(Change(table, key, before, now))
        tell(len(changes))
    return changes
