"""The days between which something happened, as people write them."""

from __future__ import annotations

import re
from datetime import date

from logbook.errors import BadInput
from logbook.exchange.dates import parse_date
from logbook.reckoning.text import printable

RANGE = ".."
_YEAR = re.compile(r"[0-9]{4}")


def parse_span(text: str, today: date, where: str = "date") -> tuple[date, date]:
    """First and last day of `DATE..DATE`, twice the same for one day; raises BadInput with what is right."""
    first_text, dots, last_text = (part.strip() for part in text.partition(RANGE))
    if not dots:
        day = parse_date(text, today, where=where)
        return day, day
    if not (first_text and last_text):
        shown = printable(text.strip(), 40)
        raise BadInput(
            f"'{shown}' has one end: write both, such as 2020-01-01{RANGE}2021-06-30.", where=where
        )
    first, last = (parse_date(end, today, where=where) for end in (first_text, last_text))
    if last < first:
        raise BadInput(f"{first}{RANGE}{last} runs backwards: write the earlier day first.", where=where)
    return first, last


def happened_on(text: str, today: date, where: str = "date") -> tuple[date, date]:
    """As `parse_span`, for what is past: this month and this year reach up to today."""
    first, last = parse_span(text, today, where)
    return first, today if RANGE not in text and first <= today < last else last


def parse_years(text: str, where: str = "made") -> tuple[int, int]:
    """First and last year of `YEAR..YEAR`, twice the same for one; raises BadInput with what is right."""
    first, dots, last = (part.strip() for part in text.partition(RANGE))
    years = [end for end in ((first, last) if dots else (first, first)) if _YEAR.fullmatch(end)]
    if len(years) != 2:
        shown = printable(text.strip(), 40)
        raise BadInput(f"'{shown}' is no year: write 1968, or 1965{RANGE}1970.", where=where)
    return int(years[0]), int(years[1])
