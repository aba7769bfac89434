"""The way into a record: what reads it, what changes it, and what was read of it and still holds.

Reading goes through the standard driver, so that the first screen need not wait for the libraries that
writing needs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from threading import Lock, local
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, Self, TypeVar

from logbook.errors import LogbookError, NoRecord
from logbook.model.practice import Practice
from logbook.model.values import Settings, Units, WatchRecord
from logbook.record.file.files import stamp
from logbook.record.file.places import default_location
from logbook.record.file.practice_file import load_practice
from logbook.record.file.reader import Reader
from logbook.record.reading import glance

if TYPE_CHECKING:
    from logbook.record.file.store import Store
    from logbook.record.ledger.backlog import Backlog
    from logbook.record.reading.rows import Rows

Given = ParamSpec("Given")
Found = TypeVar("Found")


class _InUse(local):
    """What this thread has open: one state of the record, or a change to it."""

    rows: Rows | None = None
    store: Store | None = None


class OpenBook:
    """One record on one day. It keeps one connection to a file, one engine on a server, for all threads."""

    def __init__(
        self,
        location: Path | str | None,
        today: date,
        units: Units | None = None,
        *,
        by_clock: bool = False,
    ) -> None:
        """At a path or database URL, else where the environment says, else at the usual place."""
        self.location = location or default_location()
        self.today = today
        self.by_clock = by_clock  # the day is the machine's, not one that was asked for
        self.units_asked = units  # in place of the owner's
        self.practice: Practice = load_practice()
        self.settings = Settings()  # what the owner set, as it was when something was last read
        self._reader = Reader(self.location) if isinstance(self.location, Path) else None
        self._server: Store | None = None
        self._opening = Lock()  # of the server
        self._here = _InUse()
        self._kept: dict[str, Any] = {}  # what was read, or worked out from it, until something changes
        self._stamp: tuple[int, ...] | None = None  # of the record when it was first read

    @property
    def path(self) -> Path:
        """The file of the record."""
        return Path(self.location)

    @property
    def units(self) -> Units:
        """How quantities are printed."""
        return self.units_asked or self.settings.units

    @property
    def store(self) -> Store:
        """The record as this thread changes it, within `writing`."""
        assert self._here.store is not None
        return self._here.store

    def exists(self) -> bool:
        """True once there is a record."""
        if isinstance(self.location, Path):
            return self.location.exists()
        try:
            self._on_server(create=False)
        except NoRecord:
            return False
        return True

    def close(self) -> None:
        """Let go of it, until something is read again."""
        if self._reader is not None:
            self._reader.close()
        if self._server is not None:
            self._server.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # ------------------------------------------------------------------ reading

    @contextmanager
    def reading(self) -> Iterator[Rows]:
        """Several reads of one state of the record: within `writing`, of what was written so far."""
        outside = self._here.rows
        if outside is not None:
            self._read_settings(outside)
            yield outside
            return
        source = self._reader or self._on_server(create=False)
        with source.reading() as rows:
            self._here.rows = rows
            try:
                self._read_settings(rows)
                yield rows
            finally:
                self._here.rows = None

    def rows(self, statement: str, params: Sequence[Any] = ()) -> Iterable[tuple[Any, ...]]:
        """Reads plain rows."""
        with self.reading() as rows:
            return list(rows(statement, params))

    def ask(
        self, read: Callable[Concatenate[Rows, Given], Found], *of: Given.args, **more: Given.kwargs
    ) -> Found:
        """What a function of `record/reading` finds in one state of the record."""
        with self.reading() as rows:
            return read(rows, *of, **more)

    def knock(self) -> None:
        """Look at the record, for which nobody else may hold it."""
        with self.reading():
            pass

    def read(self, rows: Rows, **which: Any) -> list[WatchRecord]:
        """What is needed to reckon watches today, as `glance.read_records` chooses them."""
        return glance.read_records(rows, on=self.today, by_clock=self.by_clock, **which)

    def _read_settings(self, rows: Rows) -> None:
        kept = self._kept
        if "settings" not in kept:
            self._mark()
            kept["settings"] = self.settings = glance.read_settings(rows)

    def _once(self, name: str, read: Callable[[], Found]) -> Found:
        """What was found since something changed last, or finds it out."""
        kept = self._kept  # another is in its place once something has changed meanwhile
        if name not in kept:
            self._mark()
            kept[name] = read()
        found: Found = kept[name]
        return found

    def forget(self) -> None:
        """Read everything anew when it is next asked for."""
        self._kept, self._stamp = {}, None

    def _mark(self) -> None:
        """Remember which state of the record is about to be read."""
        if self._stamp is None:
            self._stamp = self._stamp_now()

    def _stamp_now(self) -> tuple[int, ...] | None:
        """What tells two states of the record apart; None where the file is gone.

        A file is written in place with a journal beside it, so that every change touches the file itself and
        looking at it opens nothing; a database counts what is written.
        """
        if isinstance(self.location, Path):
            return stamp(self.location)
        return glance.read_writes(self._here.rows or self.rows)

    # ------------------------------------------------------------------ changing

    @contextmanager
    def writing(self, *, create: bool = False) -> Iterator[Store]:
        """The record for a change; what was read before is read anew afterwards.

        `create` makes a new one where there is none, with the zone of this machine.
        """
        if self._here.store is not None:
            yield self._here.store
            return
        with self._store(create) as store:
            if store.begun:
                from logbook.record.writing.settings import begin

                begin(store)
                store.begun = False
            store.when_written = self.forget
            self._here.store, self._here.rows = store, store.rows
            try:
                self.knock()
                yield store
            finally:
                self.forget()
                with suppress(LogbookError):  # of what is told where it is read for a person
                    self.knock()
                self._here.store = self._here.rows = None

    def do(
        self, write: Callable[Concatenate[Store, Given], Found], *of: Given.args, **more: Given.kwargs
    ) -> Found:
        """A change by a function of `record/writing`."""
        with self.writing() as store:
            return write(store, *of, **more)

    @contextmanager
    def _store(self, create: bool) -> Iterator[Store]:
        """What is written through: on a file open for as long as something is changed."""
        if self._reader is None:
            yield self._on_server(create=create)
            return
        from logbook.record.file.store import Store

        with Store.open(self.location, create=create) as store:
            yield store

    def _on_server(self, *, create: bool) -> Store:
        with self._opening:
            if self._server is None:
                from logbook.record.file.store import Store

                self._server = Store.open(self.location, create=create)
            return self._server

    # ------------------------------------------------------------------ the ledger

    def backlog(self) -> Backlog | None:
        """What is to be reckoned anew; None when the ledger is the one of the constants in force."""
        from logbook.record.ledger.backlog import backlog_of

        with self.reading() as rows:
            return backlog_of(rows, self.practice) if glance.is_stale(rows, self.practice) else None
