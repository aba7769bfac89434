"""How the calendar follows the due list: entries that are new, moved, reworded or cancelled."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from logbook.caution import CAUTION
from logbook.model.due.services import Service
from logbook.model.text import full_date, printable

ALARM_DAYS = (14, 1)  # before the date
KEPT_FOR = timedelta(days=366)  # how long a cancelled entry stays, so that a calendar file has an end


@dataclass(frozen=True, slots=True)
class Entry:
    """A service as the calendar shows it; everything written there comes from here."""

    item_id: str  # of the task of it that is due first
    uid: str
    sequence: int
    summary: str
    description: str
    due_on: date
    alarm_from: date | None  # no alarm before this day: the item was put off, or its alarms had passed
    cancelled: bool
    changed_at: datetime  # UTC, whole seconds

    @property
    def alarm_days(self) -> list[int]:
        """The alarms in days before its date, the earliest first; a negative number is after it."""
        return [(self.due_on - day).days for day in _alarms(self.due_on, self.alarm_from)]


def _alarms(due_on: date, alarm_from: date | None) -> list[date]:
    planned = [due_on - timedelta(days=days) for days in ALARM_DAYS]
    return sorted({max(day, alarm_from or day) for day in planned})


@dataclass(frozen=True, slots=True)
class Changes:
    """How many entries are new, moved, reworded or cancelled."""

    new: int
    moved: int
    reworded: int
    cancelled: int


def plan_entries(
    services: Iterable[Service],
    known: Iterable[Entry],
    now: datetime,
    today: date,
    new_uid: Callable[[], str],
) -> list[Entry]:
    """The entries that follow the `known` ones: one a service; an entry without its service is cancelled.

    An entry keeps its uid. When anything in it changes, its sequence grows by one and `changed_at` becomes
    `now` (UTC). A cancelled entry is dropped a year after both its date and its cancelling.
    """
    left = {entry.item_id: entry for entry in known}
    entries = []
    for service in services:
        key = service.first.id
        old = left.pop(key, None)
        said = {**_words(service), "alarm_from": _alarm_from(service, old, today)}
        entries.append(_fresh(key, now, new_uid, **said) if old is None else _with(old, now, **said))
    gone = (_with(old, now, cancelled=True) for old in left.values())
    entries += [entry for entry in gone if max(entry.due_on, entry.changed_at.date()) + KEPT_FOR >= today]
    return sorted(entries, key=lambda entry: (entry.due_on, entry.item_id))


def changes_between(before: Sequence[Entry], after: Sequence[Entry]) -> Changes:
    """Counts what changed; an entry that moved counts as moved, whatever else changed."""
    old = {entry.item_id: entry for entry in before}
    live = [entry for entry in after if not entry.cancelled]
    known = [(old[e.item_id], e) for e in live if e.item_id in old and not old[e.item_id].cancelled]
    moved = sum(1 for was, entry in known if was.due_on != entry.due_on)
    changed = sum(1 for was, entry in known if was != entry)
    return Changes(
        new=len(live) - len(known),
        moved=moved,
        reworded=changed - moved,
        cancelled=sum(1 for e in after if e.cancelled and e.item_id in old and not old[e.item_id].cancelled),
    )


def _fresh(item_id: str, now: datetime, new_uid: Callable[[], str], **fields: Any) -> Entry:
    return Entry(item_id=item_id, uid=new_uid(), sequence=0, changed_at=now, **fields)


def _alarm_from(service: Service, old: Entry | None, today: date) -> date | None:
    """The first day for an alarm: when the snooze ends, or tomorrow where no alarm is ahead.

    An entry that has had its alarms, or has one tomorrow, stays as it is.
    """
    put_off, tomorrow = service.snoozed_until, today + timedelta(days=1)
    if _alarms(service.due, put_off)[-1] > today:
        return put_off
    if old is not None and not old.cancelled and old.due_on == service.due:
        had = old.alarm_from
        if (put_off or date.min) <= (had or date.min) <= tomorrow:
            return had
    return tomorrow


def _words(service: Service) -> dict[str, Any]:
    """What an entry says about its service; several tasks each come with their date."""
    put_off = service.snoozed_until
    several = len(service.items) > 1
    lines = [f"{_capital(service.why)}."] if service.troubles or not several else []
    lines += [f"{_capital(i.label)}, {full_date(i.due)}: {i.why}." for i in service.items if several]
    lines += [f"No reminder before {full_date(put_off)}."] if put_off else []
    return {
        "summary": f"{printable(service.watch)}: {service.label}",
        "description": "\n".join([*(printable(line) for line in lines), "", CAUTION]),
        "due_on": service.due,
        "cancelled": False,
    }


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _with(old: Entry, now: datetime, **fields: Any) -> Entry:
    """The entry with these fields; a change takes it one step on, and its stamp never goes back."""
    changed = replace(old, **fields)
    if changed == old:
        return old
    return replace(changed, sequence=old.sequence + 1, changed_at=max(now, old.changed_at))
