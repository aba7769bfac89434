"""A year of water as a strip: the right day in the right cell, told apart without colour, said in words."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from logbook.model.values import Habit
from logbook.model.wear.wet_days import WetDay, Year
from logbook.tui.pictures import water_strip
from logbook.tui.pictures.water_strip import DRY, GLYPHS, INDENT, UNKNOWN
from logbook.tui.shell.ink import STYLES
from tests.model.builders import exposure
from tests.tui.helpers import text_of

TODAY, SINCE = date(2026, 11, 25), date(2026, 1, 20)


def strip(year: Year, width: int = 77, since: date = SINCE, today: date = TODAY) -> list[str]:
    return text_of(water_strip.strip(year, since, today, width)).splitlines()


@st.composite
def years(draw: st.DrawFn) -> Year:
    number = draw(st.integers(1950, 2090))
    last = (date(number, 12, 31) - date(number, 1, 1)).days
    at = sorted(draw(st.sets(st.integers(0, last), max_size=40)))
    return Year(
        number,
        tuple(
            WetDay(
                date(number, 1, 1) + timedelta(days=n),
                1,
                draw(st.integers(0, 9999)),
                draw(st.floats(0, 0.02)),
            )
            for n in at
        ),
    )


@settings(max_examples=60)
@given(years(), st.sampled_from((58, 77, 112, 150)))
@example(Year(2012, (WetDay(date(2012, 12, 31), 1, 600),)), 58)  # 54 weeks
def test_each_day_stands_in_the_column_of_its_week_and_the_row_of_its_weekday(year: Year, width: int) -> None:
    rows = strip(year, width, since=date(year.year, 1, 1), today=date(year.year, 12, 31))
    assert len(rows) == 8
    assert {cell_len(row) for row in rows[1:]} == {cell_len(rows[1])}
    assert max(cell_len(row) for row in rows) <= width
    cells = 2 if width >= 112 else 1
    wet = {day.on: day for day in year.days}
    first = date(year.year, 1, 1)
    while first.isocalendar().weekday != 1:  # the Monday of the first column
        first -= timedelta(days=1)
    for n in range(366):
        day = date(year.year, 1, 1) + timedelta(days=n)
        if day.year != year.year:
            continue
        # datetime.isocalendar() of the standard library follows ISO 8601.
        column = (day - timedelta(days=day.isocalendar().weekday - 1) - first).days // 7
        glyph = rows[day.isocalendar().weekday][INDENT + column * cells]
        assert glyph == (GLYPHS[year.level(wet[day])] if day in wet else DRY)


def test_months_stand_over_the_week_in_which_they_begin() -> None:
    heads = strip(Year(2026, ()))[0]
    for month, name in ((1, "Jan"), (3, "Mar"), (8, "Aug"), (12, "Dec")):
        first = date(2026, month, 1)
        # 1 Jan 2026 is a Thursday, so that columns are the ISO weeks of 2026.
        assert heads.index(name) == INDENT + first.isocalendar().week - 1


def test_days_before_the_record_and_days_to_come_are_blank_but_for_water() -> None:
    early = WetDay(date(2026, 1, 5), 1, 600)
    rows = strip(Year(2026, (early,)))
    text = "".join(row[INDENT:] for row in rows[1:])
    assert text.count(DRY) == (TODAY - SINCE).days + 1
    assert rows[1][INDENT + 1] == GLYPHS[4]  # Monday of the second week
    assert rows[1][INDENT + 2] == UNKNOWN


def test_levels_differ_without_colour_and_every_role_is_known() -> None:
    assert len({DRY, UNKNOWN, *GLYPHS[1:]}) == 6
    year = Year(2026, (WetDay(date(2026, 5, 5), 1, 600, 0.01),))
    lines = water_strip.lines(year, "crown", SINCE, TODAY, 77)
    assert {role for line in lines for _, role in line} <= STYLES.keys()


A_YEAR = Year(
    2026,
    (
        WetDay(date(2026, 7, 11), 1, 1800, 0.002), WetDay(date(2026, 7, 12), 2, 3600, 0.008),
        WetDay(date(2026, 8, 1), 1, 2400, 0.0045), WetDay(date(2026, 2, 2), 1, 600, 0.0001),
    ),
)  # fmt: skip


def test_the_year_is_said_in_words_with_its_costliest_day() -> None:
    assert water_strip.in_words(A_YEAR, "crown") == (
        "2026: 4 days with water, 140 min, most in July (2); the costliest day 12 Jul took 0.80 of 100 "
        "of the crown seal, all of them 1.5."
    )
    assert water_strip.by_month(A_YEAR).replace("\u00a0", " ") == "days by month: Feb 1, Jul 2, Aug 1"


def test_the_legend_gives_each_glyph_its_bounds_and_their_unit() -> None:
    assert water_strip.legend(A_YEAR, SINCE, TODAY) == (
        "· dry, ░ under 0.2, ▒ from 0.2, ▓ from 0.4, █ from 0.6 of 100 a day, "
        "blank: not on record, or still to come"
    )
    whole = water_strip.legend(A_YEAR, date(2020, 1, 1), date(2027, 1, 1))
    assert whole.endswith("of 100 a day")


@pytest.mark.parametrize(
    ("days", "said", "legend"),
    [
        ((), "2026: no day with water on record.", "· dry, blank"),
        (
            (WetDay(date(2026, 7, 1), 1, 1800),),
            "the longest day 1 Jul, 30 min. It cost no seal of this place anything.",
            "█ from 30 minutes a day",
        ),
        ((WetDay(date(2026, 7, 1), 1, 0),), "the longest day 1 Jul, 0 min", "░ water, which cost nothing"),
    ],
)
def test_a_year_without_cost_says_so(days: tuple[WetDay, ...], said: str, legend: str) -> None:
    year = Year(2026, days)
    assert said in water_strip.in_words(year, "crown")
    assert legend in water_strip.legend(year, SINCE, TODAY)


def habit(activity: str, water: str, per_day: float, since: date = date(2024, 10, 8)) -> Habit:
    return Habit(exposure(activity=activity, water=water), per_day, since)


SHOWER, SAUNA = habit("shower", "soap", 1.0), habit("sauna", "air", 2 / 7)


def test_a_daily_habit_stands_beside_the_days_on_record() -> None:
    daily = tuple(WetDay(date(2026, 8, n), 0, 0, 0.0001, 480.0) for n in range(2, 5))
    year = Year(2026, (*A_YEAR.days, *daily), (SHOWER,))
    assert water_strip.in_words(year, "crown").startswith(
        "2026: 4 days with water on record, 140 min, most in July (2), and a habit: shower once a day; "
        "the costliest day 12 Jul"
    )
    assert water_strip.by_month(year).replace("\u00a0", " ") == "days on record by month: Feb 1, Jul 2, Aug 1"
    (only,) = strip(Year(2026, daily, (SHOWER,)), since=TODAY)[3:4]
    assert DRY not in only  # a Tuesday; today, a Wednesday, is not over
    assert water_strip.in_words(Year(2026, daily, (SHOWER,)), "crown").startswith(
        "2026: no day with water on record, and a habit: shower once a day; the costliest day 2 Aug"
    )


def test_a_habit_without_known_days_is_said_in_words_and_no_day_is_called_dry() -> None:
    year = Year(2026, A_YEAR.days, (habit("shower", "soap", 2 / 7), SHOWER))
    words = water_strip.in_words(year, "crown")
    assert "and a habit: shower once a day, and a habit: shower twice a week, not drawn by day;" in words
    assert words.endswith("all that are drawn 1.5.")
    assert DRY not in "".join(row[INDENT:] for row in strip(year)[1:])
    legend = water_strip.legend(year, date(2020, 1, 1), date(2027, 1, 1))
    assert "blank: " in legend
    assert "a habit that is not drawn" in legend


def test_hot_air_is_told_apart_from_water() -> None:
    year = Year(2026, (), (SAUNA,), heat_days=1)
    assert water_strip.in_words(year, "crown") == (
        "2026: no day with water on record. Hot air is no water and not drawn: 1 day on record, sauna twice "
        "a week."
    )
    assert DRY in "".join(strip(year))


@settings(max_examples=40)
@given(years(), st.integers(60, 170))
def test_no_line_is_wider_than_its_place(year: Year, width: int) -> None:
    lines = water_strip.lines(year, "gas-valve", SINCE, TODAY, width)
    assert max(cell_len(row) for row in text_of(lines).splitlines()) <= width


# Looked at, and kept as it was found right.
LOOKED_AT = """\
    Jan Feb Mar  Apr May  Jun Jul Aug  Sep Oct Nov  Dec
Mon     ·░··········································
Tue    ·············································
Wed    ·············································
Thu    ············································
Fri    ············································
Sat    ························▒··▓················
Sun    ························█···················
"""


def test_a_drawn_example_is_as_it_was_looked_at() -> None:
    assert [row.rstrip() for row in strip(A_YEAR)] == LOOKED_AT.splitlines()
