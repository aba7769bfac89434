"""What goes into the record comes out equal, at the resolution at which it is kept."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.model import fields
from logbook.model import values as v
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, habits, snoozes, undo, watches
from logbook.record.writing import settings as settings_service
from tests.effort import tries
from tests.record import making
from tests.record.making import ADDED, a_watch, record_of

# The record may fill up from one example to the next: each reads back only what it wrote.
in_one_record = settings(max_examples=tries(60), suppress_health_check=[HealthCheck.function_scoped_fixture])


SCALES = (
    fields.MILLI,
    fields.MILLIKELVIN,
    fields.SIXTIETH,
    fields.PER_1000_WEEKS,
    fields.MICRO,
    fields.TRILLIONTH,
)


def a_watch_in(store: Store, practice: Practice) -> int:
    count = store.rows("SELECT COUNT(*) FROM watch")[0][0]
    return watches.add(store, a_watch(f"Watch {count}"), [], [], practice)


@in_one_record
@given(making.exposures(planned=None))
def test_an_exposure_comes_back_equal(store: Store, practice: Practice, exposure: v.Exposure) -> None:
    given_ = replace(exposure, watch_id=a_watch_in(store, practice))
    (id_,) = exposures.add(store, [given_], practice)
    assert glance.read_exposure(store.rows, id_) == replace(given_, id=id_)


@in_one_record
@given(making.events())
def test_an_event_comes_back_equal(store: Store, practice: Practice, event: v.Event) -> None:
    given_ = replace(event, watch_id=a_watch_in(store, practice))
    (id_,) = events.add(store, [given_], practice)
    assert glance.read_event(store.rows, id_) == replace(given_, id=id_)
    assert record_of(store, given_.watch_id or 0).events == (replace(given_, id=id_),)


@in_one_record
@given(making.habits())
def test_a_habit_comes_back_equal(store: Store, practice: Practice, habit: v.Habit) -> None:
    watch_id = a_watch_in(store, practice)
    given_ = replace(habit, watch_id=watch_id, exposure=replace(habit.exposure, watch_id=watch_id))
    id_ = habits.add_habit(store, given_, practice)
    assert record_of(store, watch_id).habits == (replace(given_, id=id_),)


@in_one_record
@given(st.lists(making.stretches(), min_size=1, max_size=4))
def test_worn_stretches_come_back_equal_in_the_order_entered(
    store: Store, practice: Practice, stretches: list[v.WornStretch]
) -> None:
    watch_id = a_watch_in(store, practice)
    given_ = [replace(stretch, watch_id=watch_id) for stretch in stretches]
    ids = habits.add_stretches(store, given_, practice)
    kept = tuple(replace(stretch, id=id_) for stretch, id_ in zip(given_, ids, strict=True))
    assert record_of(store, watch_id).stretches == kept


@in_one_record
@given(making.watches(), st.lists(making.seals(), max_size=6))
def test_a_watch_and_its_seals_come_back_equal(
    store: Store, practice: Practice, watch: v.Watch, seals: list[v.Seal]
) -> None:
    named = replace(watch, name=f"Watch {store.rows('SELECT COUNT(*) FROM watch')[0][0]}")
    watch_id = watches.add(store, named, seals, [], practice)
    record = record_of(store, watch_id)
    assert record.watch == replace(named, id=watch_id)
    assert sorted((replace(seal, id=None) for seal in record.seals), key=repr) == sorted(seals, key=repr)
    assert set(record.totals) == {seal.id for seal in record.seals}


@in_one_record
@given(making.all_settings())
def test_settings_come_back_equal(store: Store, given_: v.Settings) -> None:
    settings_service.write(store, given_)
    assert glance.read_settings(store.rows) == given_


def test_settings_that_were_never_set_are_the_defaults(store: Store) -> None:
    assert glance.read_settings(store.rows) == v.Settings()


def test_a_snooze_comes_back_and_a_later_word_replaces_it(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), [], [], practice)
    snoozes.snooze(store, "1:strap:2024-01-01", ADDED)
    snoozes.snooze(store, "1:strap:2024-01-01", ADDED.replace(year=2025))
    assert undo.recent(store, 1) == ["snooze strap of Blue bezel until 1 Jan 2025"]
    assert record_of(store, watch_id).snoozed == {"1:strap:2024-01-01": ADDED.replace(year=2025)}


@given(st.integers(-100_000_000, 100_000_000))
def test_each_scale_gives_a_whole_number_back(n: int) -> None:
    """Whatever is stored stays what it is however often it is read and written again."""
    for scale in SCALES:
        assert scale.kept(scale.value(n)) == n


def test_seventeen_degrees_are_290_150_millikelvin() -> None:
    assert fields.MILLIKELVIN.kept(17.0) == 290_150
    assert fields.MILLIKELVIN.value(290_150) == 17.0
