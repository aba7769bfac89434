"""Several windows on one record: every write is there, and nobody reads of a lock."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import event

from logbook.errors import InUse
from logbook.model.practice import Practice
from logbook.record.file import backup, doctor, engine, lock
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.schema import revision
from logbook.record.writing import exposures, undo, watches
from tests.effort import tries
from tests.record import children
from tests.record.making import a_dive, a_watch, its_seals

WRITES = tries(300)


def a_record(path: Path, practice: Practice) -> None:
    with Store.open(path, create=True) as store:
        watches.add(store, a_watch(), its_seals(), [], practice)


def test_four_processes_write_and_nothing_is_lost(path: Path, practice: Practice) -> None:
    a_record(path, practice)

    def window(number: int) -> Callable[[Callable[[str], None]], None]:
        def work(say: Callable[[str], None]) -> None:
            with Store.open(path) as store:
                for n in range(WRITES):
                    on = date(2024, 1, 1) + timedelta(days=n)
                    say(str(exposures.add(store, [a_dive(1, on, note=f"{number}")], practice)[0]))

        return work

    windows = [children.start(window(n)) for n in range(4)]
    said = [window.wait() for window in windows]
    assert [len(lines) for lines in said] == [WRITES] * 4, said
    ids = [int(line) for lines in said for line in lines]
    assert len(set(ids)) == 4 * WRITES
    with glance.open_rows(path) as rows:
        assert {e.id for e in glance.read_exposures(rows)} == set(ids)
    assert doctor.examine(path, practice) == []


def test_threads_of_one_window_write_and_read_side_by_side(
    store: Store, path: Path, practice: Practice
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    errors: list[BaseException] = []

    def work() -> None:
        try:
            for _ in range(20):
                exposures.add(store, [a_dive(1)], practice)
                glance.read_records(store.rows)
        except BaseException as error:
            errors.append(error)

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(children.PATIENCE_S)
    assert errors == []
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(80,)]
    assert doctor.examine(path, practice) == []


def test_a_record_held_by_another_is_one_sentence(
    store: Store, path: Path, practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    monkeypatch.setattr(lock, "USUAL", lock.Patience(3))
    other = revision.connect(path)
    other.execute("BEGIN EXCLUSIVE")
    try:
        with (
            Store(path, engine.file_engine(path)) as impatient,
            pytest.raises(InUse, match="in use by another"),
        ):
            undo.undo(impatient, practice)
    finally:
        other.close()
    assert undo.recent(store) == ["add Blue bezel"]


def test_a_window_sees_and_joins_what_another_restored(store: Store, path: Path, practice: Practice) -> None:
    """A restore puts another file in place; a window that was open before goes on with that one."""
    watches.add(store, a_watch(), its_seals(), [], practice)
    target = path.with_name("backup")
    backup.backup(store, target)
    exposures.add(store, [a_dive(1)], practice)
    kept = backup.restore(path, target)
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(0,)]
    exposures.add(store, [a_dive(1), a_dive(1)], practice)
    with glance.open_rows(path) as rows:
        assert glance.count_exposures(rows) == 2
    assert kept is not None
    with glance.open_rows(kept) as rows:
        assert glance.count_exposures(rows) == 1


def test_a_write_that_waits_for_a_restore_goes_to_the_restored_record(
    store: Store, path: Path, practice: Practice
) -> None:
    """The lock is asked for on the old file and granted once the new one is in its place."""
    watches.add(store, a_watch(), its_seals(), [], practice)
    target = path.with_name("backup")
    backup.backup(store, target)
    about_to_begin = threading.Event()
    event.listen(store._writer, "begin", lambda _: about_to_begin.set(), insert=True)

    def write() -> None:
        with store.transaction() as session:
            session.connection().exec_driver_sql("UPDATE watch SET name = 'Written'")

    with backup._nobody_writes(path):
        waiting = threading.Thread(target=write)
        waiting.start()
        assert about_to_begin.wait(children.PATIENCE_S)  # its connection is on the old file, and now it waits
        target.replace(path)
    waiting.join(children.PATIENCE_S)
    assert not waiting.is_alive()
    with glance.open_rows(path) as rows:
        assert [record.watch.name for record in glance.read_records(rows)] == ["Written"]
