"""Undo brings back the exact earlier content, redo the exact later one, step by step and through batches."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from logbook.errors import BadInput
from logbook.model.practice import Practice
from logbook.model.values import Habit, HomeWater, ProfilePoint, Seal, Settings, WornStretch
from logbook.record.file.store import Store
from logbook.record.ledger import ledger
from logbook.record.writing import events, exposures, habits, settings, snoozes, undo, watches
from logbook.record.writing.strike import strike
from tests.record.making import ADDED, a_dive, a_test, a_watch, books, content, gaskets, its_seals, record_of

LATER = date(2024, 6, 1)
PROFILE = (ProfilePoint(0, 0), ProfilePoint(60, 21, 17.0))
Step = Callable[[Store, Practice], object]


def _crown(store: Store) -> Seal:
    return next(seal for seal in record_of(store, 1).seals if seal.position == "crown")


NEW = a_watch(intervals_months={"strap": 9})


# One of everything that writes, in an order in which each can be done.
STEPS: list[Step] = [
    lambda s, p: watches.add(s, NEW, its_seals(), [a_test(None, ADDED)], p),
    lambda s, p: exposures.add(s, [a_dive(1, profile=PROFILE)], p),
    lambda s, p: exposures.add(s, [a_dive(1, on=date(2024, 5, d)) for d in range(1, 20)], p),
    lambda s, p: exposures.amend(s, a_dive(1, on=LATER, profile=PROFILE[:1], id=2), p),
    lambda s, p: exposures.add(s, [a_dive(1, on=LATER, planned=True)], p),
    lambda s, p: exposures.confirm_plan(s, 22, a_dive(1, on=LATER, duration_s=60), p),
    lambda s, p: events.add(s, [gaskets(1, LATER, ("crown", "FKM"), ("crystal", "NBR"))], p),
    lambda s, p: events.amend(s, gaskets(1, date(2024, 5, 5), ("crown", "VMQ"), id=23), p),
    lambda s, p: watches.set_seals(s, 1, [replace(_crown(s), material="HNBR")], p),
    lambda s, p: habits.add_habit(s, Habit(a_dive(), 0.5, ADDED, None, 1), p),
    lambda s, p: habits.amend_habit(s, Habit(a_dive(), 0.25, LATER, None, 1, 24), p),
    lambda s, p: habits.wore(s, [1], date(2024, 5, 3), p),
    lambda s, p: habits.amend_stretch(s, WornStretch(ADDED, LATER, 3.0, 1, 25), p),
    lambda s, p: habits.confirm(s, [1], LATER),
    lambda s, p: settings.write(s, Settings(HomeWater(38.0, monthly_c=(15.0,) * 12))),
    lambda s, p: settings.write(s, Settings()),
    lambda s, p: snoozes.snooze(s, "1:strap:2024-01-01", LATER),
    lambda s, p: snoozes.snooze(s, "1:strap:2024-01-01", ADDED),
    lambda s, p: watches.edit(s, a_watch("Other", marked_pa=5e5, recorded_from=date(2024, 5, 4), id=1), p),
    lambda s, p: watches.retire(s, 1, LATER),
    lambda s, p: watches.unretire(s, 1),
    lambda s, p: strike(s, 23, p),
    lambda s, p: strike(s, 2, p),
    lambda s, p: strike(s, 24, p),
]  # fmt: skip


def test_every_step_is_undone_to_the_exact_earlier_record_and_redone(
    store: Store, practice: Practice
) -> None:
    states = [(content(store), books(store))]
    for number, step in enumerate(STEPS):
        step(store, practice)
        states.append((content(store), books(store)))
        assert states[-1][0] != states[-2][0], f"step {number} changed nothing"
    labels = undo.recent(store, 100)
    assert len(labels) == len(STEPS)
    ledger.is_stale(store.rows, practice)
    for earlier, label in zip(states[-2::-1], labels, strict=True):
        assert undo.undo(store, practice) == label
        assert (content(store), books(store)) == earlier
    assert undo.recent(store) == []
    for later, label in zip(states[1:], labels[::-1], strict=True):
        assert undo.redo(store, practice) == label
        assert (content(store), books(store)) == later


def test_with_nothing_done_there_is_nothing_to_undo_or_redo(store: Store, practice: Practice) -> None:
    with pytest.raises(BadInput, match=r"^There is nothing to undo\.$"):
        undo.undo(store, practice)
    with pytest.raises(BadInput, match=r"^There is nothing to redo\.$"):
        undo.redo(store, practice)


def test_a_new_action_ends_what_could_be_redone(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(1)], practice)
    undo.undo(store, practice)
    exposures.add(store, [a_dive(1, on=LATER)], practice)
    with pytest.raises(BadInput, match="nothing to redo"):
        undo.redo(store, practice)
    assert store.rows("SELECT id FROM action") == [(1,), (3,)]
    assert store.rows("SELECT COUNT(*) FROM change WHERE action_id NOT IN (SELECT id FROM action)") == [(0,)]


def test_an_action_that_changes_nothing_keeps_what_could_be_redone(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(1)], practice)
    undo.undo(store, practice)
    watches.edit(store, a_watch(id=1), practice)
    assert undo.redo(store, practice) == "log dive of 1 May 2024 for Blue bezel"


def test_an_action_that_fails_leaves_no_step(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    with pytest.raises(BadInput):
        exposures.add(store, [a_dive(1, dips=0)], practice)
    assert undo.recent(store) == ["add Blue bezel"]


def test_a_large_import_is_undone_and_redone_whole(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    before = content(store), books(store)
    dives = [
        a_dive(1, on=date(2024, 1 + n % 12, 1 + n % 28), profile=PROFILE, note=str(n)) for n in range(1200)
    ]
    exposures.add(store, dives, practice, label="import dives")
    after = content(store), books(store)
    assert undo.undo(store, practice) == "import dives"
    assert (content(store), books(store)) == before
    undo.redo(store, practice)
    assert (content(store), books(store)) == after


def test_undo_reckons_with_the_constants_in_force_now(
    store: Store, practice: Practice, other_practice: Practice
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(1)], practice)
    strike(store, 1, practice)
    undo.undo(store, other_practice)
    kept = books(store)
    ledger.refresh_all(store, other_practice)
    assert books(store) == kept
    ledger.refresh_all(store, practice)
    assert books(store) != kept
