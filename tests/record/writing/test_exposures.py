"""Logging contacts with water, amending them, and plans that come true."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest

from logbook.errors import BadInput, NotFound
from logbook.model.practice import Practice
from logbook.model.values import ProfilePoint, Shares
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.writing import exposures, undo, watches
from tests.record.making import a_dive, a_watch, books, content, its_seals, record_of

PROFILE = (ProfilePoint(0, 0.0, 20.0), ProfilePoint(600, 21.0), ProfilePoint(2280, 0.0, 17.5))


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(), its_seals(), [], practice)


def test_a_dive_is_written_with_what_it_cost(store: Store, practice: Practice, watch_id: int) -> None:
    (dive,) = exposures.add(store, [a_dive(watch_id)], practice)
    cost = charged.ledger_of(store.rows, dive)
    record = record_of(store, watch_id)
    assert set(cost) == {seal.id for seal in record.seals}
    assert cost == record.totals
    assert all(shares.salt > 0 for shares in cost.values())
    assert record.last_exposure_on == date(2024, 5, 1)


def test_several_are_written_together_or_not_at_all(store: Store, practice: Practice, watch_id: int) -> None:
    assert exposures.add(store, [a_dive(watch_id), a_dive(watch_id, on=date(2024, 5, 2))], practice) == [1, 2]
    before = content(store), books(store)
    with pytest.raises(BadInput):
        exposures.add(store, [a_dive(watch_id), a_dive(watch_id, depth_m=-1.0)], practice)
    assert (content(store), books(store)) == before


def test_a_batch_is_one_step_of_undo_under_its_own_label(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id), a_dive(watch_id)], practice)
    exposures.add(store, [a_dive(watch_id)], practice, label="a file of dives")
    exposures.add(store, [a_dive(watch_id)], practice)
    assert undo.recent(store) == [
        "log dive of 1 May 2024 for Blue bezel", "a file of dives", "log 2 exposures", "add Blue bezel",
    ]  # fmt: skip


def test_an_exposure_before_its_seal_was_fitted_does_not_wear_it(
    store: Store, practice: Practice, watch_id: int
) -> None:
    early = a_dive(watch_id, on=date(2023, 5, 1))
    (dive,) = exposures.add(store, [early], practice)
    assert charged.ledger_of(store.rows, dive) == {}
    assert set(record_of(store, watch_id).totals.values()) == {Shares()}


def test_two_dives_that_overlap_count_their_hours_once(
    store: Store, practice: Practice, watch_id: int
) -> None:
    at = {"starts_at": time(10), "utc_offset_s": 0, "duration_s": 7200, "water_c": 35.0}
    (first,) = exposures.add(store, [a_dive(watch_id, **at)], practice)
    alone = charged.ledger_of(store.rows, first)
    (second,) = exposures.add(store, [a_dive(watch_id, **at)], practice)
    assert charged.ledger_of(store.rows, first) == alone
    assert all(shares.ageing == 0 for shares in charged.ledger_of(store.rows, second).values())


def test_amending_rewrites_the_exposure_its_profile_and_its_cost(
    store: Store, practice: Practice, watch_id: int
) -> None:
    (dive,) = exposures.add(store, [a_dive(watch_id, profile=PROFILE)], practice)
    shallow = a_dive(
        watch_id, on=date(2024, 7, 1), gauge_pa=105_000.0, depth_m=10.5, profile=PROFILE[:2], id=dive
    )
    before = record_of(store, watch_id).totals
    exposures.amend(store, shallow, practice)
    assert glance.read_exposure(store.rows, dive) == shallow
    after = record_of(store, watch_id).totals
    assert all(after[seal].pressure == pytest.approx(before[seal].pressure / 4) for seal in before)


def test_an_exposure_amended_to_another_watch_wears_that_one(
    store: Store, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Sunday dress"), its_seals(), [], practice)
    (dive,) = exposures.add(store, [a_dive(watch_id)], practice)
    cost = list(record_of(store, watch_id).totals.values())
    exposures.amend(store, a_dive(other, id=dive), practice)
    assert set(record_of(store, watch_id).totals.values()) == {Shares()}
    assert list(record_of(store, other).totals.values()) == cost


def test_a_plan_costs_nothing_until_it_came_true(store: Store, practice: Practice, watch_id: int) -> None:
    plan = a_dive(watch_id, planned=True, planned_to=date(2024, 5, 14))
    (entry,) = exposures.add(store, [plan], practice)
    assert books(store)["ledger_share"] == []
    assert record_of(store, watch_id).last_exposure_on is None
    exposures.confirm_plan(store, entry, a_dive(watch_id, on=date(2024, 5, 3)), practice)
    assert glance.read_exposure(store.rows, entry) == a_dive(watch_id, on=date(2024, 5, 3), id=entry)
    assert len(charged.ledger_of(store.rows, entry)) == 3
    with pytest.raises(BadInput, match=f"Entry {entry} is not a plan"):
        exposures.confirm_plan(store, entry, plan, practice)


def test_a_day_of_a_trip_is_charged_and_the_rest_stays_planned_as_one_step(
    store: Store, practice: Practice, watch_id: int
) -> None:
    plan = a_dive(watch_id, on=date(2024, 5, 3), planned=True, planned_to=date(2024, 5, 5))
    rest = replace(plan, starts_on=date(2024, 5, 4))
    (entry,) = exposures.add(store, [plan], practice)
    day = a_dive(watch_id, on=date(2024, 5, 3))
    happened = exposures.confirm_plan(store, entry, day, practice, rest)
    assert glance.read_exposure(store.rows, happened) == replace(day, id=happened)
    assert glance.read_exposure(store.rows, entry) == replace(rest, id=entry)
    assert len(charged.ledger_of(store.rows, happened)) == 3
    with pytest.raises(BadInput, match=f"Plan {entry} was changed meanwhile"):
        exposures.confirm_plan(store, entry, day, practice, rest)
    undo.undo(store, practice)
    assert glance.read_exposures(store.rows) == [replace(plan, id=entry)]
    assert books(store)["ledger_share"] == []


def test_what_is_not_there_is_said(store: Store, practice: Practice, watch_id: int) -> None:
    with pytest.raises(NotFound, match="There is no watch 8"):
        exposures.add(store, [a_dive(watch_id), a_dive(8)], practice)
    with pytest.raises(NotFound, match="There is no watch None"):
        exposures.add(store, [a_dive(None)], practice)
    with pytest.raises(NotFound, match="There is no exposure 77"):
        exposures.amend(store, a_dive(watch_id, id=77), practice)
    with pytest.raises(NotFound, match="There is no exposure 77"):
        exposures.confirm_plan(store, 77, a_dive(watch_id), practice)


def test_text_that_could_harm_a_screen_is_kept_as_it_is(
    store: Store, practice: Practice, watch_id: int
) -> None:
    hostile = [
        "[/]",
        "\x1b[31m",
        "=1+1",
        "a\u202eb",
        "nul\x00inside",
        "'; DROP TABLE watch; --",
        "%s ? :x",
        "🤿" * 500,
    ]
    ids = exposures.add(store, [a_dive(watch_id, note=text) for text in hostile], practice)
    assert [glance.read_exposure(store.rows, id_).note for id_ in ids] == hostile
    undo.undo(store, practice)
    undo.redo(store, practice)
    assert [glance.read_exposure(store.rows, id_).note for id_ in ids] == hostile


def test_amending_nothing_leaves_no_step_of_undo(store: Store, practice: Practice, watch_id: int) -> None:
    (dive,) = exposures.add(store, [a_dive(watch_id, profile=PROFILE)], practice)
    before = undo.recent(store)
    exposures.amend(store, replace(glance.read_exposure(store.rows, dive)), practice)
    assert undo.recent(store) == before
