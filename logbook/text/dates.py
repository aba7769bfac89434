"""Dates and times of day as people write them.

A weekday, or a day and month without a year, is the last such day, today included. With `ahead`, for plans,
it is the next such day, today included. Slashes and dots between numbers are refused: whether the day or the
month comes first depends on where one lives.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, time, timedelta
from types import MappingProxyType

from logbook.errors import BadInput
from logbook.model.text import printable

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
LONGEST_SPAN = 80  # characters
EXAMPLES = "2026-07-03, 3 jul, sat, yesterday or 3 days ago"


class NoDate(BadInput):
    """The text does not look like a date; other errors of this module are about impossible dates."""


def _beginnings(words: tuple[str, ...], *more: tuple[str, int]) -> Mapping[str, int]:
    table = {word[:length]: n for n, word in enumerate(words) for length in (3, len(word))}
    return MappingProxyType(table | dict(more))


WEEKDAY_OF = _beginnings(WEEKDAYS, ("tues", 1), ("thur", 3), ("thurs", 3))
MONTH_OF = _beginnings(MONTHS, ("sept", 8))  # every spelling of a month -> 0 to 11
NEAR: Mapping[str, int] = MappingProxyType({"today": 0, "yesterday": -1, "tomorrow": 1})
_STEP: Mapping[str, int] = MappingProxyType({"day": 1, "days": 1, "week": 7, "weeks": 7})

_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_AGO = re.compile(r"([0-9]{1,4}|an?) ([a-z]+) ago")
_IN = re.compile(r"in ([0-9]{1,4}|an?) ([a-z]+)")
_DAY_MONTH = re.compile(r"([0-9]{1,2}) ([a-z]+)(?: ([0-9]{4}))?")
_MONTH_DAY = re.compile(r"([a-z]+) ([0-9]{1,2})(?:,? ([0-9]{4}))?")
_NUMBERS = re.compile(r"[0-9]{1,4}([/.\-])[0-9]{1,2}\1[0-9]{1,4}")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?")
_SPAN = re.compile(r"(.*?)(?: to | until | ?\.\. ?| ?[–—] ?)(.*)")
_DAY = re.compile(r"[0-9]{1,2}")


def parse_date(text: str, today: date, *, ahead: bool = False, where: str = "date") -> date:
    """The day that `text` names, as seen from `today`; raises BadInput that says what would be right."""
    words = " ".join(text.casefold().split())
    if len(words) > 40:
        raise _no_date(text, where)
    if words in NEAR:
        return _shift(today, NEAR[words], text, where)
    if words in WEEKDAY_OF:
        back = (today.weekday() - WEEKDAY_OF[words]) % 7
        return _shift(today, (7 - back) % 7 if ahead else -back, text, where)
    for pattern, sign in ((_AGO, -1), (_IN, 1)):
        match = pattern.fullmatch(words)
        if match and match[2] in _STEP:
            count = int(match[1]) if match[1].isdigit() else 1
            return _shift(today, sign * count * _STEP[match[2]], text, where)
    match = _ISO.fullmatch(words)
    if match:
        return _calendar(int(match[1]), int(match[2]), int(match[3]), text, where)
    for pattern, day_at, month_at in ((_DAY_MONTH, 1, 2), (_MONTH_DAY, 2, 1)):
        match = pattern.fullmatch(words)
        if match and match[month_at] in MONTH_OF:
            month, day = MONTH_OF[match[month_at]] + 1, int(match[day_at])
            if match[3]:
                return _calendar(int(match[3]), month, day, text, where)
            return _without_year(month, day, today, ahead, text, where)
    raise _no_date(text, where)


def parse_range(
    text: str, today: date, *, ahead: bool = False, where: str = "date"
) -> tuple[date, date] | None:
    """First and last day of `A..B`; the same day twice for one date, None for `unknown`."""
    if text.strip().casefold() == "unknown":
        return None
    first_text, dots, last_text = text.partition("..")
    if dots and not (first_text.strip() and last_text.strip()):
        raise BadInput(
            f"'{printable(text, 40)}' has one end: write both, such as 2020-01-01..2021-06-30.", where=where
        )
    first = parse_date(first_text, today, ahead=ahead, where=where)
    last = parse_date(last_text, today, ahead=ahead, where=where) if dots else first
    if last < first:
        raise BadInput(f"{first}..{last} runs backwards: write the earlier day first.", where=where)
    return first, last


def is_span(text: str) -> bool:
    """True when the text names two days: `12 jul to 20 jul`, `12–20 jul`, `sat..wed`."""
    return len(text) <= LONGEST_SPAN and _SPAN.fullmatch(" ".join(text.casefold().split())) is not None


def parse_span(text: str, today: date, *, where: str = "date") -> tuple[date, date]:
    """First and last day of a planned trip, as in `parse_days`; raises BadInput with what would be right.

    A first day without a month takes the month of the last.
    """
    match = _SPAN.fullmatch(" ".join(text.casefold().split())) if len(text) <= LONGEST_SPAN else None
    first_text, last_text = (match[1].strip(), match[2].strip()) if match else ("", "")
    if not (first_text and last_text):
        shown = printable(text.strip(), 40)
        raise BadInput(f"'{shown}' has one end: write both, such as 12 jul to 20 jul.", where=where)
    month = _DAY_MONTH.fullmatch(last_text)
    if month and _DAY.fullmatch(first_text):
        first_text += last_text.removeprefix(month[1])
    return parse_days(first_text, last_text, today, where=(where, where))


def parse_days(first_text: str, last_text: str, today: date, *, where: tuple[str, str]) -> tuple[date, date]:
    """First and last day of a planned trip, perhaps begun already; raises BadInput with what would be right.

    The last day is the next such day, today included. A first day without a year is the nearest before the
    last; a first weekday is the next one, unless that is after the last. The same weekday twice is a week.
    `where` names the first and the last day in errors.
    """
    first_words, last_words = (" ".join(text.casefold().split()) for text in (first_text, last_text))
    first_where, last_where = where
    if first_words in WEEKDAY_OF and last_words in WEEKDAY_OF:
        first = parse_date(first_words, today, ahead=True, where=first_where)
        after = _shift(first, 1, last_words, last_where)
        last = parse_date(last_words, after, ahead=True, where=last_where)
    elif _is_yearless(last_words) and first_words not in WEEKDAY_OF:
        first, last = _first_not_over(first_words, last_words, today, where)
    else:
        last = parse_date(last_words, today, ahead=True, where=last_where)
        first = parse_date(first_words, today, ahead=True, where=first_where)
        if _is_day_of_year(first_words) or (first_words in WEEKDAY_OF and first > last):
            first = parse_date(first_words, last, where=first_where)
    if last < first or (
        _is_day_of_year(first_words) and first.month == last.month and first.year < last.year
    ):
        raise BadInput(
            f"The trip runs backwards: {printable(first_words, 40)} is after {printable(last_words, 40)}. "
            "Write the earlier day first.",
            where=last_where,
        )
    return first, last


def _first_not_over(
    first_words: str, last_words: str, today: date, where: tuple[str, str]
) -> tuple[date, date]:
    """The trip that is under way, else the next one, where the last day has no year."""
    first_where, last_where = where
    first = parse_date(first_words, today, ahead=True, where=first_where)
    if _is_day_of_year(first_words):
        begun = parse_date(first_words, today, where=first_where)
        last = parse_date(last_words, begun, ahead=True, where=last_where)
        if last >= today:
            return begun, last
    return first, parse_date(last_words, first, ahead=True, where=last_where)


def _is_yearless(words: str) -> bool:
    """True for a weekday, or a day and month without a year: dates that do not count from another day."""
    return words in WEEKDAY_OF or _is_day_of_year(words)


def _is_day_of_year(words: str) -> bool:
    """True for a day and month without a year."""
    return any((match := form.fullmatch(words)) and not match[3] for form in (_DAY_MONTH, _MONTH_DAY))


def parse_time(text: str, where: str = "time") -> time:
    """A time of day on the 24-hour clock, such as 10:40 or 9:05."""
    match = _CLOCK.fullmatch(text.strip()) if len(text) <= 40 else None
    if match:
        hour, minute, second = int(match[1]), int(match[2]), int(match[3] or 0)
        if hour < 24 and minute < 60 and second < 60:
            return time(hour, minute, second)
    shown = printable(text, 40)
    raise BadInput(f"'{shown}' is not a time of day: write 10:40, from 0:00 to 23:59.", where=where)


def _calendar(year: int, month: int, day: int, text: str, where: str) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise BadInput(f"'{printable(text, 40)}' is not in the calendar.", where=where) from None


def _without_year(month: int, day: int, today: date, ahead: bool, text: str, where: str) -> date:
    """The last, or the next, such day; for 29 February it may be seven years away."""
    years = (
        range(today.year, min(today.year + 9, 10_000))
        if ahead
        else range(today.year, max(today.year - 9, 0), -1)
    )
    for year in years:
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if (found >= today) if ahead else (found <= today):
            return found
    raise BadInput(f"'{printable(text, 40)}' is not in the calendar.", where=where)


def _shift(today: date, days: int, text: str, where: str) -> date:
    try:
        return today + timedelta(days=days)
    except OverflowError:
        raise BadInput(f"'{printable(text, 40)}' is not in the calendar.", where=where) from None


def _no_date(text: str, where: str) -> NoDate:
    shown = printable(text.strip(), 40)
    if _NUMBERS.fullmatch(text.strip()):
        sentence = (
            f"'{shown}' can be read day first or month first: write the year first, such as 2026-07-03."
        )
    else:
        sentence = f"'{shown}' is not a date: write {EXAMPLES}."
    return NoDate(sentence, where=where)
