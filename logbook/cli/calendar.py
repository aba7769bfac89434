"""`logbook calendar`: the reminders as a file that a calendar can subscribe to."""

from __future__ import annotations

from dataclasses import asdict
from datetime import UTC, datetime, time
from typing import Annotated, Any

import typer

from logbook.cli.asked import Asked
from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import writing
from logbook.cli.output import answer, iso
from logbook.model.due.calendar_plan import Changes, Entry, changes_between
from logbook.record.file.writing_files import in_a_folder
from logbook.reminders.calendar import calendar_bytes, target_of, write_calendar


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(calendar)


def calendar(
    ctx: typer.Context,
    path: Annotated[
        str, typer.Argument(metavar="PATH", help="The file; a calendar that logbook wrote there is replaced.")
    ],
) -> None:
    """Writes every next due date of the watches in use as an iCalendar file."""
    from logbook.record.writing.calendar_entries import following

    asked = asked_of(ctx)
    asked.refuse_ahead()
    target = target_of(in_a_folder(path))
    with (
        writing(asked) as book,
        following(book.store, book.services(), _moment(asked), book.today) as (before, after),
    ):
        write_calendar(target, calendar_bytes(after))
    changes = changes_between(before, after)
    live = sum(1 for entry in after if not entry.cancelled)
    document = {
        "path": str(target),
        "entries": live,
        **asdict(changes),
        "events": [_document(e) for e in after],
        **clock_document(book),
    }
    text = f"{_sentence(live, changes)}\nWritten to {target}."
    answer(asked, document, lambda: with_clock(text, book), caution=True)


def _moment(asked: Asked) -> datetime:
    """The time of a change as the calendar says it: now, or noon of the day that was asked for."""
    if asked.today is not None:
        return datetime.combine(asked.today, time(12), UTC)
    return datetime.now(UTC).replace(microsecond=0)


def _document(entry: Entry) -> dict[str, Any]:
    return {
        "id": entry.item_id,
        "uid": entry.uid,
        "sequence": entry.sequence,
        "summary": entry.summary,
        "due": iso(entry.due_on),
        "cancelled": entry.cancelled,
    }


def _sentence(live: int, changes: Changes) -> str:
    """`12 entries: 2 new, 1 moved, 1 cancelled.`"""
    counted = {
        "new": changes.new,
        "moved": changes.moved,
        "with other words": changes.reworded,
        "cancelled": changes.cancelled,
    }
    parts = [f"{count} {word}" for word, count in counted.items() if count]
    return f"{live} entr{'y' if live == 1 else 'ies'}: {', '.join(parts) or 'nothing changed'}."
