"""Every date phrase under one fixed day: Wednesday, 25 November 2026."""

from __future__ import annotations

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.errors import BadInput
from logbook.text.dates import WEEKDAYS, is_span, parse_date, parse_range, parse_span, parse_time

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-07-03", "2026-07-03"),
        ("2026-7-3", "2026-07-03"),
        ("1999-12-31", "1999-12-31"),
        ("2027-01-01", "2027-01-01"),
        ("today", "2026-11-25"),
        ("Today", "2026-11-25"),
        (" yesterday ", "2026-11-24"),
        ("tomorrow", "2026-11-26"),
        ("wed", "2026-11-25"),
        ("wednesday", "2026-11-25"),
        ("tue", "2026-11-24"),
        ("tues", "2026-11-24"),
        ("thu", "2026-11-19"),
        ("sat", "2026-11-21"),
        ("Saturday", "2026-11-21"),
        ("sun", "2026-11-22"),
        ("12 mar", "2026-03-12"),
        ("12 March", "2026-03-12"),
        ("mar 12", "2026-03-12"),
        ("25 nov", "2026-11-25"),
        ("26 nov", "2025-11-26"),
        ("31 dec", "2025-12-31"),
        ("29 feb", "2024-02-29"),
        ("3 sept", "2026-09-03"),
        ("12 mar 2026", "2026-03-12"),
        ("12 mar 2031", "2031-03-12"),
        ("march 12, 2026", "2026-03-12"),
        ("0 days ago", "2026-11-25"),
        ("3 days ago", "2026-11-22"),
        ("1 day ago", "2026-11-24"),
        ("a week ago", "2026-11-18"),
        ("2 weeks ago", "2026-11-11"),
        ("in 3 days", "2026-11-28"),
    ],
)
def test_a_date_phrase_names_its_day(text: str, day: str) -> None:
    assert parse_date(text, TODAY) == date.fromisoformat(day)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("sat", "2026-11-28"),
        ("wed", "2026-11-25"),
        ("tue", "2026-12-01"),
        ("12 mar", "2027-03-12"),
        ("25 nov", "2026-11-25"),
        ("24 nov", "2027-11-24"),
        ("29 feb", "2028-02-29"),
        ("yesterday", "2026-11-24"),
        ("2026-07-03", "2026-07-03"),
    ],
)
def test_of_what_is_planned_the_next_such_day_is_meant(text: str, day: str) -> None:
    assert parse_date(text, TODAY, ahead=True) == date.fromisoformat(day)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("3/7/2026", "day first or month first: write the year first, such as 2026-07-03"),
        ("03.07.2026", "day first or month first"),
        ("3-7-2026", "day first or month first"),
        ("2026/07/03", "write the year first, such as 2026-07-03"),
        ("3/7/26", "day first or month first"),
        ("2026-02-30", "not in the calendar"),
        ("2026-13-01", "not in the calendar"),
        ("0000-01-01", "not in the calendar"),
        ("31 apr", "not in the calendar"),
        ("30 feb 2026", "not in the calendar"),
        ("29 feb 2026", "not in the calendar"),
        ("0 mar", "not in the calendar"),
        ("12 mar 26", "is not a date"),
        ("12 foo", "is not a date"),
        ("3 months ago", "is not a date"),
        ("sa", "is not a date"),
        ("", "is not a date"),
        ("sometime", "is not a date"),
        ("٣ mar", "is not a date"),
        ("x" * 10_000, "is not a date"),
        ("\x1b[2J", "is not a date"),
    ],
)
def test_what_is_no_date_is_refused_with_what_would_be_right(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words) as caught:
        parse_date(text, TODAY, where="on")
    assert caught.value.where == "on"
    assert "\x1b" not in caught.value.message
    assert len(caught.value.message) < 160


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)), st.sampled_from(WEEKDAYS))
def test_a_weekday_is_within_the_last_seven_days_and_within_the_next_when_planned(
    today: date, name: str
) -> None:
    last, following = parse_date(name, today), parse_date(name, today, ahead=True)
    assert f"{last:%A}".casefold() == f"{following:%A}".casefold() == name
    assert 0 <= (today - last).days <= 6
    assert 0 <= (following - today).days <= 6


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)), st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_a_day_and_month_is_the_last_such_day_and_a_full_date_is_itself(today: date, day: date) -> None:
    assert parse_date(day.isoformat(), today) == day
    assert parse_date(f"{day.day} {day:%b %Y}", today) == day
    found = parse_date(f"{day.day} {day:%b}", today)
    assert found <= today
    assert (found.month, found.day) == (day.month, day.day)
    assert (today - found).days <= 366 or (day.month, day.day) == (2, 29)


def test_a_shift_off_the_calendar_is_refused() -> None:
    with pytest.raises(BadInput, match="not in the calendar"):
        parse_date("2 days ago", date(1, 1, 2))
    with pytest.raises(BadInput, match="not in the calendar"):
        parse_date("tomorrow", date(9999, 12, 31))
    with pytest.raises(BadInput, match="not in the calendar"):
        parse_date("12 mar", date(1, 1, 2))


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("10:40", time(10, 40)),
        ("9:05", time(9, 5)),
        ("09:05", time(9, 5)),
        ("0:00", time(0)),
        ("23:59", time(23, 59)),
        ("10:40:30", time(10, 40, 30)),
    ],
)
def test_a_time_is_read_on_the_24_hour_clock(text: str, clock: time) -> None:
    assert parse_time(text) == clock


@pytest.mark.parametrize(
    "text", ["24:00", "10:60", "10.40", "9pm", "1040", "", "10:4", "-1:00", "10:40:61", "٩:٠٥"]
)
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="not a time of day: write 10:40"):
        parse_time(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2020-01-01..2021-06-30", ("2020-01-01", "2021-06-30")),
        ("2020-01-01 .. 2021-06-30", ("2020-01-01", "2021-06-30")),
        ("2020-01-01", ("2020-01-01", "2020-01-01")),
        ("12 mar..yesterday", ("2026-03-12", "2026-11-24")),
        ("unknown", None),
        ("Unknown ", None),
    ],
)
def test_a_range_has_two_ends_or_one_day_or_is_unknown(text: str, expected: tuple[str, str] | None) -> None:
    found = parse_range(text, TODAY)
    assert found == (expected and tuple(date.fromisoformat(day) for day in expected))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2021-06-30..2020-01-01", "runs backwards: write the earlier day first"),
        ("2021-06-30..", "has one end"),
        ("..2021-06-30", "has one end"),
        ("..", "has one end"),
        ("2020..2021", "is not a date"),
        ("2020-01-01..2020-02-01..2020-03-01", "is not a date"),
        ("", "is not a date"),
    ],
)
def test_a_broken_range_is_refused(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        parse_range(text, TODAY)


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("12 jul to 20 jul", "2027-07-12", "2027-07-20"),
        ("12 to 20 jul", "2027-07-12", "2027-07-20"),
        ("12–20 Jul 2028", "2028-07-12", "2028-07-20"),
        ("12 jul..20 jul", "2027-07-12", "2027-07-20"),
        ("2026-12-28 to 2027-01-03", "2026-12-28", "2027-01-03"),
        ("28 dec until 3 jan", "2026-12-28", "2027-01-03"),
        ("28 dec to 3 jan 2029", "2028-12-28", "2029-01-03"),
        ("28 Jun to 3 Jul 2028", "2028-06-28", "2028-07-03"),
        ("24 nov to 2 dec", "2026-11-24", "2026-12-02"),
        ("sat to wed", "2026-11-28", "2026-12-02"),
        ("today to sun", "2026-11-25", "2026-11-29"),
        ("tomorrow to in 5 days", "2026-11-26", "2026-11-30"),
        ("in 2 weeks to in 3 weeks", "2026-12-09", "2026-12-16"),
    ],
)
def test_the_days_of_a_trip_are_the_next_such_days(text: str, first: str, last: str) -> None:
    assert is_span(text)
    assert parse_span(text, TODAY) == (date.fromisoformat(first), date.fromisoformat(last))


@pytest.mark.parametrize(
    ("today", "text", "first", "last"),
    [
        ("2026-07-10", "12 to 20 jul", "2026-07-12", "2026-07-20"),
        ("2026-07-14", "12 to 20 jul", "2026-07-12", "2026-07-20"),
        ("2026-07-14", "12 jul..20 jul", "2026-07-12", "2026-07-20"),
        ("2026-07-14", "Jul 12 to Jul 20", "2026-07-12", "2026-07-20"),
        ("2026-07-20", "12 to 20 jul", "2026-07-12", "2026-07-20"),
        ("2026-07-21", "12 to 20 jul", "2027-07-12", "2027-07-20"),
        ("2026-07-14", "14 jul to 14 jul", "2026-07-14", "2026-07-14"),
        ("2026-06-20", "1 jun to 30 jun", "2026-06-01", "2026-06-30"),
        ("2027-01-02", "28 dec to 3 jan", "2026-12-28", "2027-01-03"),
        ("2027-01-04", "28 dec to 3 jan", "2027-12-28", "2028-01-03"),
        ("2026-07-14", "29 feb to 3 mar", "2028-02-29", "2028-03-03"),
        ("2026-07-14", "sat to sat", "2026-07-18", "2026-07-25"),
        ("2026-07-18", "sat to saturday", "2026-07-18", "2026-07-25"),
        ("2026-07-14", "sat to wed", "2026-07-18", "2026-07-22"),
        ("2026-07-14", "12 jul to sat", "2026-07-12", "2026-07-18"),
        ("2026-07-01", "12 jul to sat", "2026-07-12", "2026-07-18"),
        ("2026-07-14", "sat to 20 jul", "2026-07-18", "2026-07-20"),
        ("2026-07-19", "sat to 20 jul", "2026-07-18", "2026-07-20"),
        ("2026-07-14", "sat to 5 aug 2026", "2026-07-18", "2026-08-05"),
        ("2026-07-14", "12 jul to tomorrow", "2026-07-12", "2026-07-15"),
        ("2026-07-10", "12 jul to in 5 days", "2026-07-12", "2026-07-15"),
        ("2026-07-14", "yesterday to 20 jul", "2026-07-13", "2026-07-20"),
        ("2026-07-14", "2026-07-12 to 20 jul", "2026-07-12", "2026-07-20"),
        ("2026-07-14", "12 to 20 jul 2026", "2026-07-12", "2026-07-20"),
    ],
)
def test_a_trip_may_have_begun_and_its_last_day_is_the_next_such_day(
    today: str, text: str, first: str, last: str
) -> None:
    found = parse_span(text, date.fromisoformat(today))
    assert found == (date.fromisoformat(first), date.fromisoformat(last))


@pytest.mark.parametrize("today", ["2026-01-01", "2026-07-01", "2026-07-14", "2026-07-20", "2026-12-31"])
@pytest.mark.parametrize("text", ["20 to 12 jul", "20 jul to 12 jul", "jul 20..jul 12", "20 to 12 jul 2027"])
def test_a_trip_that_runs_backwards_is_refused_on_every_day_of_the_year(today: str, text: str) -> None:
    with pytest.raises(
        BadInput, match=r"^The trip runs backwards: .*20.* is after .*12.*\. Write the earlier"
    ):
        parse_span(text, date.fromisoformat(today))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("12 jul to", "one end"),
        ("to 20 jul", "one end"),
        ("12 jul", "one end"),
        ("someday to 20 jul", "'someday' is not a date"),
        ("12 jul to someday", "'someday' is not a date"),
        ("12 to 20", "is not a date"),
        ("31 to 30 jun", "not in the calendar|not a date|runs backwards"),
        ("2026-12-20 to 2026-12-12", "runs backwards"),
        ("in 5 days to tomorrow", "runs backwards"),
        ("9" * 400 + " to 12 jul", "one end"),
    ],
)
def test_days_that_are_no_trip_are_refused_in_words(text: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        parse_span(text, TODAY)


@pytest.mark.parametrize("text", ["12 jul", "2026-12-20", "tomorrow", "", "tomorrow 10:40", "in 3 days"])
def test_a_single_day_is_no_span(text: str) -> None:
    assert not is_span(text)
