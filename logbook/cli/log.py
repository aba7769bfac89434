"""`logbook log`, `amend`, `strike`: what is on record, changing it, removing it."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.entries import entries_table, entry_document, exposure_document, habit_line, stretch_line
from logbook.cli.inputs import several
from logbook.cli.opening import reading, writing
from logbook.cli.options.event import Seals, Told, whole_of
from logbook.cli.output import answer
from logbook.errors import BadInput
from logbook.files.json.writing import entry_object
from logbook.model.text import printable
from logbook.model.values import Exposure
from logbook.record.reading.entries import last_entry_id
from logbook.record.reading.glance import read_log
from logbook.record.record import Book

LISTED = "20"


def add_to(app: Commands) -> None:
    """Registers the commands."""
    for command in (log, amend, strike):
        app.command()(command)


def log(
    ctx: typer.Context,
    watch: Annotated[str | None, typer.Argument(metavar="[WATCH]", help="Only this watch.")] = None,
    limit: Annotated[str, typer.Option(metavar="N", help="At most so many a kind; 0 for all.")] = LISTED,
) -> None:
    """Lists exposures and events, the newest first, then habits and worn stretches, each with its id."""
    asked = asked_of(ctx)
    count = whole_of(limit, "--limit")
    if count < 0:
        raise BadInput("--limit counts from 0 up; 0 lists all.", where="--limit")
    with reading(asked) as book:
        record = None if watch is None else book.find(watch)
        entries = read_log(book.rows, record.watch.id if record else None, limit=count or None)
        records = [record] if record else book.all_records()
        habits = _newest([h for r in records for h in r.habits], count)
        worn = _newest([s for r in records for s in r.stretches], count)
        document = {
            "entries": [
                exposure_document(book, e)
                if isinstance(e, Exposure)
                else entry_document(e, book.name_of(e.watch_id))
                for e in entries
            ],
            "habits": [entry_object(h, book.name_of(h.watch_id)) for h in habits],
            "worn": [entry_object(s, book.name_of(s.watch_id)) for s in worn],
            **clock_document(book),
        }
        text = with_clock(_log_text(book, entries, habits, worn), book)
    answer(asked, document, lambda: text, caution=True)


def _newest(found: list[Any], count: int) -> list[Any]:
    """The entries made last, the newest first; at most `count`, or all for 0."""
    ordered = sorted(found, key=lambda entry: entry.id or 0, reverse=True)
    return ordered[:count] if count else ordered


def _log_text(book: Book, entries: Any, habits: Any, worn: Any) -> str:
    lines = [entries_table(book, entries) if entries else "Nothing is logged yet."]
    for title, found in (
        ("Habits", [habit_line(book, h) for h in habits]),
        ("Worn", [stretch_line(book, s) for s in worn]),
    ):
        if found:
            lines += ["", f"{title}:", *found]
    return "\n".join(lines)


def amend(
    ctx: typer.Context,
    entry: Annotated[str, typer.Argument(metavar="last|ID", help="The entry: the one made last, or an id.")],
    told: Told,
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[WORDS]", help="What changes in an exposure, such as '23m rinsed'."),
    ] = None,
    seal: Seals = None,
    per: Annotated[
        tuple[str, str] | None, typer.Option("--per", metavar="week|day N", help="How often a habit repeats.")
    ] = None,
    since: Annotated[
        str | None, typer.Option("--from", metavar="DATE", help="The first day of a habit or a worn stretch.")
    ] = None,
    until: Annotated[
        str | None, typer.Option("--to", metavar="DATE", help="The last day of a habit or a worn stretch.")
    ] = None,
    hours: Annotated[str | None, typer.Option(metavar="N", help="Hours a day of a worn stretch.")] = None,
) -> None:
    """Changes an entry, and only what is said: words for an exposure, options for an event."""
    from logbook.cli.amending import Changes, amended  # which `log` can do without

    asked = asked_of(ctx)
    changes = Changes(several(words or []), told, seal, per, since, until, hours)
    with writing(asked) as book:
        entry_id = _entry_id(book, entry)
        document, text = amended(book, entry_id, changes)
    answer(asked, {"entries": [document]}, lambda: text, caution=True)


def _entry_id(book: Book, text: str) -> int:
    """The id that was named, or that of the entry made last."""
    if text == "last":
        return last_entry_id(book.rows)
    if not (text.isascii() and text.isdecimal()):
        raise BadInput(
            f"'{printable(text)}' is no entry: give its id, which `logbook log` lists, or last.", where="ID"
        )
    return whole_of(text, "ID")


def strike(
    ctx: typer.Context,
    entry: Annotated[str, typer.Argument(metavar="last|ID", help="The entry: the one made last, or an id.")],
) -> None:
    """Removes an entry: an exposure, an event, a habit or a worn stretch. Undo brings it back."""
    from logbook.cli.amending import named  # which `log` can do without

    asked = asked_of(ctx)
    with writing(asked) as book:
        entry_id = _entry_id(book, entry)
        document, text = named(book, entry_id)
        book.strike(entry_id)
    answer(asked, {"struck": document}, lambda: f"Struck: {text}", caution=True)
