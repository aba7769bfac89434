"""Whatever comes up out of a record, as one sentence that names what is wrong in it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from logbook.errors import LogbookError
from logbook.record.file.trouble import damaged, explain, foreseen, is_integrity, unopened
from logbook.record.schema.revision import HEAD, checked
from logbook.record.schema.shapes import Unfit

# What code raises that meets a value of a kind which no version of logbook would have written.
UNFIT = (TypeError, ValueError, LookupError, ArithmeticError, AttributeError, AssertionError)


@contextmanager
def plainly(place: Path | str) -> Iterator[None]:
    """Whatever comes up out of the record inside the block is raised as one sentence.

    What could as well be a fault of the program is the record's only where a look at every row finds one.
    """
    try:
        yield
    except Exception as error:
        told = plain(error, place)
        if told is None or told is error:
            raise
        raise told from error


def plain(error: Exception, place: Path | str) -> LogbookError | None:
    """An error as one of ours; None when the record at `place` has no part in it."""
    if isinstance(error, LogbookError):
        return error
    if isinstance(place, str):
        place = place.rsplit("@", 1)[-1]  # without the password
    if isinstance(error, UnicodeEncodeError) or ("SQLite" in str(error) and isinstance(error, OverflowError)):
        return explain(error, place)
    if _is_of_a_driver(error):
        told = None if is_integrity(error) else foreseen(getattr(error, "orig", None) or error, place)
        return told or _first_fault(place) or explain(error, place)
    if isinstance(error, OSError):
        return unopened(error, place) if str(error.filename) == str(place) else None
    if not isinstance(error, UNFIT):
        return None
    return _first_fault(place) or (damaged(place, str(error)) if isinstance(error, Unfit) else None)


def _is_of_a_driver(error: Exception) -> bool:
    """True for what a driver or SQLAlchemy raised; neither is loaded to find out."""
    names = {f"{kind.__module__.partition('.')[0]}.{kind.__name__}" for kind in type(error).__mro__}
    return bool(names & {"sqlite3.Error", "sqlalchemy.SQLAlchemyError"})


def _first_fault(path: Path | str) -> LogbookError | None:
    """What is wrong inside a record that could not be read as it should; of a database nothing is known."""
    if not isinstance(path, Path):
        return None
    from logbook.record.file.soundness import faults_of, file_faults

    try:
        with checked(path) as (connection, revision):
            found = faults_of(connection) if revision == HEAD else file_faults(connection)
    except LogbookError as error:
        return error
    if not found:
        return None
    return damaged(path, found[0].words)
