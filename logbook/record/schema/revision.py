"""Tells at once, with the standard driver alone, whether a file is a record that this version can use."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from logbook.errors import RecordTrouble, Refused
from logbook.record.file import lock
from logbook.record.file.trouble import OF_SQLITE, damaged, explain, foreign, unopened

APPLICATION_ID = 0x6C6F6762  # "logb", in the header of every record
REVISIONS = ("0001", "0002", "0003")  # oldest first; the last is what this version reads and writes
HEAD = REVISIONS[-1]

_MAGIC = b"SQLite format 3\x00"


def refuse_by_looking(path: Path) -> None:
    """Raises when the file is missing, empty or no SQLite file, before any driver touches it."""
    try:
        with path.open("rb") as file:
            start = file.read(len(_MAGIC))
    except IsADirectoryError:
        raise Refused(f"{path} is a folder, not a logbook record.", where=str(path)) from None
    except OSError as error:
        raise unopened(error, path) from None
    if not start:
        sentence = f"{path} is empty, and an empty file is never taken for an empty logbook."
        raise Refused(f"{sentence} Restore a backup, or remove the file to begin anew.", where=str(path))
    if start != _MAGIC:
        raise foreign(path)


def connect(path: Path, *, read_only: bool = False, check_same_thread: bool = True) -> sqlite3.Connection:
    """A plain connection that never creates a file; transactions are ours to begin."""
    uri = f"{path.absolute().as_uri()}?mode={'ro' if read_only else 'rw'}"
    return sqlite3.connect(
        uri, uri=True, timeout=lock.BUSY_S, isolation_level=None, check_same_thread=check_same_thread
    )


def revision_of(connection: sqlite3.Connection, path: Path) -> str:
    """The revision of an open record, known to be one of `REVISIONS`.

    Raises Refused for a foreign file or one from a newer version, RecordTrouble for a file cut short.
    """
    if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise foreign(path)
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    page_size = connection.execute("PRAGMA page_size").fetchone()[0]
    try:
        size = path.stat().st_size
    except OSError as error:  # it went while it was read
        raise unopened(error, path) from None
    if size < pages * page_size:
        raise RecordTrouble(
            f"The record {path} is cut short; `logbook restore` brings a backup back.", where=str(path)
        )
    try:
        names = [row[0] for row in connection.execute("SELECT schema_name FROM meta")]
        found = [row[0] for row in connection.execute("SELECT version_num FROM alembic_version")]
    except sqlite3.OperationalError as error:
        if "no such" in str(error):
            raise foreign(path) from None
        if getattr(error, "sqlite_errorname", None):
            raise
        raise damaged(path, "a text in it is not readable") from None
    if names != ["logbook"] or len(found) != 1:
        raise foreign(path)
    if found[0] not in REVISIONS:
        if not re.fullmatch(r"\w{4}", str(found[0])):
            raise damaged(path, "its revision is none")
        raise Refused(
            f"{path} was written by a newer version of logbook (its revision is {found[0]}, this one knows "
            f"up to {HEAD}). Please update logbook; nothing was changed.",
            where=str(path),
        )
    return str(found[0])


def check(path: Path) -> str:
    """The revision of the record at `path`; raises as `refuse_by_looking` and `revision_of` do."""
    with checked(path) as (_, found):
        return found


@contextmanager
def checked(path: Path) -> Iterator[tuple[sqlite3.Connection, str]]:
    """One state of the record at `path`, and its revision; raises as `check` does."""
    refuse_by_looking(path)
    try:
        connection = connect(path)
        try:
            connection.execute("BEGIN")  # one state of the file for all that is read; recovers after a crash
            lock.take(connection, "SELECT 1 FROM sqlite_master")
            yield connection, revision_of(connection, path)
        finally:
            connection.close()
    except OF_SQLITE as error:
        raise explain(error, path) from None
