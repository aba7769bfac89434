"""Dates, shares and marks as tables and sentences print them, the same in every room and command."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.model.due.services import Service
from logbook.model.text import full_date as full_date
from logbook.model.text import printable
from logbook.model.values import Exposure, Units


def ago(day: date | None, today: date) -> str:
    """How long ago, in a word or two: `today`, `yesterday`, `3 days`, `5 weeks`, `2 years`, `never`."""
    if day is None:
        return "never"
    days = (today - day).days
    if days < 0:
        return f"in {_span(-days)}"
    return ("today", "yesterday")[days] if days < 2 else _span(days)


def _span(days: int) -> str:
    for size, word in ((365, "year"), (30, "month"), (7, "week")):
        if days >= 2 * size or (size == 365 and days >= size):
            count = days // size
            return f"{count} {word}{'s' if count != 1 else ''}"
    return f"{days} day{'s' if days != 1 else ''}"


def span_words(first: date, last: date | None) -> str:
    """A day, or the days of a trip: `12 Jul 2026`, `12 to 20 Jul 2026`, `28 Jun to 3 Jul 2026`."""
    if last is None or last == first:
        return full_date(first)
    begins = f"{first.day}"
    if (first.year, first.month) != (last.year, last.month):
        begins += f" {first:%b}" if (last - first).days < 365 else f" {first:%b %Y}"
    return f"{begins} to {full_date(last)}"


def days_words(first: date, last: date | None) -> str:
    """The length of a trip, such as `9 days`; empty for a single day."""
    days = 1 if last is None else (last - first).days + 1
    return f"{days:,} days" if days > 1 else ""


def next_words(service: Service | None, today: date) -> str:
    """What comes next, to fit a column: its name once it asks, else the month (`Mar`, `Nov ’28`)."""
    if service is None:
        return "–"
    if service.stage != "later":
        return service.label.split(":")[0]
    return f"{service.due:%b}" if (service.due - today).days < 330 else f"{service.due:%b ’%y}"


def of_hundred(share: float) -> str:
    """A wear share as a part of 100, with sensible decimals: `0.3 of 100`."""
    points = 100 * share
    if abs(points) < 0.0005:
        return "0 of 100"
    digits = 3 if abs(points) < 0.01 else 2 if abs(points) < 1 else 1
    return f"{points:.{digits}f} of 100"


def place(position: str) -> str:
    """A sealing place in words."""
    return position.replace("-", " ")


def exposure_words(exposure: Exposure, units: Units) -> str:
    """One exposure in a phrase: `dive 21 m, 38 min, sea 17 °C, rinsed`."""
    from logbook.text import quantities  # the first screen is painted without it

    parts = [exposure.activity]
    if exposure.depth_m > 0:
        parts[0] += f" {quantities.show_depth(exposure.depth_m, units)}"
    parts.append(quantities.show_minutes(exposure.duration_s))
    parts.append(f"{exposure.water} {quantities.show_temp(exposure.water_c, units)}")
    if exposure.water != "air":
        parts.append("rinsed" if exposure.rinsed else "not rinsed")
    if exposure.crown_open:
        parts.append("crown open")
    if exposure.pushers_open:
        parts.append("pushers open")
    if exposure.crown_under or exposure.crown_wet:
        parts.append("crown used")
    if exposure.pusher_under or exposure.pusher_wet:
        parts.append("pushers used")
    return ", ".join(parts)


def not_charged_words(name: str, recorded_from: date, days: Sequence[date]) -> str:
    """The sentence that some exposures of a watch are not charged: they are from before its record begins."""
    are, first = "is" if len(days) == 1 else "are", days[0]
    return (
        f"{len(days)} of {printable(name)} {are} from before {full_date(recorded_from)}, the day from which "
        f"its water is on record: kept, but not charged. If all its water since {full_date(first)} is in the "
        f"log, say so with `logbook watch edit NAME --recorded-from {first}`."
    )


def twin_words(twin: Exposure | None) -> str:
    """`entry 12 of 20 Feb 2026`, or `plan 14 of …`."""
    if twin is None:
        return "an entry"
    return f"{'plan' if twin.planned else 'entry'} {twin.id} of {full_date(twin.starts_on)}"
