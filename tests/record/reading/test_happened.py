"""What happened, read from a real record."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from logbook.model.judge.since import HARDEST
from logbook.model.practice import Practice
from logbook.model.values import Shares
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.reading.happened import read_since
from logbook.record.writing import events, exposures, watches
from tests.record.making import ADDED, a_dive, a_test, a_watch, gaskets, its_seals

TODAY = date(2024, 9, 1)
FIRST = date(2024, 5, 1)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    """Two watches; the second one's water must never be told of the first."""
    key = watches.add(store, a_watch(), its_seals(), [], practice)
    other = watches.add(store, a_watch("Other"), its_seals(), [], practice)
    exposures.add(store, [a_dive(other, FIRST, duration_s=36_000, rinsed=False)], practice)
    return key


def crown(store: Store, watch_id: int) -> int:
    """The crown seal in place."""
    record = glance.read_records(store.rows, watch_id=watch_id)[0]
    return next(s.id or 0 for s in reversed(record.seals) if s.position == "crown")


def test_the_dearest_exposures_come_first_and_equal_ones_newest_first(
    store: Store, practice: Practice, watch_id: int
) -> None:
    days = [FIRST + timedelta(days=3 * n) for n in range(4)]
    depths = (10.0, 30.0, 20.0, 30.0)
    made = [
        a_dive(watch_id, on, gauge_pa=depth * 1e4, depth_m=depth)
        for on, depth in zip(days, depths, strict=True)
    ]
    exposures.add(store, made, practice)
    found = charged.ledger_dearest(store.rows, crown(store, watch_id), FIRST, TODAY, 3)
    assert [exposure.starts_on for exposure, _ in found] == [days[3], days[1], days[2]]
    for exposure, shares in found:
        assert charged.ledger_of(store.rows, exposure.id or 0)[crown(store, watch_id)] == shares


def test_only_the_days_asked_for_count_both_ends_included(
    store: Store, practice: Practice, watch_id: int
) -> None:
    days = [FIRST + timedelta(days=n) for n in range(5)]
    exposures.add(store, [a_dive(watch_id, on) for on in days], practice)
    found = charged.ledger_dearest(store.rows, crown(store, watch_id), days[1], days[3], 9)
    assert sorted(exposure.starts_on for exposure, _ in found) == days[1:4]


def test_water_of_a_seal_that_was_replaced_is_not_told_of_the_new_one(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id, FIRST)], practice)
    events.add(store, [gaskets(watch_id, FIRST + timedelta(days=9), ("crown", "NBR"))], practice)
    assert charged.ledger_dearest(store.rows, crown(store, watch_id), FIRST, TODAY, 9) == []


def test_a_record_tells_its_whole_account_since_the_makers_test(
    store: Store, practice: Practice, watch_id: int
) -> None:
    days = [FIRST + timedelta(days=2 * n) for n in range(HARDEST + 2)]
    exposures.add(store, [a_dive(watch_id, on) for on in days], practice)
    record = glance.read_records(store.rows, watch_id=watch_id)[0]
    told = read_since(store.rows, record, practice, TODAY)
    assert told is not None
    assert (told.period.start, told.period.beginning) == (ADDED, "maker’s test")
    assert told.by_exposures == record.totals[crown(store, watch_id)]
    assert len(told.hardest) == HARDEST


def test_after_a_pass_only_later_water_is_told(store: Store, practice: Practice, watch_id: int) -> None:
    days = [FIRST, FIRST + timedelta(days=20)]
    exposures.add(store, [a_dive(watch_id, on) for on in days], practice)
    events.add(store, [a_test(watch_id, FIRST + timedelta(days=10))], practice)
    record = glance.read_records(store.rows, watch_id=watch_id)[0]
    told = read_since(store.rows, record, practice, TODAY)
    assert told is not None
    assert [cost.exposure.starts_on for cost in told.hardest] == days[1:]
    assert told.by_exposures == told.hardest[0].shares != Shares()
