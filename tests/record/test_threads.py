"""Threads that share one open record: none of them shares a connection with another, and nothing is lost."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from pathlib import Path

from logbook.model.practice import Practice
from logbook.record.file import doctor
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import exposures, watches
from tests.record.making import a_dive, a_watch, its_seals

THREADS, EACH = 4, 12


def test_threads_that_write_and_read_one_open_record_lose_nothing(
    store: Store, path: Path, practice: Practice
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)

    def work(thread: int) -> list[int]:
        ids: list[int] = []
        for n in range(EACH):
            day = date(2024, 2, 1) + timedelta(days=thread * EACH + n)
            ids += exposures.add(store, [a_dive(1, day)], practice)
            with store.reading() as rows:
                there = {e.id for e in glance.read_exposures(rows)}
                assert {*ids} <= there
                assert glance.count_exposures(rows) == len(there)  # one state for all that is read
        return ids

    with ThreadPoolExecutor(THREADS) as pool:
        written = [key for ids in pool.map(work, range(THREADS)) for key in ids]
    assert len({*written}) == THREADS * EACH == glance.count_exposures(store.rows)
    assert doctor.examine(path, practice) == []
