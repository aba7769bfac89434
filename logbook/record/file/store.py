"""The open record: one transaction an action, each of them journalled, every error a sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Engine
from sqlmodel import Session

from logbook.errors import LogbookError, RecordTrouble
from logbook.model.practice import Practice
from logbook.record.file import creation
from logbook.record.file.engine import ReplacedError, reading_engine, writing_engine
from logbook.record.file.places import default_location
from logbook.record.file.plain import plainly
from logbook.record.file.trouble import is_busy
from logbook.record.ledger import ledger
from logbook.record.reading.rows import Rows
from logbook.record.reading.sql import rows_of
from logbook.record.writing import journal


class Store:
    """A record in use. Threads may share it; each action has a session of its own."""

    def __init__(self, place: Path | str, engine: Engine, *, begun: bool = False) -> None:
        self.place = place
        self.begun = begun  # there was no record before this one was opened
        self._engine = engine
        self._reader = reading_engine(engine)
        self._writer = writing_engine(engine)
        self.wrote = False  # something is on record that was not before
        self.when_written: Callable[[], None] = lambda: None  # is called then

    @classmethod
    def open(cls, location: Path | str | None = None, *, create: bool = False) -> Store:
        """Opens the record at a path or database URL; absent: where the environment says.

        A record of an older version is brought up to date first, with a backup beside it. Raises Refused
        for a file that is not a record or is from a newer version, RecordTrouble when there is none and
        `create` is false.
        """
        place = default_location() if location is None else location
        if isinstance(place, str) and "://" in place:
            engine, begun = creation.open_database(place, create=create)
            return cls(place.rsplit("@", 1)[-1], engine, begun=begun)
        path = Path(place).expanduser()
        engine, begun = creation.open_file(path, create=create)
        return cls(path, engine, begun=begun)

    @property
    def path(self) -> Path | None:
        """The file, or None for a database that is not a file."""
        return self.place if isinstance(self.place, Path) else None

    @contextmanager
    def action(
        self, label: str, practice: Practice | None = None, progress: ledger.Progress | None = None
    ) -> Iterator[Session]:
        """One transaction and one step of undo: all of it is written, or nothing.

        Whatever is flushed inside is journalled, and the ledger follows it, for which the constants in force
        are needed; only an action that cannot change what an exposure costs may do without. `progress` is
        told how far the ledger is.
        """
        with self.transaction() as session:
            with journal.recording(session, label) as recorder:
                yield session
            ledger.settle(session, recorder.changed, practice, progress)

    @contextmanager
    def transaction(self) -> Iterator[Session]:
        """One transaction that is no step of undo: for the ledger, and for undo itself."""
        with self._translated(), self._begun() as (session, writes):
            yield session
            try:
                session.commit()
            except Exception as error:
                session.invalidate()
                raise self._after_all(error, writes) from error
            self._is_written()

    def rows(self, statement: str, params: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """Reads plain rows."""
        with self.reading() as rows:
            return list(rows(statement, params))

    @contextmanager
    def reading(self) -> Iterator[Rows]:
        """Several reads of one and the same state of the record."""
        with self._translated(), self._reader.connect() as connection:
            yield rows_of(connection)

    def close(self) -> None:
        self._engine.dispose()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _is_written(self) -> None:
        self.wrote = True
        self.when_written()

    def _after_all(self, error: Exception, writes: int) -> Exception:
        """What became of a transaction whose end failed: it may be on record although the disk complained."""
        if is_busy(error):
            return error
        reason = getattr(error, "orig", None) or error
        try:
            ((found,),) = self.rows("SELECT writes FROM meta")
        except LogbookError:
            sentence = f"Whether it is on record is not known ({reason}): look, before you enter it again."
            return RecordTrouble(sentence, where=str(self.place))
        if found < writes:
            return error
        self._is_written()
        sentence = (
            f"It is on record in {self.place}, but the disk did not confirm that it keeps it ({reason})"
        )
        return RecordTrouble(f"{sentence}; make a backup on another one.", where=str(self.place))

    @contextmanager
    def _begun(self) -> Iterator[tuple[Session, int]]:
        """A session whose transaction holds the right to write, on the file that is at the path now.

        With it comes the number of this write.
        """
        session = Session(self._writer, expire_on_commit=False)
        try:
            try:
                writes = _claim(session)
            except ReplacedError:
                session.close()
                writes = _claim(session)
            yield session, writes
        finally:
            session.close()  # takes back what was not committed

    @contextmanager
    def _translated(self) -> Iterator[None]:
        try:
            with plainly(self.place):
                yield
        except ReplacedError:
            sentence = f"The record {self.place} was taken away while it was in use; nothing was written."
            raise RecordTrouble(sentence, where=str(self.place)) from None


def _claim(session: Session) -> int:
    """Takes the right to write before anything is read, and puts references off until the end.

    Returns how often the record was written to, this time included.

    Elsewhere than on SQLite, where beginning has done so, the one row of `meta` is the lock.
    """
    connection = session.connection()
    sqlite = connection.dialect.name == "sqlite"
    connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON" if sqlite else "SET CONSTRAINTS ALL DEFERRED")
    return int(
        connection.exec_driver_sql("UPDATE meta SET writes = writes + 1 RETURNING writes").scalar_one()
    )
