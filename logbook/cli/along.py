"""Long reading, writing and reckoning, with a line on the terminal that says how far it is."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import BinaryIO

from logbook.record.record import Book

LONG = 5_000_000  # bytes; a shorter file is read before one has looked
MANY = 500  # exposures; fewer are written before one has looked


@contextmanager
def reading_along(stream: BinaryIO, name: str) -> Iterator[Callable[[int], None] | None]:
    """What is to be told the bytes read so far; None where nobody looks."""
    total = stream.seek(0, os.SEEK_END)
    stream.seek(0)
    if total < LONG or not sys.stderr.isatty():
        yield None
        return
    with progress_line(f"Reading {name}", "{task.completed:,.0f} of {task.total:,.0f} bytes") as tell:
        yield lambda done: tell(done, total)


@contextmanager
def writing_along(count: int) -> Iterator[Callable[[int, int], None] | None]:
    """What is to be told how many exposures are charged, and of how many; None where nobody looks."""
    if count < MANY or not sys.stderr.isatty():
        yield None
        return
    with progress_line("Bringing in", "{task.completed:,.0f} of {task.total:,.0f} exposures") as tell:
        yield tell


def reckon_anew(book: Book, *, only_much: bool = False) -> None:
    """Makes the ledger anew if it was reckoned with other constants; an interruption leaves it as it was.

    `only_much`: a short one is left to what is written next, which makes it anew by the way.
    """
    found = book.backlog()
    if found is None or (only_much and not found.much):
        return
    if found.much and sys.stderr.isatty():
        with progress_line("Reckoning anew", "{task.completed:,.0f} of {task.total:,.0f} exposures") as tell:
            book.reckon_anew(tell)
    else:
        book.reckon_anew()


@contextmanager
def progress_line(title: str, words: str) -> Iterator[Callable[[int, int], None]]:
    """What is to be told how much is done, and of how much; `words` shows `task.completed`, `task.total`."""
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import BarColumn, Progress, TextColumn

    columns = (TextColumn(escape(title)), BarColumn(), TextColumn(words))
    # No thread draws it: an interruption between two of its locks would leave that thread waiting for ever.
    with Progress(*columns, console=Console(stderr=True), transient=True, auto_refresh=False) as bar:
        task = bar.add_task("", total=1)
        yield lambda done, total: bar.update(task, completed=done, total=total, refresh=True)
