"""Putting watches into the record and changing what is known of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from logbook.errors import BadInput, NotFound
from logbook.model.practice import Practice
from logbook.model.values import Seal
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.writing import events, exposures, watches
from tests.record.making import ADDED, a_dive, a_test, a_watch, gaskets, its_seals, record_of


def test_a_watch_brings_its_seals_and_its_past(store: Store, practice: Practice) -> None:
    past = [a_test(None, ADDED), gaskets(0, date(2024, 3, 1), ("crown", "FKM"))]
    watch_id = watches.add(store, a_watch(), its_seals(), past, practice)
    record = record_of(store, watch_id)
    assert [event.kind for event in record.events] == ["pressure-test", "gaskets"]
    assert {event.watch_id for event in record.events} == {watch_id}
    assert [(s.position, s.material, s.event_id is not None) for s in record.seals] == [
        ("case-back", "NBR", False), ("crystal", "NBR", False), ("crown", "NBR", False),
        ("crown", "FKM", True),
    ]  # fmt: skip


def test_a_watch_that_cannot_be_added_leaves_nothing_behind(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    with pytest.raises(BadInput):
        watches.add(store, a_watch("BLUE BEZEL"), its_seals(), [a_test(None, ADDED)], practice)
    counts = [store.rows(f"SELECT COUNT(*) FROM {t}")[0][0] for t in ("watch", "seal", "event", "action")]
    assert counts == [1, 3, 0, 1]


def test_an_edit_replaces_the_whole_description(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(intervals_months={"battery": 24}), its_seals(), [], practice)
    edited = a_watch(
        "Lido quartz", movement="quartz", intervals_months={"strap": 12}, group="Sundays", id=watch_id
    )
    watches.edit(store, edited, practice)
    assert record_of(store, watch_id).watch == edited


def test_an_edit_may_change_the_capitals_of_a_name(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch("blue bezel"), [], [], practice)
    watches.edit(store, a_watch("Blue Bezel", id=watch_id), practice)
    assert record_of(store, watch_id).watch.name == "Blue Bezel"


def test_an_edit_to_the_name_of_another_watch_is_refused(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch("Blue bezel"), [], [], practice)
    other = watches.add(store, a_watch("Sunday dress"), [], [], practice)
    watches.retire(store, 1, ADDED)
    with pytest.raises(BadInput, match=r"already a watch called Blue bezel \(retired\)"):
        watches.edit(store, a_watch("blue bezel", id=other), practice)


def test_a_lower_mark_makes_earlier_dives_cost_more(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    (dive,) = exposures.add(store, [a_dive(watch_id)], practice)
    before = charged.ledger_of(store.rows, dive)
    watches.edit(store, a_watch(marked_pa=10e5, id=watch_id), practice)
    after = charged.ledger_of(store.rows, dive)
    assert all(after[seal].pressure == pytest.approx(4 * before[seal].pressure) for seal in before)


def test_a_retired_watch_leaves_the_shelf_and_can_come_back(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    watches.retire(store, watch_id, date(2024, 9, 1))
    assert glance.read_records(store.rows) == []
    assert record_of(store, watch_id).watch.retired_on == date(2024, 9, 1)
    watches.unretire(store, watch_id)
    assert [r.watch.name for r in glance.read_records(store.rows)] == ["Blue bezel"]


def test_a_seal_is_corrected_and_the_ledger_follows(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    (dive,) = exposures.add(store, [a_dive(watch_id, on=date(2024, 5, 1))], practice)
    crown = record_of(store, watch_id).seals[2]
    fitted = date(2024, 6, 1)
    watches.set_seals(
        store,
        watch_id,
        [replace(crown, material="FKM", fitted_earliest=fitted, fitted_latest=fitted)],
        practice,
    )
    assert record_of(store, watch_id).seals[-1].material == "FKM"
    assert crown.id not in charged.ledger_of(store.rows, dive)


def test_a_forgotten_seal_is_added(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(pushers=True), its_seals(), [], practice)
    (dive,) = exposures.add(store, [a_dive(watch_id)], practice)
    (seal_id,) = watches.set_seals(store, watch_id, [Seal("pushers", "NBR", ADDED, ADDED)], practice)
    assert seal_id in charged.ledger_of(store.rows, dive)


def test_the_date_of_a_seal_from_an_event_is_corrected_there(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    (entry,) = events.add(store, [gaskets(watch_id, date(2024, 6, 1), ("crown", "FKM"))], practice)
    seal = record_of(store, watch_id).seals[-1]
    watches.set_seals(store, watch_id, [replace(seal, material="VMQ")], practice)
    assert glance.read_event(store.rows, entry).seals == (("crown", "VMQ"),)
    with pytest.raises(BadInput, match=f"fitted on 2024-06-01 in entry {entry}; amend that entry's date"):
        watches.set_seals(
            store, watch_id, [replace(seal, fitted_earliest=ADDED, fitted_latest=ADDED)], practice
        )


def test_a_watch_or_seal_that_is_not_there_is_said(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    other = watches.add(store, a_watch("Sunday dress"), its_seals(), [], practice)
    with pytest.raises(NotFound, match="There is no watch 9"):
        watches.edit(store, a_watch(id=9), practice)
    with pytest.raises(NotFound, match="There is no watch 9"):
        watches.retire(store, 9, ADDED)
    foreign = record_of(store, other).seals[0]
    with pytest.raises(NotFound, match=f"There is no seal {foreign.id} on this watch"):
        watches.set_seals(store, watch_id, [foreign], practice)
