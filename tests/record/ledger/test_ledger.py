"""The ledger kept up step by step equals one made anew from the exposures, to the last digit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model import values as v
from logbook.model.practice import FORMERLY, Practice
from logbook.model.wear.charge import charge_exposures
from logbook.record.file.store import Store
from logbook.record.ledger import bulk, ledger
from logbook.record.ledger.spans import COSTS_NOTHING, Span, merged, wider
from logbook.record.reading import charged, glance
from logbook.record.reading.sql import run
from logbook.record.writing import events, exposures, habits, watches
from logbook.record.writing.strike import strike
from tests.effort import tries
from tests.record import making
from tests.record.making import ADDED, a_copy_of, a_dive, a_watch, books, gaskets, its_seals, record_of


def anew(store: Store, practice: Practice) -> dict[str, list[tuple[int, ...]]]:
    """The ledger as the exposures alone give it, one by one; in one pass it is the same."""
    shares = []
    with store.reading() as rows:
        records = glance.read_records(rows, retired=True)
        for record in records:
            found = glance.read_exposures(rows, watch_id=record.watch.id, planned=False, with_profiles=True)
            plain = bulk.share_rows(charge_exposures(record, found, practice))
            assert sorted(plain) == sorted(ledger.reckon(rows, record, practice))
            shares += plain
        sums = bulk.totals_of(shares)
        seals = [seal.id or 0 for record in records for seal in record.seals]
    return {
        "ledger_share": sorted(shares),
        "seal_total": sorted((*sums.get(seal, [0] * 6), seal) for seal in seals),
    }


def kept(store: Store) -> dict[str, list[tuple[int, ...]]]:
    with store.reading() as rows:
        columns = ", ".join(v.CHANNELS)
        shares = rows(f"SELECT exposure_id, seal_id, {columns}, counted FROM ledger_share", ())
        totals = rows(f"SELECT {columns}, seal_id FROM seal_total", ())
        return {"ledger_share": sorted(shares), "seal_total": sorted(totals)}


@settings(max_examples=tries(80))
@given(st.data())
def test_adding_amending_and_striking_equal_reckoning_anew(
    empty_record: Path, practice: Practice, data: st.DataObject
) -> None:
    """Dates lie close together, so that exposures of up to two days overlap, in all zones."""
    near = st.dates(date(2024, 1, 1), date(2024, 1, 12))
    seal_lists = st.lists(making.seals(), max_size=4)
    with a_copy_of(empty_record) as store:
        watch = a_watch(recorded_from=data.draw(near), new_on=None)
        watch_id = watches.add(
            store, watch, [*its_seals(date(2023, 1, 1)), *data.draw(seal_lists)], [], practice
        )
        batches = st.lists(st.lists(making.exposures(on=near), max_size=4), min_size=1, max_size=3)
        ids: list[int] = []
        for batch in data.draw(batches):
            ids += exposures.add(store, [replace(e, watch_id=watch_id) for e in batch], practice)
            assert kept(store) == anew(store, practice)
        for id_ in ids[::2]:
            changed = data.draw(making.exposures(on=near, planned=None))
            exposures.amend(store, replace(changed, id=id_, watch_id=watch_id), practice)
            assert kept(store) == anew(store, practice)
        for id_ in ids[1::2]:
            strike(store, id_, practice)
            assert kept(store) == anew(store, practice)


DIPPING = tuple(v.ProfilePoint(300.0 * n, 21.0 if n % 2 else 9.0, 17.0) for n in range(1, 8))


def test_a_dive_is_charged_by_its_profile_and_keeps_that_when_another_is_logged_beside_it(
    store: Store, practice: Practice
) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    first, plain = exposures.add(
        store, [a_dive(watch_id, profile=DIPPING), a_dive(watch_id, date(2024, 6, 1))], practice
    )
    pressure = [next(iter(charged.ledger_of(store.rows, e).values())).pressure for e in (first, plain)]
    # Four times down to 21 m, three of them from 9 m: 1 + 3 × (12/21)² of one way down and up.
    assert pressure[0] == pytest.approx(pressure[1] * (1 + 3 * (12 / 21) ** 2), rel=1e-6)
    exposures.add(store, [a_dive(watch_id, date(2024, 5, 2))], practice)
    assert next(iter(charged.ledger_of(store.rows, first).values())).pressure == pressure[0]
    assert kept(store) == anew(store, practice)
    before = kept(store)
    ledger.refresh_all(store, practice)
    assert kept(store) == before


def test_dropping_only_the_profile_of_a_dive_rewrites_its_cost(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    (dive,) = exposures.add(store, [a_dive(watch_id, profile=DIPPING)], practice)
    dearer = record_of(store, watch_id).totals
    exposures.amend(store, a_dive(watch_id, id=dive), practice)
    assert all(record_of(store, watch_id).totals[seal].pressure < dearer[seal].pressure for seal in dearer)
    assert kept(store) == anew(store, practice)


def test_dives_on_both_sides_of_the_date_line_count_overlapping_hours_once(
    store: Store, practice: Practice
) -> None:
    """The same hours, three civil days apart: a two-day exposure seen from the far west and the far east."""
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    long = {"duration_s": 172_800, "water_c": 35.0}
    west = a_dive(watch_id, date(2024, 5, 1), starts_at=time(12), utc_offset_s=-12 * 3600, **long)
    east = a_dive(watch_id, date(2024, 5, 4), starts_at=time(8), utc_offset_s=12 * 3600, **long)
    exposures.add(store, [east], practice)
    exposures.add(store, [west], practice)
    assert kept(store) == anew(store, practice)


Change = Callable[[Store, int, Practice], object]
NEAR = date(2024, 5, 10)
CHANGES: dict[str, Change] = {
    "a worn stretch": lambda s, w, p: habits.add_stretches(s, [v.WornStretch(NEAR, NEAR, 0.0, w)], p),
    "a habit": lambda s, w, p: habits.add_habit(s, v.Habit(a_dive(duration_s=40_000), 1.0, NEAR, None, w), p),
    "a habit with an end": lambda s, w, p: habits.add_habit(
        s, v.Habit(a_dive(duration_s=40_000), 1.0, NEAR, NEAR, w), p
    ),
    "gaskets": lambda s, w, p: events.add(s, [gaskets(w, NEAR, ("crown", "FKM"), ("crystal", "VMQ"))], p),
    "gaskets before all": lambda s, w, p: events.add(s, [gaskets(w, ADDED, ("crown", "FKM"))], p),
    "a forgotten seal": lambda s, w, p: watches.set_seals(s, w, [v.Seal("pushers", "NBR", ADDED, NEAR)], p),
    "another start": lambda s, w, p: watches.edit(s, a_watch(recorded_from=NEAR, id=w), p),
    "fewer worn hours": lambda s, w, p: watches.edit(s, a_watch(worn_h=1.0, id=w), p),
    "another crown": lambda s, w, p: watches.edit(s, a_watch(crown="pushed", id=w), p),
    "another mark": lambda s, w, p: watches.edit(s, a_watch(mark="unmarked", marked_pa=None, id=w), p),
    "another case": lambda s, w, p: watches.edit(s, a_watch(case_material="titanium", id=w), p),
}


def days_of_long_dives(watch_id: int) -> list[v.Exposure]:
    return [
        a_dive(watch_id, NEAR + timedelta(days=n), duration_s=50_000, starts_at=time(20), utc_offset_s=0)
        for n in range(-8, 9)
    ]


@pytest.mark.parametrize("change", CHANGES)
def test_whatever_bears_on_the_cost_of_exposures_renews_it(
    store: Store, practice: Practice, change: str
) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, days_of_long_dives(watch_id), practice)
    before = kept(store)
    CHANGES[change](store, watch_id, practice)
    assert kept(store) == anew(store, practice)
    assert (kept(store) != before) == (change != "another case")


OTHERWISE = {
    "name": "Other", "movement": "quartz", "use": "dry", "bought_on": date(2020, 1, 1), "new_on": None,
    "winds": 7.0, "presses": 3.0, "reference": "r", "note": "n", "group": "g", "retired_on": NEAR,
    "confirmed_on": NEAR, "made_from": 1970, "made_to": 1975, "marked_in": "m",
}  # fmt: skip


@pytest.mark.parametrize("field", OTHERWISE)
def test_what_costs_nothing_leaves_the_ledger_right_without_reckoning_anew(
    store: Store, practice: Practice, field: str
) -> None:
    watch = a_watch(made_from=1968, made_to=1972)
    watch_id = watches.add(store, watch, its_seals(), [], practice)
    exposures.add(store, days_of_long_dives(watch_id), practice)
    watches.edit(store, replace(watch, id=watch_id, **{field: OTHERWISE[field]}), practice)
    assert kept(store) == anew(store, practice)


def test_every_column_said_to_cost_nothing_has_been_tried(store: Store) -> None:
    assert len(OTHERWISE) == len(COSTS_NOTHING) - 1  # the key of the name goes with the name


def test_a_new_exposure_reads_and_writes_the_same_however_long_the_record_is(
    store: Store, practice: Practice
) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    dives = [a_dive(watch_id, date(2024, 1, 1) + timedelta(days=8 * n)) for n in range(400)]
    steps = []
    for batch in (dives[:10], dives[10:]):
        exposures.add(store, batch, practice)
        with store.transaction() as session:
            driver = session.connection().connection.driver_connection
            counted = [0]
            driver.set_progress_handler(lambda counted=counted: counted.__setitem__(0, counted[0] + 1), 1)
            ledger.refresh_spans(session, watch_id, [Span.near(dives[5].starts_on)], practice)
            driver.set_progress_handler(None, 1)
            steps.append(counted[0])
    assert steps[1] < 1.5 * steps[0]


def test_the_ledger_is_stale_when_the_constants_changed_and_any_write_renews_it(
    store: Store, practice: Practice, other_practice: Practice
) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(watch_id)], practice)
    assert not ledger.is_stale(store.rows, practice)
    assert ledger.is_stale(store.rows, other_practice)
    exposures.add(store, [a_dive(watch_id, on=date(2024, 9, 1))], other_practice)
    assert not ledger.is_stale(store.rows, other_practice)
    assert kept(store) == anew(store, other_practice)


def test_everything_is_made_anew_and_progress_is_told(store: Store, practice: Practice) -> None:
    for name in ("Blue bezel", "Sunday dress"):
        watch_id = watches.add(store, a_watch(name), its_seals(), [], practice)
        exposures.add(store, [a_dive(watch_id), a_dive(watch_id)], practice)
    before = books(store)
    with store.transaction() as session:
        session.connection().exec_driver_sql("UPDATE ledger_share SET salt = 1")
        session.connection().exec_driver_sql("UPDATE seal_total SET salt = 1")
    told: list[tuple[int, int]] = []
    ledger.refresh_all(store, practice, lambda done, total: told.append((done, total)))
    assert books(store) == before
    assert told == [(0, 4), (2, 4), (4, 4)]


def test_one_watch_is_made_anew(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(watch_id), a_dive(watch_id)], practice)
    before = books(store)
    with store.transaction() as session:
        ledger.refresh_spans(session, watch_id, [Span.ALL], practice)
    assert books(store) == before


def test_an_action_that_changes_the_cost_must_know_the_constants(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    with pytest.raises(TypeError, match="constants in force"):
        exposures.add(store, [a_dive(watch_id)], None)  # type: ignore[arg-type]
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(0,)]


def test_sums_between_dates_take_both_ends(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    ids = exposures.add(store, [a_dive(watch_id, date(2024, 5, d)) for d in (1, 11, 21)], practice)
    seal = record_of(store, watch_id).seals[2].id or 0
    one = charged.ledger_of(store.rows, ids[0])[seal].salt
    salts = [
        charged.ledger_sums(store.rows, seal, since, until).salt
        for since, until in [
            (None, None),
            (date(2024, 5, 1), date(2024, 5, 21)),
            (date(2024, 5, 2), None),
            (None, date(2024, 5, 20)),
            (date(2024, 5, 12), date(2024, 5, 20)),
        ]
    ]
    assert salts == pytest.approx([3 * one, 3 * one, 2 * one, 2 * one, 0])


@given(st.lists(st.tuples(making.days, st.integers(0, 9)), max_size=8))
def test_merged_spans_hold_the_same_days_without_overlap(drawn: list[tuple[date, int]]) -> None:
    spans = [Span(day, day + timedelta(days=length)) for day, length in drawn]
    found = merged(spans)
    assert all(a.last < b.first for a, b in pairwise(found))

    def days(of: list[Span]) -> set[int]:
        return {n for s in of for n in range(s.first.toordinal(), s.last.toordinal() + 1)}

    assert days(found) == days(spans)


def test_a_span_ends_where_the_calendar_does() -> None:
    assert wider(Span(date.min, date.max), 4) == Span.ALL
    assert Span.near(date.min).first == date.min
    assert Span.near(date.max).last == date.max


def test_exposures_between_the_earliest_and_the_middle_fitting_date_are_read_apart(
    empty_record: Path, practice: Practice
) -> None:
    earliest, latest = ADDED, ADDED + timedelta(days=200)
    seals = [v.Seal(position, "NBR", earliest, latest) for position in making.POSITIONS]
    with a_copy_of(empty_record) as store:
        watch_id = watches.add(store, a_watch(new_on=None), seals, (), practice)
        early, late = (earliest + timedelta(days=n) for n in (50, 150))
        exposures.add(store, [a_dive(watch_id, on) for on in (early, late)], practice)
        record = record_of(store, watch_id)
    crown = next(seal.id for seal in record.seals if seal.position == "crown")
    assert record.doubtful[crown or 0].salt == pytest.approx(record.totals[crown or 0].salt)
    assert record.totals[crown or 0].salt > 0


def test_a_ledger_of_the_same_constants_by_a_former_name_stands(store: Store, practice: Practice) -> None:
    (former,) = FORMERLY[practice.fingerprint]
    for name, stale in ((practice.fingerprint, False), (former, False), ("another", True)):
        with store.transaction() as session:
            run(session, "UPDATE meta SET practice_fingerprint = ?", (name,))
        assert glance.is_stale(store.rows, practice) is stale


def test_the_number_of_the_arithmetic_stands_for_what_it_charges(store: Store, practice: Practice) -> None:
    """Where the constants are the same and a sum is another, `ARITHMETIC` is to be counted up."""
    watches.add(store, a_watch(), its_seals(), [], practice)
    profile = (v.ProfilePoint(0.0, 0.0, 17.0), v.ProfilePoint(600.0, 30.0, 9.0), v.ProfilePoint(1800.0, 0.0))
    wet = [
        a_dive(1, profile=profile),
        a_dive(1, date(2024, 5, 2), crown_under=2, rinsed=False),
        a_dive(1, date(2024, 5, 3), activity="sauna", water="air", depth_m=0.0, gauge_pa=0.0, water_c=90.0,
               salinity=None),
        a_dive(1, date(2024, 5, 4), activity="pool", water="pool", depth_m=2.0, gauge_pa=20_000.0,
               salinity=None, dips=3, jump_m=3.0),
    ]  # fmt: skip
    exposures.add(store, wet, practice)
    sums = [[share / 1e12 for share in row[:-1]] for row in kept(store)["seal_total"]]
    assert practice.fingerprint == "dc40a37d84718472"
    expected = [
        [0.001702221, 0.00015645, 0.022263196, 0.003438095, 0.001055556, 0.0],
        [0.001702221, 0.0002235, 0.014842131, 0.011460317, 0.002111111, 0.1],
        [0.001702221, 0.0002235, 0.018552664, 0.008022222, 0.001477778, 0.0],
    ]
    for found, known in zip(sums, expected, strict=True):
        assert found == pytest.approx(known, abs=2e-9)
