"""A file that left this record before something was changed: what it holds does not come in beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from logbook.model.practice import Practice
from logbook.model.values import Habit, WornStretch
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, habits, undo, watches
from logbook.record.writing.merge import Merged, bring_in
from logbook.record.writing.strike import strike
from tests.record.making import ADDED, a_dive, a_test, a_watch, content, gaskets, its_seals
from tests.record.writing.test_merge import filed

ON, NEXT = date(2024, 5, 2), date(2024, 5, 3)
Amend = Callable[[Store, Practice], Any]


@pytest.fixture
def file(store: Store, practice: Practice) -> RecordFile:
    """What the record held: two dives, an event of each sort, a habit, a worn stretch."""
    id_ = watches.add(store, a_watch(), its_seals(), [a_test(None, ADDED)], practice)
    exposures.add(store, [a_dive(id_, ON), a_dive(id_, NEXT, depth_m=18.0)], practice)
    events.add(store, [gaskets(id_, ON, ("crown", "FKM"))], practice)
    habits.add_habit(store, Habit(a_dive(id_, ADDED), 0.5, ADDED, watch_id=id_), practice)
    habits.add_stretches(store, [WornStretch(ADDED, ON, 3.0, id_)], practice)
    return filed(store)


def first_dive(store: Store, practice: Practice, **changes: Any) -> None:
    exposures.amend(store, replace(glance.read_exposures(store.rows)[0], **changes), practice)


def shelved(store: Store) -> Any:
    return glance.read_records(store.rows)[0]


def end_habit(store: Store, practice: Practice) -> None:
    habits.amend_habit(store, replace(shelved(store).habits[0], to_on=ON), practice)


def shorten_stretch(store: Store, practice: Practice) -> None:
    habits.amend_stretch(store, replace(shelved(store).stretches[0], to_on=ADDED), practice)


def other_gaskets(store: Store, practice: Practice) -> None:
    brought = next(e for e in shelved(store).events if e.kind == "gaskets")
    events.amend(store, replace(brought, seals=(("crown", "VMQ"), ("crystal", "VMQ"))), practice)


def failed_test(store: Store, practice: Practice) -> None:
    test = next(e for e in shelved(store).events if e.kind == "pressure-test")
    events.amend(store, replace(test, passed=False, on=ON), practice)


AMENDED: dict[str, Amend] = {
    "its length": lambda store, practice: first_dive(store, practice, duration_s=3000),
    "its day": lambda store, practice: first_dive(store, practice, starts_on=date(2024, 5, 9)),
    "everything": lambda store, practice: first_dive(
        store, practice, activity="pool", water="pool", depth_m=2.0, starts_on=ADDED, duration_s=60
    ),
    "the end of a habit": end_habit,
    "a worn stretch": shorten_stretch,
    "the gaskets of an event": other_gaskets,
    "a test": failed_test,
}


@pytest.mark.parametrize("amend", AMENDED.values(), ids=AMENDED)
def test_what_was_amended_here_stays_as_it_is_here(
    store: Store, practice: Practice, file: RecordFile, amend: Amend
) -> None:
    amend(store, practice)
    before = content(store)
    assert bring_in(store, file, practice) == Merged(already=5, amended=1, watches_here=1)
    assert content(store) == before


def test_what_was_amended_and_taken_back_is_the_same_entry_in_both_states(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    first_dive(store, practice, duration_s=3000)
    longer = filed(store)
    undo.undo(store, practice)
    assert bring_in(store, longer, practice) == Merged(already=5, amended=1, watches_here=1)


def test_what_was_struck_here_comes_in_again(store: Store, practice: Practice, file: RecordFile) -> None:
    strike(store, file.exposures[0].id or 0, practice)
    assert bring_in(store, file, practice) == Merged(exposures=1, already=5, watches_here=1)


def test_another_entry_of_the_same_id_watch_day_and_activity_comes_in(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    """Of two machines that went on from one record, each with a dive of its own on the next id."""
    other = replace(file.exposures[0], duration_s=3000, depth_m=20.0)
    assert bring_in(store, replace(file, exposures=(other,)), practice).exposures == 1
    timed = replace(other, starts_at=time(16, 0), utc_offset_s=0)
    assert bring_in(store, replace(file, exposures=(timed,)), practice).exposures == 1


def test_an_entry_of_the_same_id_and_start_is_the_same_though_amended_elsewhere(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    (id_,) = exposures.add(store, [a_dive(1, ON, starts_at=time(9, 30), utc_offset_s=0)], practice)
    longer = next(e for e in filed(store).exposures if e.id == id_)
    longer = replace(longer, duration_s=3000)
    assert bring_in(store, replace(file, exposures=(longer,)), practice).amended == 1
    assert bring_in(store, replace(file, exposures=(replace(longer, id=77),)), practice).exposures == 1


def test_an_ended_habit_is_the_open_one_of_a_file_whatever_its_id(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    end_habit(store, practice)
    (habit,) = file.habits
    told = replace(file, habits=(replace(habit, id=70), replace(habit, id=71, per_day=2.0)))
    merged = bring_in(store, told, practice)
    assert (merged.amended, merged.habits) == (1, 1)
    assert sorted((h.per_day, h.to_on is None) for h in shelved(store).habits) == [(0.5, False), (2.0, True)]


def rename(store: Store, practice: Practice, **changes: Any) -> None:
    watches.edit(store, replace(shelved(store).watch, name="Azure", **changes), practice)


def test_a_watch_that_was_renamed_here_keeps_its_name_and_comes_in_once(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    rename(store, practice, marked_pa=30e5)
    merged = bring_in(store, file, practice)
    assert merged == Merged(already=6, renamed=1)
    (found,) = merged.shelf
    assert (found.name, found.here, found.renamed) == ("Blue bezel", "Azure", True)
    more = replace(file, exposures=(*file.exposures, a_dive(1, date(2024, 5, 20), id=90)))
    merged = bring_in(store, more, practice)
    assert (merged, merged.shelf[0].exposures) == (Merged(exposures=1, already=6, renamed=1), 1)


def test_a_watch_renamed_on_another_machine_is_known_by_what_it_shares(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    elsewhere = FiledWatch(replace(file.watches[0].watch, name="Reef"), file.watches[0].seals)
    assert bring_in(store, replace(file, watches=(elsewhere,)), practice) == Merged(already=6, renamed=1)


@pytest.mark.parametrize(
    "changes", [{"added_on": ON}, {"mark": "water-resistant"}, {"marked_pa": 10e5}, {"id": 2}]
)
def test_another_watch_of_the_same_id_comes_in(
    store: Store, practice: Practice, file: RecordFile, changes: dict[str, Any]
) -> None:
    other = replace(file.watches[0].watch, **({"name": "Reef"} | changes))
    id_ = other.id
    told = RecordFile(
        "theirs.json", (FiledWatch(other),), exposures=tuple(replace(e, watch_id=id_) for e in file.exposures)
    )
    merged = bring_in(store, told, practice)
    assert (merged.watches, merged.exposures, merged.renamed) == (1, 2, 0)


def test_a_watch_of_the_same_id_that_shares_nothing_comes_in(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    other = replace(file.watches[0].watch, name="Reef")
    told = RecordFile("theirs.json", (FiledWatch(other),), exposures=(a_dive(1, date(2024, 6, 1), id=1),))
    assert bring_in(store, told, practice) == Merged(watches=1, exposures=1)


def test_a_renamed_watch_is_known_though_another_has_its_old_name_now(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    rename(store, practice)
    watches.add(store, a_watch(), its_seals(), [], practice)
    assert bring_in(store, file, practice) == Merged(already=6, renamed=1)


def test_a_nickname_that_is_here_goes_before_what_two_watches_share(
    store: Store, practice: Practice, file: RecordFile
) -> None:
    watches.add(store, a_watch("Reef"), its_seals(), [], practice)
    theirs = FiledWatch(replace(file.watches[0].watch, name="Reef"))
    merged = bring_in(store, replace(file, watches=(theirs,), events=()), practice)
    assert (merged.watches_here, merged.renamed, merged.exposures) == (1, 0, 2)
