"""Plans that happened, and those whose days are past without a word about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from logbook.cli import asking
from logbook.cli.asked import Asked
from logbook.errors import Refused
from logbook.model.text import full_date, printable
from logbook.model.values import Exposure
from logbook.record.reading import glance
from logbook.record.record import Book
from logbook.text.phrases import span_words
from logbook.text.planned import past_plans, plan_words


@dataclass
class Settled:
    """What became of plans: ids of what is charged now, and of the plans that were taken off the record."""

    charged: list[int] = field(default_factory=list)
    struck: list[int] = field(default_factory=list)


def settle(book: Book, asked: Asked, watch_ids: Sequence[int]) -> Settled:
    """Asks of every plan of these watches whose days are past whether it happened, then writes the answers.

    Raises Refused where there is such a plan and nobody to ask; nothing is written before the last answer.
    """

    plans = [p for p in glance.read_exposures(book.rows, planned=True) if p.watch_id in watch_ids]
    past = past_plans(plans, book.today)
    if past and not asking.can_ask(asked):
        raise _open(book, past)
    told = [(glance.read_exposure(book.rows, plan.id or 0), _days_of(book, plan)) for plan in past]
    settled = Settled()
    for plan, days in told:
        left: Exposure | None = plan
        for day in days:
            if left is not None:
                charged, left = book.charge_plan(left, day)
                left = None if left is None else glance.read_exposure(book.rows, left.id or 0)
                settled.charged.append(charged.id or 0)
        if left is not None:
            book.strike(left.id or 0)
            settled.struck.append(left.id or 0)
    return settled


def _open(book: Book, past: Sequence[Exposure]) -> Refused:
    plan = past[0]
    days, name = span_words(plan.starts_on, plan.planned_to), printable(book.name_of(plan.watch_id))
    more = f", as {len(past) - 1} more" if len(past) > 1 else ""
    return Refused(
        f"Plan {plan.id} of {name}, for {days}, is past and open{more}: say `logbook plan --happened "
        f"{plan.id}` if it happened, `logbook strike {plan.id}` if not.",
        where=f"plan {plan.id}",
    )


def _days_of(book: Book, plan: Exposure) -> list[date]:
    """On which of its days a plan happened, as the person says."""
    words = plan_words(plan, book.name_of(plan.watch_id), book.units)
    if plan.last_day == plan.starts_on:
        return [plan.starts_on] if asking.yes(f"Did {words}, happen?") else []
    days = [plan.starts_on + timedelta(days=n) for n in range((plan.last_day - plan.starts_on).days + 1)]
    if not asking.yes(f"Did {words}, happen on any of its {len(days)} days?"):
        return []
    return [day for day in days if asking.yes(f"On {full_date(day)}?")]
