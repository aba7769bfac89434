"""Tells the owner what is new, once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime

from logbook.model.due.services import Service, in_order
from logbook.record.file.store import Store
from logbook.record.writing import told
from logbook.reminders.notifier import Notifier, find_notifier


@dataclass(frozen=True, slots=True)
class Telling:
    """What was told, and through which program; None where there was nothing to tell."""

    services: tuple[Service, ...]
    notifier: str | None


def tell_new(
    store: Store,
    services: Sequence[Service],
    today: date,
    *,
    find: Callable[[], Notifier] = find_notifier,
) -> Telling:
    """Notifies of every service that asks now and was not yet told in its stage, the first to be done first.

    Raises SystemTrouble when the notifier fails; what it did not show is tried again on the next run.
    """
    now = datetime.now(UTC)
    told.forget_put_off(store, [item for service in services for item in service.items])
    asking = in_order(service for service in services if service.asking)
    if not told.untold(store.rows, asking, now):
        return Telling((), None)
    notifier = find()
    mine = told.claim(store, asking, now)
    left = list(mine)
    try:
        for notice in notifier.notices(mine) if mine else ():
            notifier.send(notice)
            left = [service for service in left if service not in notice.services]
            told.mark_sent(store, notice.services, now, today)
    finally:
        if left:
            told.release(store, left, now)
    return Telling(tuple(mine), notifier.name if mine else None)
