"""Sentences about plans whose day has come or gone, the same at the command line and in the rooms."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.errors import BadInput
from logbook.model.text import full_date, printable
from logbook.model.values import Exposure, Units
from logbook.text.phrases import exposure_words, span_words

NOT_CHARGED = "planned, not charged until it happened"


def refuse_past_plan(plan: Exposure, today: date, where: str) -> None:
    """Raises BadInput for a plan whose last day is past; other exposures pass."""
    if plan.planned and plan.last_day < today:
        raise BadInput(
            f"A plan for {full_date(plan.last_day)} is past: today is {full_date(today)}. Give it a day "
            "ahead, or log what happened; say of a plan on record that it happened.",
            where=where,
        )


def past_plans(plans: Sequence[Exposure], today: date) -> list[Exposure]:
    """The plans whose last day is past, the earliest first: did they happen?"""
    past = [plan for plan in plans if plan.planned and plan.last_day < today]
    return sorted(past, key=lambda plan: (plan.starts_on, plan.id or 0))


def plan_words(plan: Exposure, name: str, units: Units) -> str:
    """`plan 13 of Blue bezel, 3 to 6 Apr 2026, dive 30 m, 40 min, sea 14 °C, not rinsed`."""
    days = span_words(plan.starts_on, plan.planned_to)
    return f"plan {plan.id} of {printable(name)}, {days}, {exposure_words(plan, units)}"
