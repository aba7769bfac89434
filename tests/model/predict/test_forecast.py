"""The forecast: weeks of the record drawn again, season by season, until each seal is used up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.due import tasks as due
from logbook.model.judge import facts, standing
from logbook.model.predict import forecast, weeks
from logbook.model.predict.bands import Outset
from logbook.model.predict.draws import Draws
from logbook.model.predict.forecast import BLOCK, SEASON_WEEKS, Forecast, SealForecast, forecast_of
from logbook.model.predict.insight import insight_of
from logbook.model.values import Exposure
from tests.effort import tries
from tests.model.builders import (
    ONE_DAY,
    PRACTICE,
    TODAY,
    exposure,
    habit,
    pool,
    practice_with,
    record,
    seals,
    stretch,
    wear_on,
)
from tests.model.outsets import EXACT, outset

EXACTLY = practice_with(EXACT)
LONG_AGO = date(2022, 6, 1)  # more than two years before today


def lived(dives: Iterable[Exposure] = (), constants: Any = PRACTICE, **given_: Any) -> Outset:
    """A watch on record since long ago with these exposures."""
    plain: dict[str, Any] = {"recorded_from": LONG_AGO, "added_on": LONG_AGO, "seals": seals(fitted=TODAY)}
    plans = given_.pop("plans", ())
    return outset(record(**(plain | given_)), dives, constants=constants, plans=plans)


def ahead(of: Outset, count: int = 400, **given_: Any) -> Forecast:
    found = forecast_of(of, Draws.random(of.clockwork.practice, count), **given_)
    assert found is not None
    return found


def crown(of: Outset, **given_: Any) -> SealForecast:
    found = ahead(of, **given_).of("crown")
    assert found is not None
    return found


def days(day: date | None) -> int:
    assert day is not None
    return (day - TODAY).days


def weekly_pool(weeks: int = 104, **given_: Any) -> list[Exposure]:
    return [pool(starts_on=TODAY - timedelta(days=7 * n + 3), **given_) for n in range(weeks)]


def old_seals() -> tuple[Any, ...]:
    """The seals of before, and new ones of today: the way of life is known, the wear begins anew."""
    before = tuple(replace(s, id=(s.id or 0) + 10) for s in seals(fitted=LONG_AGO))
    fresh = tuple(replace(s, event_id=1) for s in seals(fitted=TODAY))
    return before + fresh


# ---------------------------------------------------------------- known lives


def test_a_watch_that_is_only_worn_is_used_up_on_the_day_that_its_ageing_says() -> None:
    of = lived(constants=EXACTLY, winds=0.0, worn_h=24.0)
    found = crown(of)
    a_year = wear_on(of.record, TODAY + timedelta(days=365)).wear_share
    expected = 365 / a_year
    assert [days(d) for d in (found.p10, found.p50, found.p90)] == pytest.approx([expected] * 3, abs=2)


def test_every_week_alike_is_used_up_at_its_own_pace_on_every_path() -> None:
    of = lived(weekly_pool(), constants=EXACTLY, seals=old_seals())
    found = crown(of)
    pace = wear_on(lived(weekly_pool(), constants=EXACTLY, seals=seals(fitted=LONG_AGO)).record, TODAY)
    assert found.p10 == found.p50 == found.p90
    clock = wear_on(lived(constants=EXACTLY, seals=seals(fitted=LONG_AGO)).record, TODAY).wear_share
    per_day = clock / (TODAY - LONG_AGO).days + (pace.wear_share - clock) / (104 * 7)
    assert days(found.p50) == pytest.approx(1 / per_day, abs=7)


def test_what_was_logged_for_the_gaskets_before_counts_as_the_way_of_life() -> None:
    dry, wet = lived(seals=old_seals()), lived(weekly_pool(), seals=old_seals())
    assert days(crown(wet).p50) < days(crown(dry).p50)


def test_a_watch_used_only_in_july_wears_in_its_summers() -> None:
    july = [
        exposure(starts_on=date(year, 7, 1) + n * ONE_DAY, rinsed=False)
        for year in (2023, 2024)
        for n in range(0, 30, 2)
    ]
    of = lived(july, constants=EXACTLY, seals=old_seals(), worn_h=0.0, winds=0.0)
    fan = crown(of).fan
    clock = crown(lived(constants=EXACTLY, seals=old_seals(), worn_h=0.0, winds=0.0)).fan
    grown = [(b.on, b.middle - a.middle) for a, b in pairwise(fan)]
    calm = clock[1].middle - clock[0].middle
    winter = [by for on, by in grown if on.month in (1, 2, 3, 4)]
    summer = [by for on, by in grown if on.month in (7, 8, 9)]
    assert winter == pytest.approx([calm] * len(winter), abs=1e-4)
    assert max(summer) > calm + 0.05


@given(seed=st.integers(0, 1000))
@settings(max_examples=tries(20), deadline=None)
def test_every_block_comes_from_its_own_season(seed: int) -> None:
    of = lived()
    starts = forecast._starts(of, 520, 50, seed)
    assert starts.min() >= 0
    assert starts.max() <= 103
    first = TODAY + ONE_DAY - timedelta(weeks=104)
    for block in range(0, 130, 7):
        wanted = TODAY + timedelta(weeks=BLOCK * block)
        for start in set(starts[block]):
            taken = first + timedelta(weeks=int(start))
            apart = abs(taken.timetuple().tm_yday - wanted.timetuple().tm_yday)
            assert min(apart, 365 - apart) <= 7 * SEASON_WEEKS + 2


def mean_year(of: Outset) -> tuple[float, float]:
    """The wear of a year of the crown, drawn and as recorded."""
    seal = of.record.seals[-1]
    each, _ = weeks.laid_over(weeks.weekly(of, seal), seal, of, Draws.random(EXACTLY, 1000))
    blocks = forecast._by_block(each, forecast._starts(of, 520, 1000, 1), 520)
    return blocks.sum(axis=0).mean() / 10, each[:, 0].sum() / 2


# A circular block bootstrap gives each week of the record the same weight, so that the mean of the drawn
# years is that of the record (Politis and Romano 1992, from memory).
def test_the_mean_year_of_the_paths_is_the_mean_year_of_the_record() -> None:
    counts = np.random.default_rng(7).poisson(0.8, 104)
    dives = [
        exposure(starts_on=TODAY - timedelta(days=7 * week + 2), id=None)
        for week, count in enumerate(counts)
        for _ in range(count)
    ]
    drawn_year, recorded_year = mean_year(lived(dives, constants=EXACTLY, seals=old_seals()))
    assert drawn_year == pytest.approx(recorded_year, rel=0.03)


def test_weeks_that_follow_each_other_stay_together() -> None:
    of = lived(weekly_pool(), constants=EXACTLY, seals=old_seals())
    each = np.arange(104.0)[:, None] * np.ones((1, 20))
    starts = forecast._starts(of, 520, 20, 3)
    blocks = forecast._by_block(each, starts, 520)
    inside = starts <= 104 - BLOCK
    assert np.array_equal(blocks[inside], (BLOCK * starts + sum(range(BLOCK)))[inside])
    assert np.array_equal(blocks[starts == 103], np.full((starts == 103).sum(), 103.0 + 0 + 1 + 2))


# ---------------------------------------------------------------- what is added, and what is not known


def test_a_planned_trip_brings_the_day_nearer_and_is_counted() -> None:
    plan = pool(starts_on=TODAY + 30 * ONE_DAY, planned_to=TODAY + 49 * ONE_DAY, planned=True, crown_under=1)
    without, with_trip = lived(constants=EXACTLY), lived(constants=EXACTLY, plans=[plan])
    assert ahead(with_trip).planned == 20
    assert days(crown(with_trip).p50) < days(crown(without).p50) - 300


def test_a_plan_that_has_passed_is_not_counted() -> None:
    plan = pool(starts_on=TODAY - 5 * ONE_DAY, planned=True)
    assert ahead(lived(plans=[plan])).planned == 0


def test_a_habit_that_runs_goes_on_and_one_that_ended_is_part_of_the_weeks_before() -> None:
    plain = crown(lived(constants=EXACTLY))
    ended = habit(per_day=1.0, start=LONG_AGO, end=TODAY - ONE_DAY, activity="pool", water="pool")
    running = replace(ended, to_on=None)
    brief = replace(ended, from_on=TODAY, to_on=TODAY + 6 * ONE_DAY)
    assert days(crown(lived(constants=EXACTLY, habits=(ended,))).p50) < days(plain.p50) - 100
    both = crown(lived(constants=EXACTLY, habits=(ended, running)))
    assert days(both.p50) < days(plain.p50) - 100
    assert days(crown(lived(constants=EXACTLY, habits=(running,))).p50) < 0.5 * days(plain.p50)
    week = days(plain.p50) - days(crown(lived(constants=EXACTLY, habits=(brief,))).p50)
    assert 5 < week < 60


@pytest.mark.parametrize(("span", "stated"), [(7, True), (8, False)])
def test_with_under_eight_weeks_of_record_it_rests_on_the_stated_use(span: int, stated: bool) -> None:
    begun = TODAY - timedelta(weeks=span)
    found = ahead(lived(weekly_pool(5), recorded_from=begun, use="diving", seals=seals(fitted=begun)))
    assert (found.weeks, found.from_stated_use) == (span, stated)


def test_the_stated_use_ahead_is_that_of_the_account_with_its_wide_band() -> None:
    new = lived(recorded_from=TODAY, use="diving", constants=EXACTLY)
    found = crown(new)
    before = record(recorded_from=TODAY, use="diving", seals=seals(fitted=TODAY - timedelta(days=365)))
    a_year = standing.wear_of(before, EXACTLY, TODAY)[2].wear_share
    assert days(found.p50) == pytest.approx(365 / a_year, abs=8)
    wide = crown(lived(recorded_from=TODAY, use="diving"))
    assert days(wide.p90) - days(wide.p10) > 400


def test_a_wet_use_without_any_water_in_its_first_year_rests_on_the_stated_use() -> None:
    begun = TODAY - timedelta(weeks=20)
    assert ahead(lived(recorded_from=begun, use="diving")).from_stated_use
    assert not ahead(lived(recorded_from=begun, use="dry")).from_stated_use
    assert not ahead(lived(recorded_from=LONG_AGO, use="diving")).from_stated_use


def test_a_watch_in_a_rotation_is_taken_to_be_worn_as_it_was() -> None:
    begun = TODAY - timedelta(weeks=5)
    worn = (stretch(begun, TODAY, 24.0),)
    plain = {"recorded_from": begun, "use": "dry", "constants": EXACTLY, "seals": seals(fitted=TODAY)}
    rotated = crown(lived(worn_h=0.0, stretches=worn, **plain))
    always = crown(lived(worn_h=24.0, **plain))
    assert days(rotated.p50) == pytest.approx(days(always.p50), rel=0.03)


@pytest.mark.parametrize("weeks_ago", [0, 1, 3, 40, 103])
def test_every_week_counts_as_much_as_any_other(weeks_ago: int) -> None:
    dives = [exposure(starts_on=TODAY - timedelta(days=7 * weeks_ago + n % 6)) for n in range(18)]
    drawn_year, recorded_year = mean_year(lived(dives, constants=EXACTLY, seals=old_seals()))
    assert drawn_year == pytest.approx(recorded_year, rel=0.05)


def test_a_stated_activity_that_a_habit_goes_on_with_is_not_added_twice() -> None:
    pools = habit(per_day=40 / 365.25, start=TODAY, activity="pool", water="pool", depth_m=1.5, water_c=27.0)
    plain = {"recorded_from": TODAY, "use": "swimming", "constants": EXACTLY}
    alone, with_habit = crown(lived(**plain)), crown(lived(habits=(pools,), **plain))
    assert days(with_habit.p50) == pytest.approx(days(alone.p50), rel=0.02)


def test_a_seal_whose_material_ends_first_comes_first() -> None:
    mixed = (*seals("FKM", fitted=TODAY)[:2], replace(seals("NR", fitted=date(2020, 1, 1))[2]))
    found = ahead(lived(seals=mixed, worn_h=0.0, winds=0.0, use="dry"))
    assert found.first.position == "crown"
    assert found.first.cap_on == date(2025, 1, 1)


# ---------------------------------------------------------------- its form


def test_the_same_record_and_seed_give_the_same_answer_and_another_seed_nearly_so() -> None:
    of = lived(weekly_pool(60), seals=old_seals())
    once, again = ahead(of), ahead(of)
    other = ahead(of, seed=2)
    assert once == again
    assert other != once
    assert days(other.first.p50) == pytest.approx(days(once.first.p50), rel=0.05)


def test_the_first_years_are_the_same_however_far_one_looks() -> None:
    of = lived(weekly_pool(), seals=old_seals(), worn_h=24.0)
    assert ahead(of).first.p10 == ahead(of, years=4).first.p10


@settings(max_examples=tries(15), deadline=None)
@given(per_week=st.lists(st.integers(0, 2), min_size=30, max_size=104))
def test_ten_in_a_hundred_come_before_half_and_half_before_ninety(per_week: list[int]) -> None:
    dives = [
        pool(starts_on=TODAY - timedelta(days=7 * n + 1))
        for n, count in enumerate(per_week)
        for _ in range(count)
    ]
    for seal in ahead(lived(dives, seals=old_seals()), count=100).seals:
        order = [d or date.max for d in (seal.p10, seal.p50, seal.p90)]
        assert order == sorted(order)
        assert all(p.low <= p.middle <= p.high for p in seal.fan)
        assert all(a.middle <= b.middle + 1e-12 for a, b in pairwise(seal.fan))


def test_a_seal_that_is_used_up_already_was_so_some_time_ago() -> None:
    used = lived(constants=EXACTLY, seals=seals(fitted=date(2018, 9, 2)), recorded_from=date(2018, 9, 2))
    found = crown(used)
    assert found.p50 is not None
    share = standing.wear_of(used.record, EXACTLY, TODAY)[2].wear_share
    expected = date(2018, 9, 2) + (TODAY - date(2018, 9, 2)) / share
    assert abs((found.p50 - expected).days) <= 1


def test_what_lies_beyond_ten_years_has_no_date() -> None:
    drawer = lived(worn_h=0.0, winds=0.0, seals=seals("FKM", fitted=TODAY), use="dry", constants=EXACTLY)
    found = crown(drawer)
    assert (found.p10, found.p50, found.p90) == (None, None, None)


def test_the_channel_that_drives_it_is_the_one_with_most_of_the_wear_ahead() -> None:
    assert crown(lived(seals=old_seals())).mostly_from == "ageing"
    pools = [replace(p, duration_s=10_000) for p in weekly_pool() for _ in range(3)]
    assert crown(lived(pools, seals=old_seals())).mostly_from == "chemicals"


def test_beside_it_stands_the_date_of_the_fixed_interval() -> None:
    assert ahead(lived()).fixed_interval_on == due.months_after(TODAY, 36)
    own = lived(intervals_months={"gaskets": 24})
    assert ahead(own).fixed_interval_on == due.months_after(TODAY, 24)


def test_a_retired_watch_and_one_without_a_seal_have_no_forecast() -> None:
    draws = Draws.random(PRACTICE, 10)
    assert forecast_of(lived(retired_on=TODAY), draws) is None
    assert forecast_of(lived(seals=()), draws) is None


# ---------------------------------------------------------------- what is due by it


def due_on(of: Outset) -> due.DueItem:
    whole = of.record
    insight = insight_of(of, Draws.random(of.clockwork.practice, 200))
    known = facts.gather(whole, TODAY, PRACTICE)
    wears = standing.wear_of(whole, of.clockwork.practice, TODAY)
    items = due.next_items(whole, known, wears, of.clockwork.practice, TODAY, insight.forecast)
    return next(i for i in items if i.task == "gaskets")


def test_gaskets_are_due_by_the_middle_date_when_it_comes_before_their_interval() -> None:
    of = lived(weekly_pool(crown_wet=3), seals=old_seals(), worn_h=24.0)
    p50 = crown(of, count=200).p50
    item = due_on(of)
    assert p50 is not None
    assert p50 < due.months_after(TODAY, 36)
    assert (item.due, item.anchor, item.position) == (p50, TODAY, "crown")
    assert item.why == "crown seal: half the ways ahead have its service interval used up by then"


def foretold(of: Outset, on: date, p10: date, p50: date) -> due.DueItem:
    """The gaskets on a day, with these dates foretold for every seal."""
    known = facts.gather(of.record, TODAY, PRACTICE)
    wears = standing.wear_of(of.record, of.clockwork.practice, TODAY)
    plain = ahead(of)
    whole = replace(plain, seals=tuple(replace(seal, p10=p10, p50=p50) for seal in plain.seals))
    items = due.next_items(of.record, known, wears, of.clockwork.practice, on, whole)
    return next(i for i in items if i.task == "gaskets")


@pytest.mark.parametrize(
    ("window_days", "days"), [(60, 60), (30, 30), (10, 30)], ids=["the window", "a month", "at least a month"]
)
def test_gaskets_come_up_from_the_start_of_their_window(window_days: int, days: int) -> None:
    p50 = TODAY + timedelta(days=330)
    begins = p50 - timedelta(days=days)
    for on, stage in ((begins - timedelta(days=1), "later"), (begins, "coming up")):
        item = foretold(lived(), on, p50 - timedelta(days=window_days), p50)
        assert (item.due, item.stage) == (p50, stage)


def test_gaskets_come_up_half_a_year_before_they_are_due_at_the_soonest() -> None:
    p50 = TODAY + timedelta(days=330)
    begins = due.months_after(p50, -6)
    for on, stage in ((begins - timedelta(days=1), "later"), (begins, "coming up")):
        assert foretold(lived(), on, TODAY, p50).stage == stage


def test_a_middle_date_that_has_passed_says_so() -> None:
    p50 = TODAY - timedelta(days=5)
    item = foretold(lived(seals=seals(fitted=TODAY - timedelta(days=300))), TODAY, p50, p50)
    assert (item.due, item.stage) == (p50, "due")
    assert "its service interval is likely used up already" in item.why


def test_no_snooze_of_before_silences_a_seal_that_is_used_up() -> None:
    fitted = date(2018, 9, 2)
    used = due_on(outset(record(seals=seals(fitted=fitted), recorded_from=fitted)))
    assert used.id == "1:gaskets:2018-09-02:used-up"


def test_gaskets_are_due_by_their_interval_when_that_comes_first() -> None:
    item = due_on(lived(worn_h=0.0, winds=0.0, use="dry"))
    assert item.due == due.months_after(TODAY, 36)
    assert item.why.endswith(" seal: 36 months after it was fitted")


def test_a_seal_that_is_used_up_says_so_and_not_that_it_may_be() -> None:
    whole = record(seals=seals(fitted=date(2018, 9, 2)), recorded_from=date(2018, 9, 2))
    assert due_on(outset(whole)).why.endswith(" seal: its service interval is used up")
