"""Entries of every kind share one row of ids, and any of them can be struck."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import Habit, ProfilePoint, WornStretch
from logbook.record.file.store import Store
from logbook.record.reading import entries
from logbook.record.writing import events, exposures, habits, undo, watches
from logbook.record.writing.strike import strike
from tests.record.making import ADDED, a_dive, a_test, a_watch, books, content, gaskets, its_seals

LATER = date(2024, 6, 1)
STRUCK = {
    "exposure": "strike dive of 1 May 2024 from Blue bezel",
    "event": "strike new gaskets of 1 Jun 2024 from Blue bezel",
    "habit": "strike habit dive from Blue bezel",
    "worn_stretch": "strike worn time of 1 Jan 2024 from Blue bezel",
}


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(), its_seals(), [], practice)


def one_of_each(store: Store, practice: Practice, watch_id: int) -> dict[str, int]:
    profile = (ProfilePoint(0, 0), ProfilePoint(60, 21))
    return {
        "exposure": exposures.add(store, [a_dive(watch_id, profile=profile)], practice)[0],
        "event": events.add(store, [gaskets(watch_id, LATER, ("crown", "FKM"))], practice)[0],
        "habit": habits.add_habit(store, Habit(a_dive(), 0.5, ADDED, None, watch_id), practice),
        "worn_stretch": habits.add_stretches(store, [WornStretch(ADDED, LATER, 9.0, watch_id)], practice)[0],
    }


def test_every_kind_of_entry_takes_its_id_from_one_row(
    store: Store, practice: Practice, watch_id: int
) -> None:
    ids = one_of_each(store, practice, watch_id)
    assert list(ids.values()) == [1, 2, 3, 4]
    assert {entries.kind_of(store.rows, id_): id_ for id_ in ids.values()} == ids


@pytest.mark.parametrize("kind", entries.KINDS)
def test_a_struck_entry_is_gone_and_undo_brings_it_back(
    store: Store, practice: Practice, watch_id: int, kind: str
) -> None:
    ids = one_of_each(store, practice, watch_id)
    before = content(store), books(store)
    assert strike(store, ids[kind], practice) == kind
    with pytest.raises(NotFound, match=f"There is no entry {ids[kind]} in the record"):
        entries.kind_of(store.rows, ids[kind])
    assert undo.undo(store, practice) == STRUCK[kind]
    assert (content(store), books(store)) == before


def test_the_id_of_a_struck_or_undone_entry_is_never_given_again(
    store: Store, practice: Practice, watch_id: int
) -> None:
    (first,) = exposures.add(store, [a_dive(watch_id)], practice)
    strike(store, first, practice)
    (second,) = events.add(store, [a_test(watch_id, ADDED)], practice)
    undo.undo(store, practice)
    (third,) = exposures.add(store, [a_dive(watch_id)], practice)
    assert first < second < third


def test_the_last_entry_is_the_one_made_last(store: Store, practice: Practice, watch_id: int) -> None:
    with pytest.raises(NotFound, match="There is no entry yet"):
        entries.last_entry_id(store.rows)
    other = watches.add(store, a_watch("Sunday dress"), its_seals(), [], practice)
    (early,) = exposures.add(store, [a_dive(watch_id, on=date(2024, 9, 9))], practice)
    (test,) = events.add(store, [a_test(other, ADDED)], practice)
    assert entries.last_entry_id(store.rows) == test
    assert entries.last_entry_id(store.rows, watch_id) == early
    assert entries.last_entry_id(store.rows, kinds=["exposure"]) == early


def test_striking_what_is_not_there_is_said(store: Store, practice: Practice) -> None:
    with pytest.raises(NotFound, match="There is no entry 5 in the record"):
        strike(store, 5, practice)
