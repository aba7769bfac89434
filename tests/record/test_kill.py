"""Nothing acknowledged is lost, and nothing is half there, when the process dies at any moment."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from logbook.model.practice import Practice
from logbook.model.values import ProfilePoint
from logbook.record.file import doctor
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import exposures, undo, watches
from tests.record import children
from tests.record.making import a_dive, a_watch, folder_of, its_seals

PROFILE = tuple(ProfilePoint(10.0 * n, float(n % 21)) for n in range(30))


def logging_for_ever(path: Path, practice: Practice) -> Callable[[Callable[[str], None]], None]:
    def work(say: Callable[[str], None]) -> None:
        with Store.open(path) as store:
            while True:
                say(str(exposures.add(store, [a_dive(1, profile=PROFILE)], practice)[0]))

    return work


def kill_at_random_moments(path: Path, practice: Practice, kills: int, seed: int) -> None:
    moments = random.Random(seed)
    with Store.open(path, create=True) as store:
        watches.add(store, a_watch(), its_seals(), [], practice)
    acknowledged: set[int] = set()
    for _ in range(kills):
        child = children.start(logging_for_ever(path, practice))
        heard: list[str] = []
        wanted = moments.randrange(1, 5)
        while len(heard) < wanted:
            heard += child.listen(children.PATIENCE_S) or ["error: the child said nothing"]
        heard += child.listen(moments.uniform(0, 0.006))  # somewhere inside one of the next writes
        heard += child.kill()
        assert not [line for line in heard if line.startswith("error")]
        acknowledged |= {int(line) for line in heard}

        with glance.open_rows(path) as rows:
            there = {e.id: e for e in glance.read_exposures(rows, with_profiles=True)}
        assert acknowledged <= set(there)
        assert all(e.profile == PROFILE for e in there.values())
        assert doctor.examine(path, practice) == []
    with Store.open(path) as store:
        assert store.rows("SELECT COUNT(*) FROM action")[0][0] == len(there) + 1
        undo.undo(store, practice)  # the record goes on, and a write clears away what a crash may leave
    assert folder_of(path) == ["record.logbook"]


def test_a_killed_process_loses_nothing_it_had_acknowledged(path: Path, practice: Practice) -> None:
    kill_at_random_moments(path, practice, kills=25, seed=1)


@pytest.mark.release
@pytest.mark.parametrize("seed", range(5))
def test_a_process_killed_again_and_again_loses_nothing(path: Path, practice: Practice, seed: int) -> None:
    kill_at_random_moments(path, practice, kills=200, seed=seed)


def test_a_glance_right_after_a_crash_sees_the_last_acknowledged_state(
    store: Store, path: Path, practice: Practice
) -> None:
    """A change that was cut off half-way on the disk is taken back even when the first to look only reads."""
    watches.add(store, a_watch(), its_seals(), [], practice)

    def work(say: Callable[[str], None]) -> None:
        with Store.open(path) as other, other.transaction() as session:
            driver = session.connection()
            driver.exec_driver_sql("PRAGMA cache_size = 2")
            driver.exec_driver_sql("PRAGMA cache_spill = 1")
            driver.exec_driver_sql("UPDATE watch SET name = 'half done'")
            for n in range(2000):  # more than the cache holds, so that the file itself is changed
                driver.exec_driver_sql(f"INSERT INTO snooze VALUES ('{n}', '2024-01-01')")
            say("half done")
            while True:
                pass

    child = children.start(work)
    assert child.listen(children.PATIENCE_S) == ["half done"]
    child.kill()
    assert "record.logbook-journal" in folder_of(path)
    with glance.open_rows(path) as rows:
        assert [record.watch.name for record in glance.read_records(rows)] == ["Blue bezel"]
    assert folder_of(path) == ["record.logbook"]
