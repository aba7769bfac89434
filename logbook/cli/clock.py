"""A clock that is behind the record, as commands whose answer hangs on the day say it."""

from __future__ import annotations

from typing import Any

from logbook.cli.output import iso, wrapped
from logbook.model.judge.rules import CLOCK_REMEDY, clock_words
from logbook.record.record import Book


def clock_document(book: Book) -> dict[str, Any]:
    """The key that says it in JSON, null where the clock is not behind."""
    return {"clock_behind_by": iso(book.clock_behind_by())}


def clock_line(book: Book) -> str:
    """The line that says it, empty where the clock is not behind."""
    ahead = book.clock_behind_by()
    return "" if ahead is None else wrapped(f"{clock_words(ahead)}; {CLOCK_REMEDY}.")


def with_clock(text: str, book: Book) -> str:
    """An answer, and below it that the clock is behind, where it is."""
    line = clock_line(book)
    return f"{text}\n\n{line}" if line else text
