"""Which services the owner was told about: a notice is claimed first, then sent, then marked as sent.

The claim is one row that only one process can write, so that however many run at once each notice goes out
once. A claim whose process died is taken over after some minutes.

What was told is kept by task. A service is told once in each of its stages: it is news when none of the tasks
that bring it into its stage was told in that stage. What was snoozed, or has a fault or a failed test, is
news by itself.

A stage is told once for each date. The dates of gaskets wander by themselves, with the forecast: of those a
stage is told again when its date is put off far, or so that an earlier stage has come back.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from sqlmodel import Session

from logbook.model.due.services import TEST, Service
from logbook.model.due.tasks import STAGES, DueItem, Stage
from logbook.record.file.store import Store
from logbook.record.reading.named import moves_by_itself, name_dates
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.reading.sql import rows_of, run, run_many

CLAIM_LASTS = timedelta(minutes=10)  # far longer than a notifier may take
WANDERS = timedelta(days=90)  # a date that moves by itself is the same until it is put off by more than this


@dataclass(frozen=True, slots=True)
class _Told:
    stage: Stage
    after_snooze: str
    due_on: date
    claimed_at: datetime
    sent: bool
    named_on: date | None = None  # the day on which its owner first read that date, of gaskets
    formerly: bool = False  # told of one seal alone, before the gaskets of a watch were one task


def forget_put_off(store: Store, items: Iterable[DueItem]) -> None:
    """Forgets what was told of those items that are "later" again, at another date."""
    stale = _gone_back(store.rows, [item for item in items if item.stage == "later"])
    if stale:
        with store.transaction() as session:
            _forget(session, stale)


def forget_told(session: Session) -> None:
    """Nothing was told and no date was named: for a record whose watches become others under the same ids.

    What stands in the calendar stays known, so that its entries are cancelled there or take the new words.
    """
    run(session, "DELETE FROM told")
    run(session, "DELETE FROM named_date")


def untold(rows: Rows, services: Iterable[Service], now: datetime) -> list[Service]:
    """Of services that ask now, those whose stage was not told yet, nor is being told by another process.

    `now` is UTC. When the snooze of a task has ended its service is told once more, in whatever stage it is.
    """
    every = list(services)
    fresh = {item.id for item in _untold_items(rows, [i for service in every for i in service.asking], now)}
    return [service for service in every if _is_news(service, fresh)]


def _is_news(service: Service, fresh: Collection[str]) -> bool:
    """True when what brings a service into its stage is fresh, or a task of it that is news by itself."""
    leading = [item for item in service.asking if item.stage == service.stage]
    alone = [
        item
        for item in service.asking
        if item.snoozed_until is not None or (service.troubles and item.task == TEST)
    ]
    return all(item.id in fresh for item in leading) or any(item.id in fresh for item in alone)


def _untold_items(rows: Rows, items: Sequence[DueItem], now: datetime) -> list[DueItem]:
    told = _read(rows, items)
    back = {item_id for item_id, _ in _gone_back(rows, items)}
    return [i for i in items if i.id in back or not any(_covers(one, i, now) for one in told[i.id])]


def claim(store: Store, services: Sequence[Service], now: datetime) -> list[Service]:
    """Takes on the telling of those services that nobody else has told or taken on."""
    with store.transaction() as session:
        rows = rows_of(session.connection())
        mine = untold(rows, services, now)
        fresh = _untold_items(rows, [item for service in mine for item in service.asking], now)
        _forget(session, _gone_back(rows, fresh))
        run_many(
            session,
            "INSERT INTO told (item_id, stage, after_snooze, due_on, claimed_at, sent_at)"
            " VALUES (?, ?, ?, ?, ?, NULL) ON CONFLICT (item_id, stage, after_snooze) DO UPDATE"
            " SET due_on = excluded.due_on, claimed_at = excluded.claimed_at, sent_at = NULL",
            [(*_key(item), item.due.isoformat(), _stamp(now)) for item in fresh],
        )
    return mine


def mark_sent(store: Store, services: Sequence[Service], claimed: datetime, on: date) -> None:
    """The claims of these services were kept; their dates are named to the owner."""
    sent, items = _stamp(datetime.now(UTC)), _asking(services)
    with store.transaction() as session:
        run_many(
            session,
            "UPDATE told SET sent_at = ? WHERE item_id = ? AND stage = ? AND after_snooze = ?"
            " AND claimed_at = ?",
            [(sent, *_key(item), _stamp(claimed)) for item in items],
        )
        name_dates(session, items, on)


def release(store: Store, services: Sequence[Service], claimed: datetime) -> None:
    """The claims of these services could not be kept; the next run tries again."""
    with store.transaction() as session:
        run_many(
            session,
            "DELETE FROM told WHERE item_id = ? AND stage = ? AND after_snooze = ? AND claimed_at = ?"
            " AND sent_at IS NULL",
            [(*_key(item), _stamp(claimed)) for item in _asking(services)],
        )


def _asking(services: Iterable[Service]) -> list[DueItem]:
    return [item for service in services for item in service.asking]


def _key(item: DueItem) -> tuple[str, str, str]:
    return item.id, item.stage, _after_snooze(item)


def _after_snooze(item: DueItem) -> str:
    """The day on which the item's snooze ended; an item that asks now has none that still runs."""
    return item.snoozed_until.isoformat() if item.snoozed_until else ""


def _covers(told: _Told, item: DueItem, now: datetime) -> bool:
    """True when a notice that was given, or is being given, leaves nothing to tell of the item.

    The date of a seal's own task was an earlier one, so that its later stages cover the same task now.
    """
    further = STAGES.index(told.stage) > STAGES.index(item.stage)
    if told.after_snooze < _after_snooze(item):
        return False
    if told.stage != item.stage and not (told.formerly and further):
        return False
    if not _is_same_date(told, item):
        return False
    return told.sent or abs(now - told.claimed_at) <= CLAIM_LASTS


def _is_same_date(told: _Told, item: DueItem) -> bool:
    """True when the date is the one that was told, or says nothing new.

    The date of a seal whose fitting nobody knows is another one since gaskets are one task: where it had
    passed when the seal was told of, nothing has changed for the owner.
    """
    if item.due == told.due_on:
        return True
    near = item.due - told.due_on <= WANDERS
    return moves_by_itself(item) and (near or _had_passed(told, item))


def _had_passed(told: _Told, item: DueItem) -> bool:
    return told.formerly and told.named_on is not None and item.due <= told.named_on


def _gone_back(rows: Rows, items: Sequence[DueItem]) -> list[tuple[str, _Told]]:
    """What was told of a later stage than an item is in now, at another date."""
    told = _read(rows, items)
    return [
        (item.id, one)
        for item in items
        for one in told[item.id]
        if not one.formerly and STAGES.index(one.stage) > STAGES.index(item.stage) and one.due_on != item.due
    ]


def _forget(session: Session, stale: Iterable[tuple[str, _Told]]) -> None:
    run_many(
        session,
        "DELETE FROM told WHERE item_id = ? AND stage = ? AND after_snooze = ? AND due_on = ?",
        [(item_id, one.stage, one.after_snooze, one.due_on.isoformat()) for item_id, one in stale],
    )


def _read(rows: Rows, items: Sequence[DueItem]) -> dict[str, list[_Told]]:
    """Item id -> what was told of it, under the names that it had before too."""
    owners = {name: item.id for item in items for name in (*item.formerly, item.id)}
    found: dict[str, list[_Told]] = defaultdict(list)
    columns = "t.item_id, stage, after_snooze, t.due_on, claimed_at, sent_at, named_on"
    source = "told t LEFT JOIN named_date n ON n.item_id = t.item_id"
    for marks, piece in in_chunks(list(owners)):
        for item_id, stage, after, due_on, claimed_at, sent_at, named_on in rows(
            f"SELECT {columns} FROM {source} WHERE t.item_id IN {marks}", piece
        ):
            owner, claimed = owners[item_id], datetime.fromisoformat(claimed_at)
            named = None if named_on is None else date.fromisoformat(named_on)
            due, formerly = date.fromisoformat(due_on), owner != item_id
            found[owner].append(_Told(stage, after, due, claimed, sent_at is not None, named, formerly))
    return found


def _stamp(moment: datetime) -> str:
    """UTC with microseconds, so that it also tells one process's claim from another's."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")
