"""A day of the past that may be known only roughly, and the years in which a watch may have been made.

A month, a season, a year or a decade is all of its days; if it is not over yet, those up to today.
Seasons are northern and have three whole months: a winter belongs to the year in which it begins, so that
`winter 2024` is December 2024 to February 2025. `3 months ago` is that calendar month, `2 years ago` that
calendar year; days and weeks ago are counted to the day.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from logbook.errors import BadInput
from logbook.model.ranges import FIRST_DAY, check_day
from logbook.model.text import printable
from logbook.text.dates import LONGEST_SPAN, MONTH_OF, NoDate, parse_date

Span = tuple[date, date]

EXAMPLES = "2025-03-14, may 2025, spring 2025, 2025 or 2019..2022"
YEAR_EXAMPLES = "1998, 1998..2003 or 1990s"
_FIRST_MONTH: Mapping[str, int] = MappingProxyType(
    {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}
)
_ENDS = re.compile(r"(.*?)(?: to | until | ?\.\. ?| [–—-] |[–—])(.*)")
_YEARS_APART = re.compile(r"([12][0-9]{3})-([12][0-9]{3})")
_YEAR = re.compile(r"(?:in )?([12][0-9]{3})")
_DECADE = re.compile(r"(?:in )?(?:the )?'?([12][0-9])?([0-9])0'?s")
_YEAR_MONTH = re.compile(r"([12][0-9]{3})-([0-9]{1,2})")
_MONTH_YEAR = re.compile(r"(?:in )?([a-z]+),? ([12][0-9]{3})")
_MONTH = re.compile(r"(?:in )?([a-z]+)")
_WINTER_OF_TWO = re.compile(r"winter ([12][0-9]{3})[/-]([0-9]{2})")
_AGO = re.compile(r"([0-9]{1,4}|an?) (months?|years?) ago")
_NEAR: Mapping[str, tuple[int, str]] = MappingProxyType(
    {
        f"{word} {unit}": (back, unit)
        for back, word in enumerate(("this", "last"))
        for unit in ("month", "year")
    }
)
_DAY = re.compile(r"[0-9]{1,2}")
_ONE_ENDED = re.compile(r"(before|after|since|until|till|by) \S.*")


def parse_span(text: str, today: date, where: str = "date") -> Span:
    """First and last day of what `text` names, both in the past; a single day is both.

    Raises BadInput with what would be right: where there is no date or only one end, where it lies in the
    future, and where a range runs backwards. A span that has begun ends `today` at the latest.
    """
    words = _tidy(text)
    if _ONE_ENDED.fullmatch(words):
        raise _one_end(text, where)
    ends = _ends(words)
    if ends is None:
        first, last = _unit(words, today, where)
    else:
        if not all(ends):
            raise _one_end(text, where)
        after = _unit(ends[1], today, where)
        (first, _), last = _unit(_completed(ends[0], after[0]), today, where), after[1]
        if last < first:
            shown = printable(text.strip(), 40)
            raise BadInput(f"'{shown}' runs backwards: write the earlier day first.", where=where)
    return first, min(last, today)


def parse_years(text: str, today: date, where: str = "made") -> tuple[int, int]:
    """First and last year of `1998`, `1998..2003`, `1990s` or `the 90s`; else raises BadInput."""
    words = _tidy(text)
    parts = _ends(words) or (words, words)
    found = [_years(part, today) for part in parts]
    (first, _), (_, last) = (years or (0, 0) for years in found)
    if None in found:
        shown = printable(text.strip(), 40)
        raise BadInput(f"'{shown}' is not a year or a span of years: write {YEAR_EXAMPLES}.", where=where)
    if last < first:
        raise BadInput(f"{first}..{last} runs backwards: write the earlier year first.", where=where)
    if not FIRST_DAY.year <= first <= today.year:
        span = f"from {FIRST_DAY.year} to {today.year}"
        raise BadInput(f"No watch was made in {first}: a year lies {span}.", where=where)
    return first, min(last, today.year)


def _tidy(text: str) -> str:
    return " ".join(text.casefold().split())


def _ends(words: str) -> tuple[str, str] | None:
    """The two ends of a range as typed; None for a single date."""
    if len(words) > LONGEST_SPAN:
        return None
    match = _YEARS_APART.fullmatch(words) or _ENDS.fullmatch(words)
    return (match[1].strip(), match[2].strip()) if match else None


def _completed(first: str, after: date) -> str:
    """Completes a first end without month or year from the last: `3 to 10 jul 2024`, `may..jul 2024`."""
    if _DAY.fullmatch(first):
        return f"{after.year:04}-{after.month:02}-{first}"
    if first in MONTH_OF:
        month = MONTH_OF[first] + 1
        return f"{after.year if month <= after.month else after.year - 1:04}-{month:02}"
    return first


def _unit(words: str, today: date, where: str) -> Span:
    """The days of one date, month, season, year or decade that has begun; raises BadInput otherwise."""
    found = _years(words, today)
    if found is not None:
        span: Span | None = (date(found[0], 1, 1), date(found[1], 12, 31))
    else:
        span = _of_months(words, today)
    if span is None:
        try:
            day = parse_date(words, today, where=where)
        except NoDate as error:
            if "year first" in error.message:
                raise
            shown = printable(words, 40)
            raise NoDate(
                f"'{shown}' is not a date or a span of time: write {EXAMPLES}.", where=where
            ) from None
        span = day, day
    first, last = span
    if first > today:
        begins = "" if first == last else f" begins on {first} and"
        shown = printable(words, 40)
        raise BadInput(f"'{shown}'{begins} lies in the future: today is {today}.", where=where)
    check_day(first, "A day", where, today=today)
    return first, last


def _years(words: str, today: date) -> tuple[int, int] | None:
    """The years of a year or a decade; a decade without a century is the last one that has begun."""
    if match := _YEAR.fullmatch(words):
        return int(match[1]), int(match[1])
    if match := _DECADE.fullmatch(words):
        if match[1]:
            first = int(match[1] + match[2]) * 10
        else:
            first = today.year // 100 * 100 + int(match[2]) * 10
            first -= 100 if first > today.year else 0
        return first, first + 9
    return None


def _of_months(words: str, today: date) -> Span | None:
    """The days of a month, a season, or a month or year so long ago; None for anything else."""
    if words in _NEAR:
        return _so_long_ago(*_NEAR[words], today)
    if match := _AGO.fullmatch(words):
        count = int(match[1]) if match[1].isdigit() else 1
        return _so_long_ago(count, match[2].removesuffix("s"), today)
    if match := _YEAR_MONTH.fullmatch(words):
        month = int(match[2])
        return _months(int(match[1]), month, 1) if 1 <= month <= 12 else None
    if (match := _WINTER_OF_TWO.fullmatch(words)) and (int(match[1]) + 1) % 100 == int(match[2]):
        return _months(int(match[1]), 12, 3)
    if (match := _MONTH_YEAR.fullmatch(words)) and match[1] in _FIRST_MONTH:
        return _months(int(match[2]), _FIRST_MONTH[match[1]], 3)
    if match and match[1] in MONTH_OF:
        return _months(int(match[2]), MONTH_OF[match[1]] + 1, 1)
    if (match := _MONTH.fullmatch(words)) and match[1] in MONTH_OF:
        month = MONTH_OF[match[1]] + 1
        return _months(today.year if month <= today.month else today.year - 1, month, 1)
    return None


def _so_long_ago(count: int, unit: str, today: date) -> Span | None:
    """The calendar month or year so many before today's; None before the calendar begins."""
    months = today.year * 12 + today.month - 1 - count * (12 if unit == "year" else 1)
    year = months // 12
    if year < 1:
        return None
    return (date(year, 1, 1), date(year, 12, 31)) if unit == "year" else _months(year, months % 12 + 1, 1)


def _months(year: int, month: int, count: int) -> Span:
    """All days of so many months, starting with a given one."""
    last = year * 12 + month - 1 + count - 1
    last_year, last_month = last // 12, last % 12 + 1
    return date(year, month, 1), date(last_year, last_month, monthrange(last_year, last_month)[1])


def _one_end(text: str, where: str) -> BadInput:
    shown = printable(text.strip(), 40)
    return BadInput(f"'{shown}' has one end: write both, such as 2015..2020.", where=where)
