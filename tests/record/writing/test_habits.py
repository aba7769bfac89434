"""Worn stretches, habits, and the word that nothing else happened."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import Habit, WornStretch
from logbook.record.file.store import Store
from logbook.record.reading import charged
from logbook.record.writing import exposures, habits, undo, watches
from tests.record.making import ADDED, a_dive, a_watch, its_seals, record_of

DAY = date(2024, 5, 1)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(), its_seals(), [], practice)


def test_a_day_in_the_drawer_changes_which_hours_a_dive_takes(
    store: Store, practice: Practice, watch_id: int
) -> None:
    (dive,) = exposures.add(store, [a_dive(watch_id, DAY)], practice)
    worn = charged.ledger_of(store.rows, dive)
    habits.add_stretches(store, [WornStretch(DAY, DAY, 0.0, watch_id)], practice)
    stored = charged.ledger_of(store.rows, dive)
    assert all(stored[seal].ageing > worn[seal].ageing for seal in worn)
    (later,) = exposures.add(store, [a_dive(watch_id, date(2024, 5, 20))], practice)
    assert charged.ledger_of(store.rows, later) == worn


def test_several_watches_worn_on_one_day_share_its_hours(
    store: Store, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Sunday dress"), its_seals(), [], practice)
    ids = habits.wore(store, [watch_id, other], DAY, practice)
    assert record_of(store, watch_id).stretches == (WornStretch(DAY, DAY, 6.0, watch_id, ids[0]),)
    assert record_of(store, other).stretches == (WornStretch(DAY, DAY, 6.0, other, ids[1]),)
    assert undo.undo(store, practice) == "worn time of Blue bezel, Sunday dress"
    assert record_of(store, other).stretches == ()


def test_a_stretch_is_amended(store: Store, practice: Practice, watch_id: int) -> None:
    stretch = WornStretch(DAY, DAY, 8.0, watch_id)
    (entry,) = habits.add_stretches(store, [stretch], practice)
    habits.amend_stretch(store, replace(stretch, id=entry, hours=3.5), practice)
    assert record_of(store, watch_id).stretches == (replace(stretch, id=entry, hours=3.5),)


def test_a_habit_takes_hours_that_a_dive_then_cannot_take(
    store: Store, practice: Practice, watch_id: int
) -> None:
    habits.add_stretches(store, [WornStretch(DAY, DAY, 1.0, watch_id)], practice)
    (dive,) = exposures.add(store, [a_dive(watch_id, DAY)], practice)
    before = charged.ledger_of(store.rows, dive)
    habit = Habit(a_dive(duration_s=3600), 1.0, DAY, None, watch_id)
    entry = habits.add_habit(store, habit, practice)
    during = charged.ledger_of(store.rows, dive)
    assert all(during[seal].ageing > before[seal].ageing for seal in before)
    habits.amend_habit(store, replace(habit, id=entry, from_on=date(2024, 6, 1)), practice)
    assert charged.ledger_of(store.rows, dive) == before


def test_nothing_else_happened_is_remembered_and_never_shortened(
    store: Store, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Sunday dress"), [], [], practice)
    habits.confirm(store, [watch_id, other], DAY)
    habits.confirm(store, [watch_id], ADDED)
    assert record_of(store, watch_id).watch.confirmed_on == DAY
    assert record_of(store, other).watch.confirmed_on == DAY
    assert undo.recent(store, 1) == ["nothing else for Blue bezel, Sunday dress"]


def test_what_is_not_there_is_said(store: Store, practice: Practice, watch_id: int) -> None:
    stretch, habit = WornStretch(DAY, DAY, 8.0, watch_id, 77), Habit(a_dive(), 1.0, DAY, None, watch_id, 77)
    with pytest.raises(NotFound, match="There is no worn stretch 77"):
        habits.amend_stretch(store, stretch, practice)
    with pytest.raises(NotFound, match="There is no habit 77"):
        habits.amend_habit(store, habit, practice)
    with pytest.raises(NotFound, match="There is no watch 8"):
        habits.confirm(store, [8], DAY)
