"""One more exposure costs the same however long the record is: what SQLite does for it is counted."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from logbook.model import values as v
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.writing import exposures, undo, watches
from tests.record.making import ADDED, a_dive, a_test, a_watch, its_seals

# A long life behind it: copies of the first exposure, its ledger rows and the first action, a day apart.
_LONGER = """
CREATE TEMP TABLE n AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {count})
    SELECT i FROM n;
CREATE TEMP TABLE dive AS SELECT * FROM exposure WHERE id = {id};
INSERT INTO exposure (id, starts_on, {columns})
    SELECT {id} + n.i, date('1960-01-01', '+' || n.i || ' days'), {columns} FROM dive, n;
INSERT INTO ledger_share (exposure_id, seal_id, counted, {channels})
    SELECT {id} + n.i, seal_id, counted, {channels} FROM ledger_share, n WHERE exposure_id = {id};
INSERT INTO action (id, done_at, label, undone)
    SELECT 100 + n.i, done_at, label, 0 FROM action, n WHERE id = 1;
UPDATE meta SET next_entry_id = next_entry_id + {count}, next_action_id = 101 + {count};
"""


def made_longer(path: Path, exposure_id: int, count: int) -> None:
    """Adds so many exposures before all that is on record, and an action for each."""
    connection = sqlite3.connect(path)
    columns = [name for _, name, *_ in connection.execute("PRAGMA table_info(exposure)")]
    rest = ", ".join(name for name in columns if name not in ("id", "starts_on"))
    script = _LONGER.format(count=count, id=exposure_id, columns=rest, channels=", ".join(v.CHANNELS))
    connection.executescript(script)
    connection.commit()
    connection.close()


def steps_of(store: Store, act: Callable[[], object]) -> int:
    """How many steps SQLite takes for an action: every row looked at takes some."""
    taken = [0]

    def count() -> None:
        taken[0] += 1

    def begin(driver: sqlite3.Connection, *_: object) -> None:
        driver.set_progress_handler(count, 1)

    def end(driver: sqlite3.Connection, *_: object) -> None:
        driver.set_progress_handler(None, 1)

    pool = store._engine.pool
    hooks = (("checkout", begin), ("checkin", end))
    for name, hook in hooks:
        event.listen(pool, name, hook)
    try:
        act()
    finally:
        for name, hook in hooks:
            event.remove(pool, name, hook)
    return taken[0]


DIVES: dict[str, tuple[dict[str, Any], list[str]]] = {
    "plain": ({}, []),
    "to 6 bar, tested to 5": ({"depth_m": 60.0, "gauge_pa": 6e5}, ["beyond-proof"]),
    "with the crown used": ({"crown_under": 1}, ["overstressed"]),
}


@pytest.mark.parametrize("dive", DIVES)
def test_one_more_exposure_takes_as_many_steps_with_20000_on_record_as_with_one(
    path: Path, store: Store, practice: Practice, dive: str
) -> None:
    more, raises = DIVES[dive]
    described, tested = a_watch(new_on=None), replace(a_test(None, ADDED), test_pa=5e5)
    watch_id = watches.add(store, described, its_seals(), [tested], practice)
    (first,) = exposures.add(store, [a_dive(watch_id)], practice)

    def one_more() -> None:
        exposures.add(store, [a_dive(watch_id, date(2024, 9, 1), **more)], practice)

    short = steps_of(store, one_more)
    undo.undo(store, practice)
    made_longer(path, first, 20_000)
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(20_001,)]
    assert steps_of(store, one_more) < short + 500
    assert [code for (code,) in store.rows("SELECT code FROM raised")] == raises
