"""How long a due item may be silenced."""

from __future__ import annotations

from datetime import date

from logbook.errors import BadInput
from logbook.model.due.tasks import months_after
from logbook.model.text import full_date

MOST_MONTHS = 24  # so that a slip in the year does not silence for good


def check_until(until: date, today: date, where: str) -> date:
    """The day on which a snooze ends; raises BadInput unless it lies ahead, by two years at the most."""
    latest = months_after(today, MOST_MONTHS)
    if until <= today:
        raise BadInput(f"{full_date(until)} is not ahead: today is {full_date(today)}.", where=where)
    if until > latest:
        rule = f"a snooze ends within two years, by {full_date(latest)}."
        raise BadInput(f"{full_date(until)} is too far ahead: {rule}", where=where)
    return until
