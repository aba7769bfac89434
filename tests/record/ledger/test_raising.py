"""What exposures raised is kept with the ledger, and always as working it out from nothing would give it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model import values as v
from logbook.model.judge import history
from logbook.model.practice import Practice, parse
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.file.store import Store
from logbook.record.ledger import ledger, raising
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, habits, merge, undo, watches
from logbook.record.writing.strike import strike
from tests.effort import tries
from tests.record import making
from tests.record.making import ADDED, a_copy_of, a_dive, a_test, a_watch, gaskets, its_seals, record_of

DAY = date(2024, 5, 1)


def day(n: int) -> date:
    return DAY + timedelta(days=n)


def kept(store: Store) -> list[tuple[int, str]]:
    """The rows of what exposures raised, as kept."""
    return sorted((id_, code) for id_, code in store.rows("SELECT exposure_id, code FROM raised"))


def anew(store: Store, practice: Practice) -> list[tuple[int, str]]:
    """The same worked out from nothing, as the table of candidates has it."""
    with store.reading() as rows:
        records = glance.read_records(rows, retired=True)
        return sorted(row for record in records for row in raising.raised_rows(rows, record, practice))


def of_every_exposure(store: Store, practice: Practice) -> list[tuple[int, str]]:
    """The same from every exposure on record, none left out beforehand."""
    found = []
    with store.reading() as rows:
        for record in glance.read_records(rows, retired=True):
            logged = glance.read_exposures(rows, watch_id=record.watch.id, planned=False)
            found += history.raised_by_exposures(record, logged, practice)
    return sorted((each.exposure.id or 0, each.code) for each in found)


def is_right(store: Store, practice: Practice) -> bool:
    return kept(store) == anew(store, practice) == of_every_exposure(store, practice)


def deep(watch_id: int, on: date = DAY, depth_m: float = 60.0, **more: Any) -> v.Exposure:
    """A dive to 60 m: 6 bar, within a diver's mark of 20."""
    return a_dive(watch_id, on, depth_m=depth_m, gauge_pa=depth_m * 1e4, **more)


def worked(watch_id: int, on: date = DAY, **more: Any) -> v.Exposure:
    """A dive in which the crown was used."""
    return a_dive(watch_id, on, crown_under=1, **more)


def a_pass(watch_id: int | None, on: date, bar: float = 5) -> v.Event:
    return replace(a_test(watch_id, on), test_pa=bar * 1e5)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    """A diver's watch of 20 bar, bought second-hand and tested to 5 bar."""
    return watches.add(store, a_watch(new_on=None), its_seals(), [a_pass(None, ADDED)], practice)


# ---------------------------------------------------------------- exposures


def test_a_logged_exposure_that_raises_something_is_kept_and_read_with_its_watch(
    store: Store, practice: Practice, watch_id: int
) -> None:
    _, first = exposures.add(store, [a_dive(watch_id, day(-1)), deep(watch_id)], practice)
    (second,) = exposures.add(store, [worked(watch_id, day(2))], practice)
    assert kept(store) == [(first, "beyond-proof"), (second, "overstressed")]
    assert is_right(store, practice)
    assert [(r.code, r.exposure.id, r.exposure.starts_on) for r in record_of(store, watch_id).raised] == [
        ("beyond-proof", first, DAY),
        ("overstressed", second, day(2)),
    ]


def test_a_planned_exposure_raises_nothing_until_it_is_confirmed(
    store: Store, practice: Practice, watch_id: int
) -> None:
    (plan,) = exposures.add(store, [worked(watch_id, planned=True)], practice)
    assert kept(store) == []
    exposures.confirm_plan(store, plan, worked(watch_id), practice)
    assert kept(store) == [(plan, "overstressed")]
    assert is_right(store, practice)


def test_one_logged_later_for_an_earlier_day_takes_the_place_of_the_first(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [worked(watch_id, day(5))], practice)
    (early,) = exposures.add(store, [worked(watch_id, day(1))], practice)
    assert kept(store) == [(early, "overstressed")]
    assert is_right(store, practice)


def test_of_one_day_the_earlier_hour_is_the_first(store: Store, practice: Practice, watch_id: int) -> None:
    evening, morning = (worked(watch_id, starts_at=time(h), utc_offset_s=0) for h in (18, 8))
    _, first = exposures.add(store, [evening, morning], practice)
    assert kept(store) == [(first, "overstressed")]
    assert is_right(store, practice)


def test_amending_an_exposure_raises_it_anew_or_no_more(
    store: Store, practice: Practice, watch_id: int
) -> None:
    first, second = exposures.add(store, [worked(watch_id), worked(watch_id, day(3))], practice)
    exposures.amend(store, a_dive(watch_id, id=first), practice)
    assert kept(store) == [(second, "overstressed")]
    exposures.amend(store, deep(watch_id, day(9), id=second), practice)
    assert kept(store) == [(second, "beyond-proof")]
    exposures.amend(store, a_dive(watch_id, id=second, depth_m=21.0), practice)
    assert kept(store) == []
    assert is_right(store, practice)


def test_an_exposure_that_moves_to_another_watch_takes_with_it_what_it_raised(
    store: Store, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Sunday dress", new_on=None), its_seals(), [], practice)
    first, second = exposures.add(store, [worked(watch_id), worked(watch_id, day(3))], practice)
    exposures.amend(store, worked(other, id=first), practice)
    assert kept(store) == [(first, "overstressed"), (second, "overstressed")]
    assert is_right(store, practice)


def test_striking_what_raised_something_leaves_the_next_to_stand(
    store: Store, practice: Practice, watch_id: int
) -> None:
    first, second = exposures.add(store, [worked(watch_id), worked(watch_id, day(3))], practice)
    strike(store, first, practice)
    assert kept(store) == [(second, "overstressed")]
    strike(store, second, practice)
    assert kept(store) == []
    assert is_right(store, practice)


def test_undo_and_redo_take_it_back_and_bring_it_again(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [worked(watch_id), deep(watch_id, day(1))], practice)
    events.add(store, [a_pass(watch_id, day(2), 25)], practice)
    exposures.add(store, [worked(watch_id, day(3))], practice)
    states = [kept(store)]
    for _ in range(3):
        undo.undo(store, practice)
        states.append(kept(store))
        assert is_right(store, practice)
    assert states[-1] == []
    for before in reversed(states[:-1]):
        undo.redo(store, practice)
        assert kept(store) == before
        assert is_right(store, practice)


def test_an_import_of_many_exposures_is_gone_through_once(
    store: Store, practice: Practice, watch_id: int
) -> None:
    many = [a_dive(watch_id, day(n % 200)) for n in range(3 * raising._FEW)]
    ids = exposures.add(store, [*many, worked(watch_id, day(7)), deep(watch_id, day(8))], practice)
    assert kept(store) == [(ids[-2], "overstressed"), (ids[-1], "beyond-proof")]
    assert is_right(store, practice)


def test_what_a_record_from_a_file_brings_is_raised_too(store: Store, practice: Practice) -> None:
    filed = a_watch("From a file", new_on=None, id=2)
    file = RecordFile(
        "other.json",
        watches=(FiledWatch(filed, tuple(its_seals())),),
        exposures=(replace(worked(2), id=10), replace(a_dive(2, day(1)), id=11)),
        events=(replace(a_pass(2, ADDED), id=20),),
        whole=False,
    )
    merge.bring_in(store, file, practice)
    assert [code for _, code in kept(store)] == ["overstressed"]
    assert is_right(store, practice)


# ---------------------------------------------------------------- what is about the watch

Change = Callable[[Store, int, Practice], object]
BOTH = ["beyond-proof", "overstressed"]


def edited(**changes: Any) -> Change:
    """The watch described otherwise, bought second-hand as before."""
    return lambda s, w, p: watches.edit(s, a_watch(**({"new_on": None, "id": w} | changes)), p)


def told(event: Callable[[int], v.Event]) -> Change:
    """An event added to the watch."""
    return lambda s, w, p: events.add(s, [event(w)], p)


# From one dive to 60 m on DAY and one with the crown used five days later, tested to 5 bar before.
CHANGES: dict[str, tuple[Change, list[str]]] = {
    "a pass between them": (told(lambda w: a_pass(w, day(2))), BOTH),
    "a pass before them that reached": (told(lambda w: a_pass(w, day(-9), 10)), ["overstressed"]),
    "an opening": (told(lambda w: v.Event("battery", day(1), 10, watch_id=w)), BOTH),
    "new gaskets": (told(lambda w: gaskets(w, day(-3), ("crown", "FKM"))), BOTH),
    "the test struck": (lambda s, w, p: strike(s, record_of(s, w).events[0].id or 0, p), ["overstressed"]),
    "the test amended": (
        lambda s, w, p: events.amend(s, replace(record_of(s, w).events[0], test_pa=7e5), p),
        ["overstressed"],
    ),
    "another mark": (edited(mark="water-resistant", marked_pa=3e5), BOTH),
    "a mark that is not known": (edited(mark="unknown", marked_pa=None), BOTH),
    "bought new after all": (edited(new_on=ADDED), ["overstressed"]),
    "another use": (edited(use="dry"), BOTH),
    "an interval of its own": (edited(intervals_months={"pressure-test": 3}), BOTH),
    "another name": (edited(name="Other"), BOTH),
    "a habit": (lambda s, w, p: habits.add_habit(s, v.Habit(worked(w), 1.0, day(-20), None, w), p), BOTH),
    "a worn stretch": (
        lambda s, w, p: habits.add_stretches(s, [v.WornStretch(DAY, day(9), 0.0, w)], p),
        BOTH,
    ),
    "a seal by hand": (
        lambda s, w, p: watches.set_seals(s, w, [v.Seal("pushers", "NBR", ADDED, day(2))], p),
        BOTH,
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_whatever_bears_on_what_is_raised_renews_it(
    store: Store, practice: Practice, watch_id: int, change: str
) -> None:
    exposures.add(store, [deep(watch_id), worked(watch_id, day(5))], practice)
    assert [code for _, code in kept(store)] == ["beyond-proof", "overstressed"]
    apply, codes = CHANGES[change]
    apply(store, watch_id, practice)
    assert [code for _, code in kept(store)] == codes
    assert is_right(store, practice)
    undo.undo(store, practice)
    assert [code for _, code in kept(store)] == ["beyond-proof", "overstressed"]
    assert is_right(store, practice)


def test_a_lower_mark_overstresses_what_was_within_the_old_one(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id)], practice)  # 21 m
    assert kept(store) == []
    watches.edit(store, a_watch(new_on=None, marked_pa=2e5, id=watch_id), practice)
    assert [code for _, code in kept(store)] == ["overstressed"]
    assert is_right(store, practice)
    watches.edit(store, a_watch(new_on=None, marked_pa=20e5, id=watch_id), practice)
    watches.edit(store, a_watch(new_on=None, mark="water-resistant", id=watch_id), practice)
    assert [code for _, code in kept(store)] == ["beyond-proof"]  # no mark for a dive
    assert is_right(store, practice)


def test_pushers_that_their_maker_allows_in_water_overstress_nothing(
    store: Store, practice: Practice
) -> None:
    described = a_watch(new_on=None, pushers=True)
    key = watches.add(store, described, its_seals(), [], practice)
    exposures.add(store, [a_dive(key, pusher_under=2)], practice)
    assert [code for _, code in kept(store)] == ["overstressed"]
    watches.edit(store, replace(described, pushers_wet=True, id=key), practice)
    assert kept(store) == []
    assert is_right(store, practice)


SMALL: dict[str, Any] = {"mark": "water-resistant", "marked_pa": 3e5, "new_on": None, "use": "dry"}


def test_a_habit_that_takes_a_proof_away_bears_on_what_an_exposure_raises(
    store: Store, practice: Practice
) -> None:
    """A swim with a mark of 3 bar, answered by a pass at 3 bar until the crown is used in a daily shower."""
    key = watches.add(store, a_watch(**SMALL), its_seals(), [a_pass(None, day(-9), 3)], practice)
    exposures.add(store, [a_dive(key, activity="swim", depth_m=1.0, gauge_pa=1e4)], practice)
    assert kept(store) == []
    habits.add_habit(store, v.Habit(worked(key), 1.0, day(-2), None, key), practice)
    assert [code for _, code in kept(store)] == ["beyond-proof"]
    assert is_right(store, practice)


def test_a_jump_off_a_boat_is_a_swim_that_a_mark_of_3_bar_does_not_allow(
    store: Store, practice: Practice
) -> None:
    key = watches.add(store, a_watch(**SMALL), its_seals(), [], practice)
    boat = a_dive(key, activity="boat", depth_m=0.05, gauge_pa=500.0)
    _, jumped = exposures.add(store, [boat, replace(boat, jump_m=2.0)], practice)
    assert kept(store) == [(jumped, "beyond-proof")]
    assert is_right(store, practice)


def test_another_exposure_after_a_pass_is_kept_beside_the_one_before_it(
    store: Store, practice: Practice, watch_id: int
) -> None:
    (first,) = exposures.add(store, [worked(watch_id)], practice)
    events.add(store, [a_pass(watch_id, day(2), 25)], practice)
    (second,) = exposures.add(store, [worked(watch_id, day(4))], practice)
    assert kept(store) == [(first, "overstressed"), (second, "overstressed")]
    assert is_right(store, practice)


# ---------------------------------------------------------------- constants

OTHER = parse(
    shipped_path().read_text(encoding="utf-8"), override="[constants.over_share]\nvalue = 1.3\nhigh = 1.3\n"
)


def test_changed_constants_make_it_anew_with_the_next_write_and_by_making_the_ledger_anew(
    store: Store, practice: Practice, watch_id: int
) -> None:
    """6 bar against a proof of 5: beyond it by 1.02, within it by 1.3."""
    exposures.add(store, [deep(watch_id)], practice)
    assert [code for _, code in kept(store)] == ["beyond-proof"]
    ledger.refresh_all(store, OTHER)
    assert kept(store) == []
    assert is_right(store, OTHER)
    exposures.add(store, [a_dive(watch_id, day(3))], practice)
    assert [code for _, code in kept(store)] == ["beyond-proof"]
    assert is_right(store, practice)


def test_making_the_ledger_anew_gives_what_was_kept(store: Store, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [deep(watch_id), worked(watch_id, day(5))], practice)
    before = kept(store)
    with store.transaction() as session:
        session.connection().exec_driver_sql("DELETE FROM raised")
    ledger.refresh_all(store, practice)
    assert kept(store) == before != []


# ---------------------------------------------------------------- any order


near = st.dates(date(2024, 4, 28), date(2024, 5, 8))


@settings(max_examples=tries(60), deadline=None)
@given(st.data())
def test_adding_amending_and_striking_equal_working_it_out_from_nothing(
    empty_record: Path, practice: Practice, data: st.DataObject
) -> None:
    marks = st.sampled_from(
        [("divers", 20e5), ("water-resistant", 3e5), ("unknown", None), ("unmarked", None)]
    )
    tests = st.lists(st.tuples(near, st.sampled_from([3.0, 10.0, 25.0]), st.booleans()), max_size=3)
    with a_copy_of(empty_record) as store:
        mark, marked_pa = data.draw(marks)
        described = a_watch(mark=mark, marked_pa=marked_pa, new_on=data.draw(st.sampled_from([None, ADDED])))
        key = watches.add(store, described, its_seals(date(2023, 1, 1)), [], practice)
        for batch in data.draw(
            st.lists(st.lists(making.exposures(on=near), max_size=4), min_size=1, max_size=3)
        ):
            exposures.add(store, [replace(e, watch_id=key) for e in batch], practice)
            assert is_right(store, practice)
        for on, bar, good in data.draw(tests):
            events.add(store, [replace(a_pass(key, on, bar), passed=good)], practice)
            assert is_right(store, practice)
        ids = [id_ for (id_,) in store.rows("SELECT id FROM exposure ORDER BY id")]
        for id_ in ids[::2]:
            changed = data.draw(making.exposures(on=near, planned=None))
            exposures.amend(store, replace(changed, id=id_, watch_id=key), practice)
            assert is_right(store, practice)
        for id_ in ids[1::2]:
            strike(store, id_, practice)
            assert is_right(store, practice)
