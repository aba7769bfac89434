"""Dates that the owner was told, by a notice or in the calendar."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlmodel import Session

from logbook.model.due.tasks import DueItem
from logbook.record.reading.sql import run_many


def moves_by_itself(item: DueItem) -> bool:
    """True for gaskets, the only dates that a forecast has a say in."""
    return item.task == "gaskets"


def name_dates(session: Session, items: Iterable[DueItem], on: date) -> None:
    """Keeps the dates that would else wander."""
    run_many(
        session,
        "INSERT INTO named_date (item_id, due_on, named_on) VALUES (?, ?, ?)"
        " ON CONFLICT (item_id) DO UPDATE SET due_on = excluded.due_on, named_on = excluded.named_on"
        " WHERE named_date.due_on <> excluded.due_on",
        [(item.id, item.due.isoformat(), on.isoformat()) for item in items if moves_by_itself(item)],
    )
