"""The record that a command was asked about: opened for reading, or for writing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from logbook.cli.along import reckon_anew
from logbook.cli.asked import Asked
from logbook.errors import NoRecord
from logbook.record.file.places import refuse_missing_folder
from logbook.record.record import Book

HINT = "Begin one with `logbook watch add NAME`, or look around with `logbook demo`."


@contextmanager
def reading(asked: Asked) -> Iterator[Book]:
    """The record for reading alone; a ledger reckoned with other constants is made anew first."""
    with _opened(asked) as book:
        reckon_anew(book)
        with book.reading():
            yield book


@contextmanager
def writing(asked: Asked, *, create: bool = False) -> Iterator[Book]:
    """The record for writing; `create` makes a new one where there is none."""
    with _opened(asked) as book:
        if not create or book.exists():
            reckon_anew(book, only_much=True)
        elif isinstance(book.location, Path):
            refuse_missing_folder(book.location)
        with book.writing(create=create) as store:
            store.wrote = False  # what was done to open it is no part of what was asked
            try:
                yield book
            finally:
                asked.on_record |= store.wrote


@contextmanager
def _opened(asked: Asked) -> Iterator[Book]:
    by_clock = asked.today is None
    with Book(asked.location, asked.day(), asked.units, by_clock=by_clock, may_wait=True) as book:
        try:
            yield book
        except NoRecord as error:
            raise NoRecord(f"{error.message} {HINT}", where=error.where) from error
