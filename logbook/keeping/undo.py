"""Undo and redo: the rows of one action change places with the rows kept for it, and the ledger follows."""

from __future__ import annotations

from sqlmodel import Session

from logbook.errors import BadInput
from logbook.keeping import journal, ledger
from logbook.keeping.journal import Change, PlainRow
from logbook.keeping.sql import run
from logbook.keeping.store import Store
from logbook.reckoning.practice import Practice


def undo(store: Store, practice: Practice) -> str:
    """Takes the last action back and returns its label.

    Raises BadInput when there is nothing to undo.
    """
    return _step(store, practice, undone=0, newest=True, nothing="There is nothing to undo.")


def redo(store: Store, practice: Practice) -> str:
    """Does the last undone action again and returns its label.

    Raises BadInput when there is nothing to redo.
    """
    return _step(store, practice, undone=1, newest=False, nothing="There is nothing to redo.")


def recent(store: Store, count: int = 20) -> list[str]:
    """Labels of the actions that undo would take back, the next one first."""
    found = store.rows("SELECT label FROM action WHERE undone = 0 ORDER BY id DESC LIMIT ?", (count,))
    return [label for (label,) in found]


def _step(store: Store, practice: Practice, *, undone: int, newest: bool, nothing: str) -> str:
    order = "DESC" if newest else "ASC"
    with store.transaction() as session:
        found = journal.plain(
            session, f"SELECT id, label FROM action WHERE undone = ? ORDER BY id {order} LIMIT 1", (undone,)
        )
        if not found:
            raise BadInput(nothing)
        action_id, label = found[0]
        changes = _exchange(session, action_id)
        ledger.settle(session, changes, practice)
        run(session, "UPDATE action SET undone = ? WHERE id = ?", (1 - undone, action_id))
        return str(label)


def _exchange(session: Session, action_id: int) -> list[Change]:
    """Puts the kept rows in place and keeps what was there."""
    kept: dict[str, dict[object, list[PlainRow]]] = {}
    for table, key, rows in journal.read_changes(session, action_id):
        kept.setdefault(table, {})[key] = rows
    changes = []
    for table, by_key in kept.items():
        before = journal.fetch(session, table, list(by_key))
        journal.put(session, table, by_key)
        changes += [Change(table, key, before[key], rows) for key, rows in by_key.items()]
    journal.write_changes(session, action_id, [(c.table, c.key, c.before) for c in changes])
    return changes
