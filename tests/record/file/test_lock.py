"""Waiting for a record that another holds: until it is free, or until one leaves; nothing is lost by it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import copy_context
from pathlib import Path

import pytest

from logbook.model.practice import Practice
from logbook.record.file import lock
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.schema import revision
from logbook.record.writing import exposures, watches
from tests.record.making import a_dive, a_watch, its_seals

ASKED = 3  # times before something happens


class Leave(Exception):
    """What the one who waits may raise."""


@contextmanager
def held(path: Path, statement: str) -> Iterator[sqlite3.Connection]:
    """Another program that has begun something with the record."""
    other = revision.connect(path)
    try:
        for each in statement.split(";"):
            other.execute(each).fetchone()
        yield other
    finally:
        other.close()


def waiting(do: Callable[[], object], then: Callable[[], None]) -> int:
    """Do something with a patience of its own, `then` something else once it was asked for a few times.

    Returns how often it was asked for in vain.
    """
    times = 0

    def between() -> None:
        nonlocal times
        times += 1
        if times == ASKED:
            then()

    def work() -> None:
        lock.wait_with(lock.Patience(None, between))
        do()

    copy_context().run(work)
    return times


def leave() -> None:
    raise Leave


# What another does -> what can then not be done: all of it, writing, and the end of writing.
WRITES, HOLDS, READS = "BEGIN IMMEDIATE", "BEGIN EXCLUSIVE", "BEGIN;SELECT * FROM watch"


@pytest.mark.parametrize("what", [WRITES, HOLDS, READS])
def test_a_write_waits_until_the_record_is_free(
    store: Store, path: Path, practice: Practice, what: str
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    with held(path, what) as other:
        times = waiting(lambda: exposures.add(store, [a_dive(1)], practice), lambda: other.execute("COMMIT"))
    assert times == ASKED
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(1,)]


@pytest.mark.parametrize("what", [WRITES, HOLDS, READS])
def test_a_write_that_is_left_leaves_nothing_and_the_next_one_goes_on(
    store: Store, path: Path, practice: Practice, what: str
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    with held(path, what), pytest.raises(Leave):
        waiting(lambda: exposures.add(store, [a_dive(1)], practice), leave)
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(0,)]
    exposures.add(store, [a_dive(1)], practice)
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(1,)]


def test_reading_waits_until_the_record_is_free_or_is_left(
    store: Store, path: Path, practice: Practice
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    names: list[str] = []

    def read() -> None:
        with glance.open_rows(path) as rows:
            names.extend(record.watch.name for record in glance.read_records(rows))

    with held(path, HOLDS), pytest.raises(Leave):
        waiting(read, leave)
    assert names == []
    with held(path, HOLDS) as other:
        assert waiting(read, lambda: other.execute("COMMIT").close()) == ASKED
    assert names == ["Blue bezel"]


def test_opening_for_a_change_waits_too(store: Store, path: Path, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)

    def change() -> None:
        with Store.open(path) as mine:
            exposures.add(mine, [a_dive(1)], practice)

    with held(path, HOLDS) as other:
        assert waiting(change, lambda: other.execute("COMMIT").close()) == ASKED
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(1,)]
