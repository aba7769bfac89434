"""Due items made up for the tests of reminders, each as the due list would have it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from logbook.model.due.services import Service, services_of
from logbook.model.due.tasks import DueItem, stage_of
from logbook.model.values import Event
from tests.model.builders import PRACTICE

DUE = date(2026, 6, 10)


def due_item(id: str = "1:pressure-test:2025-06-10", *, on: date = DUE, **given: Any) -> DueItem:
    """A pressure test of Blue bezel, seen from the day `on`."""
    plain: dict[str, Any] = {
        "id": id,
        "watch": "Blue bezel",
        "task": "pressure-test",
        "position": None,
        "due": DUE,
        "stage": "later",
        "anchor": date(2025, 6, 10),
        "interval_months": 12,
        "reach_months": (-3, 0),
        "why": "12 months after the last passed test",
    }
    item = DueItem(**(plain | given))
    return replace(item, stage=stage_of(item.due, on, PRACTICE))


def service(*items: DueItem, on: date = DUE, troubles: tuple[Event, ...] = ()) -> Service:
    """The one service that these items of a watch make on a day."""
    (found,) = services_of(items, on, troubles)
    return found


def days(start: date, *after: int) -> list[date]:
    """These many days after a day."""
    return [start + timedelta(days=each) for each in after]
