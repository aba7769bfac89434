"""Days with water: the weeks they lie in, what sums them up, and round steps between them."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from logbook.model.values import Habit, WatchRecord, WornStretch
from logbook.model.wear import wet_days
from logbook.model.wear.wet_days import WetDay, Year
from tests.model.builders import PRACTICE, TODAY, exposure, rain, seal, shower, untested, wear_on

YEARS = st.integers(1, 9999)


@given(YEARS)
@example(2012)  # a leap year that begins on a Sunday: 54 weeks
@example(9999)
@example(1)
def test_weeks_and_days_are_those_of_the_iso_calendar(year: int) -> None:
    # datetime.isocalendar() of the standard library, which follows ISO 8601: weeks begin on Monday.
    weeks = wet_days.weeks_of(year)
    for week in weeks:
        assert len(week) == 7
        assert len({day.isocalendar()[:2] for day in week if day is not None}) == 1
        assert all(day is None or day.isocalendar().weekday == n + 1 for n, day in enumerate(week))
    days = [day for week in weeks for day in week if day is not None]
    assert (days[0], days[-1]) == (date(year, 1, 1), date(year, 12, 31))
    assert len(days) == date(year, 12, 31).timetuple().tm_yday
    assert days == sorted(days)
    assert 53 <= len(weeks) <= 54


def days_of(*shares: float, seconds: int = 600) -> tuple[WetDay, ...]:
    return tuple(WetDay(date(2026, 7, 1) + timedelta(days=n), 1, seconds, s) for n, s in enumerate(shares))


def test_a_year_knows_its_costliest_day_its_fullest_month_and_its_sums() -> None:
    days = (WetDay(date(2026, 6, 30), 2, 1200, 0.004), *days_of(0.001, 0.008, 0.008))
    year = Year(2026, days)
    assert year.greatest == days[2]  # the first of equal ones
    assert year.most_in == (7, 3)
    assert year.share == pytest.approx(0.021)
    assert year.duration_s == 3000


def test_an_empty_year_has_nothing_in_it() -> None:
    year = Year(2026, ())
    assert year.greatest is None
    assert year.most_in == (0, 0)
    assert year.steps == ()


def test_days_that_cost_nothing_differ_by_their_minutes() -> None:
    days = (WetDay(date(2026, 1, 1), 1, 600), WetDay(date(2026, 1, 2), 1, 3600, -0.000001))
    year = Year(2026, days)
    assert not year.by_cost
    assert year.greatest == days[1]
    assert year.steps == (20, 40, 60)
    assert [year.level(day) for day in days] == [1, 4]


@given(st.lists(st.floats(-0.001, 2), min_size=1, max_size=30))
def test_a_dearer_day_never_has_a_lower_level_and_the_costliest_the_highest(shares: list[float]) -> None:
    year = Year(2026, days_of(*shares))
    levels = [year.level(day) for day in sorted(year.days, key=year.size)]
    assert levels == sorted(levels)
    assert set(levels) <= {1, 2, 3, 4}
    assert levels[-1] == 4
    assert year.steps[0] * 3 == pytest.approx(year.steps[2])


@pytest.mark.parametrize(
    ("greatest", "steps"),
    [(1.23, (0.4, 0.8, 1.2)), (0.46, (0.1, 0.2, 0.3)), (38, (10, 20, 30)), (3, (1, 2, 3)), (0, ()), (-1, ())],
)
def test_steps_are_round(greatest: float, steps: tuple[float, ...]) -> None:
    assert wet_days.round_steps(greatest) == steps


# ---------------------------------------------------------------- habits

JANUARY = date(2024, 1, 1)


def year_with(*habits: Habit, logged: tuple[WetDay, ...] = (), **of_record: Any) -> Year:
    whole = untested(habits=habits, **of_record)
    return wet_days.year_of(2024, logged, 0, whole, "crown", PRACTICE, TODAY)


def crown_share(whole: WatchRecord) -> float:
    return wear_on(whole, TODAY).wear_share


@pytest.mark.parametrize("per_day", [1.0, 2.5, 20.0])
def test_the_days_of_a_habit_add_up_to_what_its_seal_was_charged(per_day: float) -> None:
    habits = (
        Habit(shower(), per_day, date(2024, 2, 1)),
        Habit(rain(), 1.0, date(2024, 3, 1), date(2024, 5, 31)),
    )
    stretches = (WornStretch(date(2024, 4, 1), date(2024, 4, 20), 1.0),)
    charged = crown_share(untested(habits=habits, stretches=stretches))
    dry = crown_share(untested(stretches=stretches))
    assert year_with(*habits, stretches=stretches).share == pytest.approx(charged - dry)


def test_a_habit_makes_every_day_wet_from_its_first_to_its_last_but_not_today() -> None:
    year = year_with(Habit(shower(), 1.0, JANUARY), recorded_from=date(2024, 3, 1))
    assert (year.days[0].on, year.days[-1].on) == (date(2024, 3, 1), TODAY - timedelta(days=1))
    assert len(year.days) == (TODAY - date(2024, 3, 1)).days
    assert year.logged == ()
    assert year.may_be_wet(TODAY)  # the day is not over
    ended = year_with(Habit(shower(), 1.0, date(2024, 5, 1), date(2024, 5, 3)))
    assert [day.on.day for day in ended.days] == [1, 2, 3]
    assert not ended.may_be_wet(date(2024, 5, 4))


def test_a_habit_adds_to_the_days_that_were_logged() -> None:
    logged = WetDay(date(2024, 5, 2), 1, 2400, 0.01)
    year = year_with(Habit(shower(), 2.0, date(2024, 5, 1), date(2024, 5, 3)), logged=(logged,))
    first, second, third = year.days
    assert (first.count, second.count, third.count) == (0, 1, 0)
    assert second.share == pytest.approx(0.01 + first.share)
    assert (second.duration_s, second.habit_s) == (2400, 960)
    assert year.duration_s == 2400


def test_days_of_a_habit_of_less_than_once_a_day_are_not_known_and_not_dry() -> None:
    year = year_with(Habit(shower(), 2 / 7, date(2024, 5, 1)))
    assert year.days == ()
    assert len(year.undrawn) == 1
    assert year.may_be_wet(date(2024, 5, 1))
    assert not year.may_be_wet(date(2024, 4, 30))


def test_hot_air_is_no_habit_of_water() -> None:
    year = year_with(Habit(exposure(water="air", activity="sauna", depth_m=0.0, water_c=80.0), 1.0, JANUARY))
    assert year.days == ()
    assert not year.may_be_wet(date(2024, 5, 1))


def test_a_habit_costs_the_seal_that_was_in_place_on_each_day() -> None:
    changed = date(2024, 6, 1)
    old, new = seal(material="NBR"), seal(material="FKM", fitted=changed, id=2, event_id=9)
    habit = Habit(shower(water_c=60.0), 1.0, date(2024, 5, 31), changed)
    before, after = year_with(habit, seals=(old, new)).days
    assert before.share == pytest.approx(year_with(habit, seals=(old,)).days[0].share)
    assert after.share == pytest.approx(year_with(habit, seals=(new,)).days[1].share)
    assert before.share != pytest.approx(after.share, rel=1e-6)
