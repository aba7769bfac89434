"""Days of the past that are known roughly, and the years in which a watch may have been made."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.errors import BadInput
from logbook.text.spans import parse_span, parse_years

TODAY = date(2026, 11, 25)  # a Wednesday


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        # One day gives it twice.
        ("2025-03-14", "2025-03-14", "2025-03-14"),
        ("14 mar 2025", "2025-03-14", "2025-03-14"),
        ("yesterday", "2026-11-24", "2026-11-24"),
        ("today", "2026-11-25", "2026-11-25"),
        ("sat", "2026-11-21", "2026-11-21"),
        ("12 jul", "2026-07-12", "2026-07-12"),
        ("3 days ago", "2026-11-22", "2026-11-22"),
        ("2 weeks ago", "2026-11-11", "2026-11-11"),
        # A month, a year, a decade is all of its days.
        ("2025-05", "2025-05-01", "2025-05-31"),
        ("may 2025", "2025-05-01", "2025-05-31"),
        ("May, 2025", "2025-05-01", "2025-05-31"),
        ("in may 2025", "2025-05-01", "2025-05-31"),
        ("february 2024", "2024-02-01", "2024-02-29"),
        ("sept 2025", "2025-09-01", "2025-09-30"),
        ("2025", "2025-01-01", "2025-12-31"),
        ("in 2025", "2025-01-01", "2025-12-31"),
        ("1990s", "1990-01-01", "1999-12-31"),
        ("the 90s", "1990-01-01", "1999-12-31"),
        # A month without its year is the last that has begun.
        ("may", "2026-05-01", "2026-05-31"),
        ("december", "2025-12-01", "2025-12-31"),
        # What is not over yet ends today.
        ("2026", "2026-01-01", "2026-11-25"),
        ("nov 2026", "2026-11-01", "2026-11-25"),
        ("november", "2026-11-01", "2026-11-25"),
        ("2026-11", "2026-11-01", "2026-11-25"),
        ("autumn 2026", "2026-09-01", "2026-11-25"),
        ("2020s", "2020-01-01", "2026-11-25"),
        ("this year", "2026-01-01", "2026-11-25"),
        ("2024..2026", "2024-01-01", "2026-11-25"),
        # So many months or years ago is that calendar month or year.
        ("3 months ago", "2026-08-01", "2026-08-31"),
        ("a month ago", "2026-10-01", "2026-10-31"),
        ("11 months ago", "2025-12-01", "2025-12-31"),
        ("2 years ago", "2024-01-01", "2024-12-31"),
        ("a year ago", "2025-01-01", "2025-12-31"),
        ("last year", "2025-01-01", "2025-12-31"),
        ("last month", "2026-10-01", "2026-10-31"),
        # Northern seasons; a winter belongs to the year in which it begins.
        ("spring 2025", "2025-03-01", "2025-05-31"),
        ("summer 2025", "2025-06-01", "2025-08-31"),
        ("autumn 2025", "2025-09-01", "2025-11-30"),
        ("fall 2025", "2025-09-01", "2025-11-30"),
        ("winter 2025", "2025-12-01", "2026-02-28"),
        ("winter 2023", "2023-12-01", "2024-02-29"),
        ("winter 2025/26", "2025-12-01", "2026-02-28"),
        # Ranges, of anything.
        ("2015..2020", "2015-01-01", "2020-12-31"),
        ("2015 to 2020", "2015-01-01", "2020-12-31"),
        ("2015-2020", "2015-01-01", "2020-12-31"),
        ("2015 – 2020", "2015-01-01", "2020-12-31"),
        ("may 2025..2026-01", "2025-05-01", "2026-01-31"),
        ("2019-01-01..2022-06-30", "2019-01-01", "2022-06-30"),
        ("spring 2025 .. 14 jul 2025", "2025-03-01", "2025-07-14"),
        ("3 to 10 jul 2024", "2024-07-03", "2024-07-10"),
        ("may..july 2024", "2024-05-01", "2024-07-31"),
        ("nov..feb 2025", "2024-11-01", "2025-02-28"),
        ("2 years ago..last month", "2024-01-01", "2026-10-31"),
        ("2025..may 2025", "2025-01-01", "2025-05-31"),
    ],
)
def test_a_span_has_its_first_and_its_last_day(text: str, first: str, last: str) -> None:
    assert parse_span(text, TODAY) == (date.fromisoformat(first), date.fromisoformat(last))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("before 2015", "'before 2015' has one end: write both, such as 2015..2020"),
        ("after may 2015", "has one end"),
        ("since 2015", "has one end"),
        ("2015..", "'2015..' has one end"),
        ("..2015", "has one end"),
        ("2020..2015", "'2020..2015' runs backwards: write the earlier day first"),
        ("2025-05-02..2025-05-01", "runs backwards"),
        ("2027", "'2027' begins on 2027-01-01 and lies in the future: today is 2026-11-25"),
        ("tomorrow", "'tomorrow' lies in the future: today is 2026-11-25"),
        ("dec 2026", "lies in the future"),
        ("winter 2026", "'winter 2026' begins on 2026-12-01 and lies in the future"),
        ("2025..2028", "'2028' begins on 2028-01-01 and lies in the future"),
        ("2026-11-26", "lies in the future"),
        ("", "not a date or a span of time: write 2025-03-14, may 2025, spring 2025"),
        ("..", "has one end"),
        ("never", "'never' is not a date or a span of time"),
        ("2025-13", "not a date or a span of time"),
        ("winter 2025/27", "not a date or a span of time"),
        ("spring", "not a date or a span of time"),
        ("12/07/2026", "day first or month first: write the year first"),
        ("31 feb 2025", "not in the calendar"),
        ("1700", "a date lies from 1850-01-01"),
        ("9999 years ago", "not a date or a span of time"),
        ("2" * 500, "not a date or a span of time"),
    ],
)
def test_what_is_no_span_of_the_past_is_refused_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence) as caught:
        parse_span(text, TODAY, "fitted")
    assert caught.value.where == "fitted"
    assert "\n" not in caught.value.message


@pytest.mark.parametrize(
    ("text", "years"),
    [
        ("1998", (1998, 1998)),
        ("1998..2003", (1998, 2003)),
        ("1998 to 2003", (1998, 2003)),
        ("1998-2003", (1998, 2003)),
        ("1990s", (1990, 1999)),
        ("the 1990s", (1990, 1999)),
        ("the 90s", (1990, 1999)),
        ("'90s", (1990, 1999)),
        ("60s..1972", (1960, 1972)),
        ("the 30s", (1930, 1939)),
        ("2020s", (2020, 2026)),
        ("the 20s", (2020, 2026)),
        ("2026", (2026, 2026)),
    ],
)
def test_years_of_making_are_a_year_a_range_or_a_decade(text: str, years: tuple[int, int]) -> None:
    assert parse_years(text, TODAY) == years


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("may 1998", "'may 1998' is not a year or a span of years: write 1998, 1998..2003 or 1990s"),
        ("98", "not a year or a span of years"),
        ("", "not a year or a span of years"),
        ("1998..", "not a year or a span of years"),
        ("2003..1998", "2003..1998 runs backwards: write the earlier year first"),
        ("2027", "No watch was made in 2027: a year lies from 1850 to 2026"),
        ("1700", "No watch was made in 1700"),
    ],
)
def test_what_is_no_year_is_refused_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence) as caught:
        parse_years(text, TODAY, "--made")
    assert caught.value.where == "--made"
