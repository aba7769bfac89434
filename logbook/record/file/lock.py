"""The lock that another holds on a record: how often one asks for it, and what is done between two times."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextvars import ContextVar
from dataclasses import dataclass
from itertools import count

from logbook.record.file.trouble import is_busy

BUSY_S = 10.0
ASK_EVERY_MS = 8  # SQLite waits 1, 2 and 5 ms in that time


@dataclass(frozen=True, slots=True)
class Patience:
    """How often one asks, None for as often as it takes; what `between` raises ends the wait."""

    attempts: int | None
    between: Callable[[], None] = lambda: None


USUAL = Patience(round(BUSY_S * 1000 / ASK_EVERY_MS))
_patience: ContextVar[Patience | None] = ContextVar("patience", default=None)


def wait_with(patience: Patience) -> None:
    """From now on, in this thread or task and what it starts."""
    _patience.set(patience)


def take(driver: sqlite3.Connection, statement: str) -> None:
    """Runs a statement that needs a lock, again and again while another holds it.

    SQLite's own waiting asks every tenth of a second at last, among several busy writers may never find the
    lock free, and cannot be left.
    """
    patience = _patience.get() or USUAL
    driver.execute(f"PRAGMA busy_timeout = {ASK_EVERY_MS}").close()
    try:
        for attempt in count(1):
            try:
                cursor = driver.execute(statement)
                cursor.fetchone()
                cursor.close()
                return
            except sqlite3.OperationalError as error:
                if attempt == patience.attempts or not is_busy(error):
                    raise
            patience.between()
    finally:
        driver.execute(f"PRAGMA busy_timeout = {round(BUSY_S * 1000)}").close()
