"""Which exposure wears which seal: fitting dates, replacements, order inside the day, the record's start."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.values import DAY_ORDER, Exposure, Seal, WatchRecord
from logbook.model.wear import charge, wear
from logbook.model.wear.charge import Charge
from tests.effort import tries
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    at,
    charged,
    exposure,
    habit,
    record,
    seal,
    seals,
    stretch,
)

DIVED = date(2024, 3, 1)


def charges(whole: WatchRecord, *dives: Exposure) -> dict[int, Charge]:
    """Seal id -> what the last of these exposures adds to it."""
    numbered = [replace(e, id=n) for n, e in enumerate(dives, start=1)]
    return charge.charge_exposures(whole, numbered, PRACTICE)[len(numbered)]


def crown_line(*fitted: Seal, **given: object) -> WatchRecord:
    return record(seals=fitted, **given)


def counted(found: dict[int, Charge]) -> list[int]:
    return [seal_id for seal_id, what in found.items() if what.counted]


def test_every_seal_in_place_is_charged_with_its_own_shares() -> None:
    found = charges(record(), exposure(starts_on=DIVED))
    assert counted(found) == [1, 2, 3]
    for n, position in enumerate(("case-back", "crystal", "crown"), start=1):
        water = wear.water_shares(exposure(), position, record().watch, PRACTICE)
        assert replace(found[n].shares, ageing=0) == water


def test_an_exposure_before_the_fitting_wears_nothing() -> None:
    old = record(seals=seals(fitted=DIVED), recorded_from=date(2023, 1, 1))
    assert charges(old, exposure(starts_on=DIVED - ONE_DAY)) == {}


def test_an_exposure_on_the_day_of_the_fitting_comes_after_it() -> None:
    assert counted(charges(crown_line(seal(fitted=DIVED)), exposure(starts_on=DIVED))) == [1]


def test_the_owner_may_say_that_the_day_began_with_the_dive() -> None:
    late = DAY_ORDER["exposure"] + 1
    assert charges(crown_line(seal(fitted=DIVED, order=late)), exposure(starts_on=DIVED)) == {}


def test_an_exposure_before_the_records_start_wears_nothing() -> None:
    assert charges(record(recorded_from=DIVED + ONE_DAY), exposure(starts_on=DIVED)) == {}


def test_the_records_first_day_is_charged() -> None:
    assert counted(charges(record(recorded_from=DIVED), exposure(starts_on=DIVED))) == [1, 2, 3]


@pytest.mark.parametrize(
    ("order", "worn"),
    [(DAY_ORDER["gaskets"], 2), (DAY_ORDER["exposure"] + 1, 1), (DAY_ORDER["exposure"], 1)],
    ids=["before", "after", "at the very place"],
)
def test_on_the_day_of_a_replacement_the_order_says_which_seal_is_worn(order: int, worn: int) -> None:
    old, new = seal(fitted=FITTED, id=1), seal(fitted=DIVED, order=order, id=2)
    assert counted(charges(crown_line(old, new), exposure(starts_on=DIVED))) == [worn]


@pytest.mark.parametrize(("days", "worn"), [(-1, 1), (0, 2), (1, 2)])
def test_a_replaced_seal_is_worn_up_to_its_replacement_and_the_new_one_from_then_on(
    days: int, worn: int
) -> None:
    old, new = seal(fitted=FITTED, id=1), seal(fitted=DIVED, id=2)
    assert counted(charges(crown_line(old, new), exposure(starts_on=DIVED + days * ONE_DAY))) == [worn]


def test_replacing_one_seal_leaves_the_others_in_service() -> None:
    new = seal("crown", fitted=DIVED, id=9)
    found = charges(record(seals=(*seals(), new)), exposure(starts_on=DIVED + ONE_DAY))
    assert sorted(found) == [1, 2, 9]


def test_two_replacements_on_one_day_leave_the_later_ordered_in_place() -> None:
    first, second = seal(fitted=DIVED, order=20, id=2), seal(fitted=DIVED, order=25, id=3)
    whole = crown_line(seal(id=1), second, first)
    assert [s.id for s in charge.current_seals(whole.seals)] == [3]
    assert counted(charges(whole, exposure(starts_on=DIVED))) == [3]


def test_the_seals_in_place_are_the_last_fitted_of_each_place() -> None:
    fitted = (*seals(), seal("crown", fitted=DIVED, id=9), seal("crystal", fitted=FITTED - ONE_DAY, id=10))
    assert [(s.position, s.id) for s in charge.current_seals(fitted)] == [
        ("case-back", 1), ("crystal", 2), ("crown", 9)
    ]  # fmt: skip


def test_a_fitting_known_as_a_range_counts_from_its_middle() -> None:
    """1 to 11 January: the 6th. An exposure on the 6th counts, on the 5th it is kept and does not."""
    ranged = seal(fitted=date(2024, 1, 1), latest=date(2024, 1, 11))
    assert charge.middle(ranged) == date(2024, 1, 6)
    whole = crown_line(ranged)
    assert charges(whole, exposure(starts_on=date(2024, 1, 6)))[1].counted
    early = charges(whole, exposure(starts_on=date(2024, 1, 5)))[1]
    assert not early.counted
    assert early.shares.salt > 0


def test_before_the_earliest_fitting_of_a_range_nothing_is_kept() -> None:
    ranged = seal(fitted=date(2024, 1, 3), latest=date(2024, 1, 11))
    assert charges(crown_line(ranged), exposure(starts_on=date(2024, 1, 2))) == {}


@pytest.mark.parametrize(("days", "middle"), [(0, 0), (1, 0), (2, 1), (3, 1), (365, 182)])
def test_the_middle_of_a_range_is_a_whole_day_inside_it(days: int, middle: int) -> None:
    ranged = seal(fitted=FITTED, latest=FITTED + days * ONE_DAY)
    assert charge.middle(ranged) == FITTED + middle * ONE_DAY


def test_no_exposure_counts_twice_where_a_replacement_is_known_as_a_range() -> None:
    new = seal(fitted=date(2024, 3, 1), latest=date(2024, 3, 21), id=2)
    whole = crown_line(seal(id=1), new)
    for day in range(40):
        found = charges(whole, exposure(starts_on=date(2024, 2, 20) + day * ONE_DAY))
        assert len(counted(found)) == 1


def test_a_cold_dive_takes_warm_hours_off_the_wrist() -> None:
    """45 minutes at 20 °C in place of 45 at 32 °C: ageing below zero, by the rates of both."""
    found = charges(record(), exposure(starts_on=DIVED))[3].shares.ageing
    cool, warm = (wear.ageing_share_per_hour(c, "NBR", PRACTICE) for c in (20, 32))
    assert found == pytest.approx(0.75 * (cool - warm))
    assert found < 0


def test_a_watch_that_is_never_worn_takes_the_hours_out_of_storage() -> None:
    found = charges(record(worn_h=0.0), exposure(starts_on=DIVED))[3].shares.ageing
    cool, stored = (wear.ageing_share_per_hour(c, "NBR", PRACTICE) for c in (20, 21))
    assert found == pytest.approx(0.75 * (cool - stored))


def test_an_overlap_is_charged_once_for_ageing_and_in_full_for_salt() -> None:
    """Hours are spent once; salt is charged for each exposure's own length."""
    first = exposure(starts_on=DIVED, starts_at=at(9), utc_offset_s=0)
    found = charges(record(), first, first)[3].shares
    assert found.ageing == 0
    assert found.salt == pytest.approx(0.75 / 300)


def test_worn_hours_of_a_stretch_and_of_habits_are_seen_by_an_exposure() -> None:
    """Half an hour is worn that day and a quarter of it goes into a shower: a quarter is left."""
    whole = record(
        stretches=(stretch(DIVED, DIVED, 0.5),), habits=(habit(1.0, duration_s=900, water="soap"),)
    )
    worn_left, day_left = charge.hours_left(whole)
    assert (worn_left(DIVED), day_left(DIVED)) == (0.25, 23.75)
    assert (worn_left(DIVED + ONE_DAY), day_left(DIVED + ONE_DAY)) == (11.75, 23.75)


def test_habits_before_the_records_start_are_left_to_the_stated_use() -> None:
    whole = record(recorded_from=DIVED, habits=(habit(1.0, FITTED), habit(1.0, FITTED, DIVED - ONE_DAY)))
    running = charge.charged_habits(whole)
    assert [h.from_on for h in running] == [DIVED]


def test_a_habit_runs_on_its_first_and_last_day() -> None:
    daily = habit(1.0, DIVED, DIVED + ONE_DAY)
    assert [charge.runs_on(daily, DIVED + n * ONE_DAY) for n in (-1, 0, 1, 2)] == [False, True, True, False]
    assert charge.runs_on(habit(1.0, DIVED), date(2100, 1, 1))


def test_a_preview_shows_what_the_exposure_then_adds() -> None:
    found = charge.preview(record(), exposure(starts_on=DIVED, id=77), PRACTICE)
    added = charges(record(), exposure(starts_on=DIVED))
    assert {p: s.as_tuple() for p, s in found.items()} == {
        "case-back": added[1].shares.as_tuple(),
        "crystal": added[2].shares.as_tuple(),
        "crown": added[3].shares.as_tuple(),
    }


timed_dives = st.lists(
    st.tuples(st.integers(0, 12), st.integers(0, 1439), st.integers(1, 2000)), min_size=1, max_size=10
).map(
    lambda told: [
        exposure(
            id=n,
            starts_on=DIVED + day * ONE_DAY,
            starts_at=at(minute // 60, minute % 60),
            utc_offset_s=0,
            duration_s=minutes * 60,
        )
        for n, (day, minute, minutes) in enumerate(told, start=1)
    ]
)


@given(dives=timed_dives, new=st.integers(0, 999))
@settings(max_examples=tries(60))
def test_recharging_only_what_a_new_exposure_touches_gives_the_whole_recharged(
    dives: list[Exposure], new: int
) -> None:
    """A ledger that rewrites the touched days from the window around them equals one made from nothing."""
    added = dives[new % len(dives)]
    older = [e for e in dives if e is not added]
    ledger = charge.charge_exposures(record(), older, PRACTICE)
    reach = timedelta(days=charge.TOUCH_DAYS)
    first, last = added.starts_on - reach, added.starts_on + reach
    window = [e for e in dives if first - reach <= e.starts_on <= last + reach]
    rewritten = charge.charge_exposures(record(), window, PRACTICE)
    for e in dives:
        if first <= e.starts_on <= last:
            ledger[e.id or 0] = rewritten[e.id or 0]
    whole = charge.charge_exposures(record(), dives, PRACTICE)
    assert ledger.keys() == whole.keys()
    for exposure_id, by_seal in whole.items():
        for seal_id, what in by_seal.items():
            assert ledger[exposure_id][seal_id].shares.as_tuple() == pytest.approx(what.shares.as_tuple())


def test_totals_are_the_sum_of_what_counts() -> None:
    dives = [exposure(starts_on=DIVED + n * ONE_DAY, id=n) for n in range(1, 6)]
    whole = charged(record(), dives)
    assert whole.totals[3].salt == pytest.approx(5 * 0.75 / 300)


def test_gaskets_fitted_inside_the_unknown_dates_of_the_first_seal_replace_it() -> None:
    first = seal(fitted=date(2018, 1, 1), latest=date(2024, 1, 1), id=1)
    second = seal(fitted=date(2020, 5, 1), event_id=7, id=2)
    assert charge.current_seals([first, second]) == [second]
