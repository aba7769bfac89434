"""Long reading and writing with a line on the terminal that says how far it is."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import BinaryIO

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
    from logbook.cli.progress_line import progress_line

    with progress_line(f"Reading {name}", "{task.completed:,.0f} of {task.total:,.0f} bytes") as tell:
        yield lambda done: tell(done, total)


@contextmanager
def writing_along(count: int) -> Iterator[Callable[[int, int], None] | None]:
    """What is to be told how many exposures are charged, and of how many; None where nobody looks."""
    if count < MANY or not sys.stderr.isatty():
        yield None
        return
    from logbook.cli.progress_line import progress_line

    with progress_line("Bringing in", "{task.completed:,.0f} of {task.total:,.0f} exposures") as tell:
        yield tell
