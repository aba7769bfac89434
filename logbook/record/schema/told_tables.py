"""The tables of what the owner was told. Undo does not reach them: what was said cannot be unsaid."""

from __future__ import annotations

from datetime import date

from logbook.model.due.tasks import STAGES
from logbook.record.schema.columns import (
    Row,
    day,
    flag,
    holds,
    is_date,
    maybe_text,
    one_of,
    text,
    whole,
    within,
)

STRICT = {"sqlite_strict": True}
TOLD_STAGES = tuple(stage for stage in STAGES if stage != "later")


class NamedDateRow(Row, table=True):
    """The date of a due item as it was told; it stays while a fresh forecast is near it."""

    __tablename__ = "named_date"
    __table_args__ = (*is_date("due_on", "named_on"), STRICT)
    item_id: str = text(primary_key=True)
    due_on: date = day()
    named_on: date = day()


class ToldRow(Row, table=True):
    """One notice: an item and the stage it had come to; again when a snooze has ended."""

    __tablename__ = "told"
    __table_args__ = (
        one_of("stage", TOLD_STAGES),
        holds("after_snooze_date", "after_snooze = '' OR after_snooze LIKE '____-__-__'"),
        *is_date("due_on"),
        STRICT,
    )
    item_id: str = text(primary_key=True)
    stage: str = text(primary_key=True)
    after_snooze: str = text(primary_key=True)  # the date on which a snooze ended; empty: none did
    due_on: date = day()
    claimed_at: str = text()  # UTC, ISO 8601: someone is about to tell it
    sent_at: str | None = maybe_text()  # UTC, ISO 8601: it was told


class CalendarEntryRow(Row, table=True):
    """A due item as it stands in the calendar file."""

    __tablename__ = "calendar_entry"
    __table_args__ = (
        holds("uid_given", "length(uid) >= 1"),
        within("sequence", 0, 2**31 - 1),
        flag("cancelled"),
        *is_date("due_on"),
        STRICT,
    )
    item_id: str = text(primary_key=True)
    uid: str = text()
    sequence: int = whole()
    summary: str = text()
    description: str = text()
    due_on: date = day()
    alarm_from: str = text()  # no alarm before this date; empty: none was put off
    cancelled: int = whole()
    changed_at: str = text()  # UTC, ISO 8601
