"""Days known only as a span: a month, a year, a decade or a range, as people write them."""

from __future__ import annotations

import calendar
import re
from datetime import date

from logbook.errors import BadInput
from logbook.exchange.dates import MONTHS, parse_date
from logbook.reckoning.text import printable

_YEAR = re.compile(r"([0-9]{4})")
_DECADE = re.compile(r"(?:the )?([0-9]{3}0)s")
_YEARS = re.compile(r"([0-9]{4}) ?(?:\.\.|-|–|to) ?([0-9]{4})")
_ISO_MONTH = re.compile(r"([0-9]{4})-([0-9]{1,2})")
_MONTH_YEAR = re.compile(r"([a-z]{3,9}) ([0-9]{4})")
_ENDS = re.compile(r"(.*?) ?(?:\.\.| to ) ?(.*)")


def parse_span(text: str, today: date, where: str = "date") -> tuple[date, date]:
    """First and last day that `text` may mean: twice the same for a day; raises BadInput."""
    words = " ".join(text.casefold().split())
    if len(words) <= 80 and (ends := _ENDS.fullmatch(words)) and ends[1] and ends[2]:
        first, last = parse_span(ends[1], today, where)[0], parse_span(ends[2], today, where)[1]
        if last < first:
            raise BadInput(f"{first}..{last} runs backwards: write the earlier day first.", where=where)
        return first, last
    found = _one(words, where)
    if found is None:
        day = parse_date(text, today, where=where)
        return day, day
    return found[0], min(found[1], today) if found[0] <= today else found[1]


def happened_on(text: str, today: date, where: str = "date") -> tuple[date, date]:
    """As `parse_span`, for what is past: this month and this year reach up to today."""
    return parse_span(text, today, where)


def _one(words: str, where: str) -> tuple[date, date] | None:
    year, month = 0, 0
    if match := _YEAR.fullmatch(words):
        year = int(match[1])
    elif match := _ISO_MONTH.fullmatch(words):
        year, month = int(match[1]), int(match[2])
    elif (match := _MONTH_YEAR.fullmatch(words)) and (month := _month(match[1])):
        year = int(match[2])
    elif _DECADE.fullmatch(words):
        first, last = _years(words, where)
        return date(first, 1, 1), date(last, 12, 31)
    if not year:
        return None
    if not (1 <= month <= 12 or month == 0) or year < 1000:
        raise BadInput(f"'{printable(words, 40)}' is no month of a year, such as 2025-05.", where=where)
    if month:
        return date(year, month, 1), date(year, month, calendar.monthrange(year, month)[1])
    return date(year, 1, 1), date(year, 12, 31)


def _month(word: str) -> int:
    return next((n for n, name in enumerate(MONTHS, 1) if word in (name, name[:3], name[:4])), 0)


def parse_years(text: str, today: date, where: str = "made") -> tuple[int, int]:
    """First and last year of a year, a decade or a range of years; raises BadInput."""
    first, last = _years(text, where)
    if first > today.year:
        raise BadInput(f"No watch was made in {first}: today is {today}.", where=where)
    return first, min(last, today.year)


def _years(text: str, where: str) -> tuple[int, int]:
    words = " ".join(text.casefold().split())[:80]
    if match := _YEAR.fullmatch(words):
        return int(match[1]), int(match[1])
    if match := _DECADE.fullmatch(words):
        return int(match[1]), int(match[1]) + 9
    if match := _YEARS.fullmatch(words):
        if int(match[1]) <= int(match[2]):
            return int(match[1]), int(match[2])
        raise BadInput(f"{match[1]} to {match[2]} runs backwards: the earlier year first.", where=where)
    shown = printable(text.strip(), 40)
    raise BadInput(f"'{shown}' is no year or years: write 1994, 1990s or 1990..1995.", where=where)
