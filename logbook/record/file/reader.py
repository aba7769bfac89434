"""A record file that is read through the standard driver alone, again and again by one connection."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from threading import Lock

from logbook.record.file import lock
from logbook.record.file.files import stamp
from logbook.record.file.plain import plainly
from logbook.record.reading.rows import Rows
from logbook.record.schema import revision


class Reader:
    """The connection that is kept to read a file, one state of it at a time; threads may share it.

    Between two readings nothing is locked, so that others write, and whatever is at the path by then is read.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._kept: sqlite3.Connection | None = None
        self._stamp: tuple[int, ...] = ()  # of the file when it was opened
        self._lock = Lock()  # of the thread that uses it

    @contextmanager
    def reading(self) -> Iterator[Rows]:
        """One state of the record; a thread that comes while another one reads does not wait for it.

        Raises as `Store.open` does when it is missing, empty, foreign, newer or cut short. A record of an
        older version is brought up to date first.
        """
        with plainly(self._path):
            if not self._lock.acquire(blocking=False):
                with closing(_begun(self._path)) as connection:
                    yield connection.execute
                return
            try:
                connection = self._begin()
                yield connection.execute
                connection.rollback()
            except BaseException:
                self._let_go()
                raise
            finally:
                self._lock.release()

    def close(self) -> None:
        """Let go of the file, until it is read again; waits for the thread that reads."""
        with self._lock:
            self._let_go()

    def _let_go(self) -> None:
        if self._kept is not None:
            self._kept.close()
        self._kept = None

    def _begin(self) -> sqlite3.Connection:
        """The kept connection in one state of the file, a new one where anything in the file has changed."""
        found = stamp(self._path)
        if self._kept is not None and found == self._stamp:
            _state(self._kept, self._path)
            return self._kept
        self._let_go()
        if not (found and found[2] and found[:2] == self._stamp[:2]):
            # Not each time: to close a file opened past SQLite lets go of the locks of a thread that writes.
            revision.refuse_by_looking(self._path)
        self._stamp = found or ()
        self._kept = _begun(self._path)
        return self._kept


def _begun(path: Path) -> sqlite3.Connection:
    """A connection inside a read transaction."""
    connection = revision.connect(path, read_only=True, check_same_thread=False)  # `Reader` sees to that
    try:
        found = _state(connection, path)
    except BaseException:
        connection.close()
        raise
    if found == revision.HEAD:
        return connection
    connection.close()
    from logbook.record.file.upgrade import upgrade

    upgrade(path)
    return _begun(path)


def _state(connection: sqlite3.Connection, path: Path) -> str:
    """Begins a read transaction; the revision of the record."""
    connection.execute("BEGIN")
    try:
        lock.take(connection, "SELECT 1 FROM sqlite_master")
    except sqlite3.Error as error:
        if getattr(error, "sqlite_errorname", None) != "SQLITE_READONLY_ROLLBACK":
            raise
        # A writer died half-way: what it had begun must be taken back, and only a writer may do that.
        connection.rollback()
        revision.check(path)
        connection.execute("BEGIN")
    return revision.revision_of(connection, path)
