"""Workshop events and faults; gaskets bring seals and take them away again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import Event, Shares
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.writing import events, exposures, undo, watches
from logbook.record.writing.strike import strike
from tests.record.making import ADDED, a_dive, a_test, a_watch, books, content, gaskets, its_seals, record_of

BEFORE, FITTED, AFTER = date(2024, 5, 1), date(2024, 6, 1), date(2024, 7, 1)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(), its_seals(), [], practice)


def totals_by_place(store: Store, watch_id: int) -> dict[tuple[str, int | None], Shares]:
    record = record_of(store, watch_id)
    return {(seal.position, seal.event_id): record.totals[seal.id or 0] for seal in record.seals}


def test_a_replaced_seal_starts_again_at_zero(store: Store, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [a_dive(watch_id, BEFORE)], practice)
    (entry,) = events.add(store, [gaskets(watch_id, FITTED, ("crown", "FKM"))], practice)
    assert totals_by_place(store, watch_id)["crown", entry] == Shares()
    assert totals_by_place(store, watch_id)["crown", None] != Shares()


def test_gaskets_logged_late_take_over_what_came_after_them(
    store: Store, practice: Practice, watch_id: int
) -> None:
    before, after = exposures.add(store, [a_dive(watch_id, BEFORE), a_dive(watch_id, AFTER)], practice)
    (entry,) = events.add(store, [gaskets(watch_id, FITTED, ("crown", "NBR"))], practice)
    old, new = (s.id for s in record_of(store, watch_id).seals if s.position == "crown")
    assert old in charged.ledger_of(store.rows, before)
    assert new not in charged.ledger_of(store.rows, before)
    assert new in charged.ledger_of(store.rows, after)
    assert old not in charged.ledger_of(store.rows, after)
    assert totals_by_place(store, watch_id)["crown", entry] == charged.ledger_of(store.rows, after)[new]


def test_an_amended_event_takes_its_seals_along(store: Store, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [a_dive(watch_id, FITTED)], practice)
    event = gaskets(watch_id, FITTED, ("crown", "FKM"), ("crystal", "NBR"))
    (entry,) = events.add(store, [event], practice)
    crown = next(s for s in record_of(store, watch_id).seals if s.event_id and s.position == "crown")
    amended = replace(event, id=entry, on=AFTER, order=55, seals=(("crown", "VMQ"), ("case-back", "NBR")))
    events.amend(store, amended, practice)
    assert glance.read_event(store.rows, entry).on == AFTER
    seals = {s.position: s for s in record_of(store, watch_id).seals if s.event_id == entry}
    assert set(seals) == {"crown", "case-back"}
    assert seals["crown"] == replace(
        crown, material="VMQ", fitted_earliest=AFTER, fitted_latest=AFTER, order=55
    )
    assert totals_by_place(store, watch_id)["crown", entry] == Shares()


def test_a_struck_event_takes_its_seals_away(store: Store, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [a_dive(watch_id, AFTER)], practice)
    before = content(store), books(store)
    (entry,) = events.add(store, [gaskets(watch_id, FITTED, ("crown", "FKM"))], practice)
    assert (content(store), books(store)) != before
    assert strike(store, entry, practice) == "event"
    assert (content(store), books(store)) == before


def test_events_are_read_oldest_first_by_date_and_order(
    store: Store, practice: Practice, watch_id: int
) -> None:
    given = [
        Event("fog", FITTED, 60, watch_id=watch_id), a_test(watch_id, FITTED),
        Event("battery", FITTED, 10, watch_id=watch_id), Event("strap", BEFORE, 10, watch_id=watch_id),
    ]  # fmt: skip
    assert events.add(store, given, practice) == [1, 2, 3, 4]
    assert [e.kind for e in record_of(store, watch_id).events] == ["strap", "battery", "pressure-test", "fog"]
    assert undo.recent(store)[0] == "log 4 events"


def test_an_event_for_several_watches_is_one_step(store: Store, practice: Practice, watch_id: int) -> None:
    other = watches.add(store, a_watch("Sunday dress"), its_seals(), [], practice)
    both = [replace(a_test(watch_id, FITTED)), a_test(other, FITTED)]
    events.add(store, both, practice, label="tests at the workshop")
    assert undo.undo(store, practice) == "tests at the workshop"
    assert store.rows("SELECT COUNT(*) FROM event") == [(0,)]


def test_what_is_not_there_is_said(store: Store, practice: Practice, watch_id: int) -> None:
    with pytest.raises(NotFound, match="There is no watch 8"):
        events.add(store, [a_test(8, ADDED)], practice)
    with pytest.raises(NotFound, match="There is no event 77"):
        events.amend(store, replace(a_test(watch_id, ADDED), id=77), practice)
