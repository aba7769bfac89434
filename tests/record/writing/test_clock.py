"""The clock is right although the record holds days ahead of it: said once, kept, read with a watch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import pytest

from logbook.model.judge import facts
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.writing import events, exposures, watches
from logbook.record.writing.clock import say_right
from logbook.record.writing.strike import strike
from tests.record.making import a_dive, a_test, a_watch, content, its_seals, record_of

# Later than any machine that runs this says, so that the day of the changes themselves is none ahead.
TODAY = date(2124, 3, 15)
AHEAD = date(2142, 3, 15)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(), its_seals(), [], practice)


def kept(store: Store) -> str | None:
    ((day,),) = store.rows("SELECT clock_right_to FROM meta")
    return day


def an_event(store: Store, watch_id: int, on: date, practice: Practice) -> None:
    events.add(store, [a_test(watch_id, on)], practice)


def an_exposure(store: Store, watch_id: int, on: date, practice: Practice) -> None:
    exposures.add(store, [a_dive(watch_id, on)], practice)


def a_confirmed_day(store: Store, watch_id: int, on: date, practice: Practice) -> None:
    watches.edit(store, a_watch(id=watch_id, confirmed_on=on), practice)


def a_change(store: Store, watch_id: int, on: date, practice: Practice) -> None:
    with store.transaction() as session:
        session.connection().exec_driver_sql(f"UPDATE action SET done_at = '{on}T08:00:00+00:00'")


WAYS: list[Callable[[Store, int, date, Practice], None]] = [
    an_event,
    an_exposure,
    a_confirmed_day,
    a_change,
]


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_whatever_lies_ahead_is_the_day_up_to_which_the_clock_is_right(
    store: Store, practice: Practice, watch_id: int, way: Callable[[Store, int, date, Practice], None]
) -> None:
    way(store, watch_id, AHEAD, practice)
    assert say_right(store, TODAY) == AHEAD
    assert kept(store) == AHEAD.isoformat()
    assert record_of(store, watch_id).clock_right_to == AHEAD


def test_once_it_is_said_the_clock_no_longer_counts_as_behind_until_something_lies_further_ahead(
    store: Store, practice: Practice, watch_id: int
) -> None:
    an_exposure(store, watch_id, AHEAD, practice)

    def behind_by() -> date | None:
        return facts.gather(record_of(store, watch_id), TODAY, practice).clock_behind_by

    assert behind_by() == AHEAD
    say_right(store, TODAY)
    assert behind_by() is None
    an_exposure(store, watch_id, AHEAD + timedelta(days=1), practice)
    assert behind_by() == AHEAD + timedelta(days=1)


def test_nothing_is_written_where_nothing_lies_more_than_a_day_ahead(
    store: Store, practice: Practice, watch_id: int
) -> None:
    an_exposure(store, watch_id, TODAY + timedelta(days=1), practice)
    exposures.add(store, [a_dive(watch_id, AHEAD, planned=True)], practice)
    before = store.rows("SELECT * FROM meta")
    assert say_right(store, TODAY) is None
    assert store.rows("SELECT * FROM meta") == before


def test_an_empty_record_has_nothing_ahead(store: Store) -> None:
    assert say_right(store, TODAY) is None
    assert kept(store) is None


def test_saying_it_is_no_step_of_undo_and_changes_no_entry(
    store: Store, practice: Practice, watch_id: int
) -> None:
    an_exposure(store, watch_id, AHEAD, practice)
    before, steps = content(store), store.rows("SELECT * FROM action")
    say_right(store, TODAY)
    assert content(store) == before
    assert store.rows("SELECT * FROM action") == steps


def test_what_was_ahead_may_be_struck_and_the_word_stays(
    store: Store, practice: Practice, watch_id: int
) -> None:
    (typo,) = exposures.add(store, [replace(a_dive(watch_id), starts_on=AHEAD)], practice)
    say_right(store, TODAY)
    strike(store, typo, practice)
    assert say_right(store, TODAY) is None
    assert kept(store) == AHEAD.isoformat()
