"""Days with water, read from a real record."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta

import pytest

from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.reading.wet_days import read_wet_days, read_year
from logbook.record.writing import events, exposures, watches
from tests.record.making import a_dive, a_watch, gaskets, its_seals

FIRST, LAST = date(2024, 1, 1), date(2024, 12, 31)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    """Two watches; the second one's water must never be among the first's."""
    key = watches.add(store, a_watch(), its_seals(), [], practice)
    other = watches.add(store, a_watch("Other"), its_seals(), [], practice)
    exposures.add(store, [a_dive(other, date(2024, 5, 1), duration_s=36_000)], practice)
    return key


def test_each_day_has_its_count_its_minutes_and_its_cost(
    store: Store, practice: Practice, watch_id: int
) -> None:
    days = [date(2024, 5, 1), date(2024, 5, 1), date(2024, 7, 9)]
    rinsed = [True, False, True]
    made = [a_dive(watch_id, on, rinsed=r) for on, r in zip(days, rinsed, strict=True)]
    exposures.add(store, made, practice)
    found = read_wet_days(store.rows, watch_id, FIRST, LAST, "crown")
    assert [(day.on, day.count, day.duration_s) for day in found] == [
        (days[0], 2, 4560), (days[2], 1, 2280),
    ]  # fmt: skip
    crown = next(
        s.id or 0
        for s in glance.read_records(store.rows, watch_id=watch_id)[0].seals
        if s.position == "crown"
    )
    by_day: dict[date, float] = defaultdict(float)
    for exposure in glance.read_exposures(store.rows, watch_id=watch_id):
        by_day[exposure.starts_on] += charged.ledger_of(store.rows, exposure.id or 0)[crown].total
    assert {day.on: day.share for day in found} == pytest.approx(by_day)


def test_the_cost_is_that_to_whichever_seal_was_in_the_place(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id, date(2024, month, 1)) for month in (3, 9)], practice)
    events.add(store, [gaskets(watch_id, date(2024, 6, 1), ("crown", "FKM"))], practice)
    before, after = read_wet_days(store.rows, watch_id, FIRST, LAST, "crown")
    seals = [s for s in glance.read_records(store.rows, watch_id=watch_id)[0].seals if s.position == "crown"]
    dives = glance.read_exposures(store.rows, watch_id=watch_id)
    costs = [charged.ledger_of(store.rows, dive.id or 0) for dive in dives]
    assert len(seals) == 2
    for day, seal, cost in zip((before, after), seals, costs, strict=True):
        assert day.share == pytest.approx(cost[seal.id or 0].total)
        assert day.share > 0


def test_both_ends_count_and_plans_do_not(store: Store, practice: Practice, watch_id: int) -> None:
    made = [a_dive(watch_id, FIRST + timedelta(days=n)) for n in range(5)]
    made.append(a_dive(watch_id, FIRST + timedelta(days=2), planned=True))
    exposures.add(store, made, practice)
    found = read_wet_days(store.rows, watch_id, FIRST + timedelta(days=1), FIRST + timedelta(days=3), "crown")
    assert [(day.on.day, day.count) for day in found] == [(2, 1), (3, 1), (4, 1)]


def test_water_from_before_the_record_began_counts_and_cost_nothing(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id, date(2023, 8, 1))], practice)
    (day,) = read_wet_days(store.rows, watch_id, date(2023, 1, 1), date(2023, 12, 31), "crown")
    assert (day.count, day.share) == (1, 0.0)


def test_without_a_place_there_is_no_cost(store: Store, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [a_dive(watch_id, date(2024, 5, 1))], practice)
    assert [day.share for day in read_wet_days(store.rows, watch_id, FIRST, LAST)] == [0.0]


def test_hot_air_is_no_water_but_is_counted_as_what_it_is(
    store: Store, practice: Practice, watch_id: int
) -> None:
    hot = {
        "activity": "sauna", "water": "air", "depth_m": 0.0, "gauge_pa": 0.0, "water_c": 80.0,
        "basis": "true", "salinity": None,
    }  # fmt: skip
    days = [date(2024, 5, 1), date(2024, 5, 2)]
    exposures.add(store, [a_dive(watch_id, on, **hot) for on in days], practice)
    exposures.add(store, [a_dive(watch_id, days[0])], practice)
    (record,) = glance.read_records(store.rows, watch_id=watch_id)
    year = read_year(store.rows, record, 2024, "crown", practice, LAST)
    assert [(day.on, day.count, day.duration_s) for day in year.days] == [(days[0], 1, 2280)]
    assert year.heat_days == 2


def test_a_year_ends_today(store: Store, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [a_dive(watch_id, date(2024, 5, day)) for day in (1, 2, 3)], practice)
    (record,) = glance.read_records(store.rows, watch_id=watch_id)
    year = read_year(store.rows, record, 2024, "crown", practice, date(2024, 5, 2))
    assert [day.on.day for day in year.days] == [1, 2]
