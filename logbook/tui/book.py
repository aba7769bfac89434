"""The record as the rooms use it: what is read, and each thing a person can do, as one call."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from logbook.errors import NothingLeft
from logbook.reckoning.values import Event, Exposure, Seal, Watch
from logbook.tui.book_files import FileKeeper
from logbook.tui.book_log import LogReader

if TYPE_CHECKING:
    from logbook.keeping.undo import Step

LISTED_STEPS = 200  # of undo and of redo; undo itself goes on to the first change


class Book(LogReader, FileKeeper):
    """One record, opened on one day, with everything that a person can do to it."""

    def add_watch(self, watch: Watch, seals: Sequence[Seal], events: Sequence[Event] = ()) -> int:
        """A new watch on the shelf; makes the record if there is none yet."""
        from logbook.keeping import watches

        with self.writing(create=not self.exists) as store:
            return watches.add(store, watch, seals, events, self.practice)

    def log(self, exposures: Sequence[Exposure]) -> list[int]:
        """New exposures, all or none."""
        from logbook.keeping import exposures as service

        with self.writing() as store:
            return service.add(store, exposures, self.practice)

    def add_events(self, new: Sequence[Event]) -> list[int]:
        """New workshop events or faults, all or none."""
        from logbook.keeping import events

        with self.writing() as store:
            return events.add(store, new, self.practice)

    def strike(self, entry_id: int) -> None:
        """Take an exposure or an event off the record."""
        from logbook.keeping import strike

        with self.writing() as store:
            strike.strike(store, entry_id, self.practice)

    def confirm(self, watch_id: int) -> None:
        """Nothing else happened to a watch up to today."""
        from logbook.keeping import wearing

        with self.writing() as store:
            wearing.confirm(store, [watch_id], self.today)

    def snooze(self, item_id: str, until: date) -> None:
        """Silence a due item until a day."""
        from logbook.keeping import snoozes

        with self.writing() as store:
            snoozes.snooze(store, item_id, until)

    def undo(self) -> str:
        """Take back the last change; returns what it was."""
        from logbook.keeping import undo

        if self._is_new:
            raise NothingLeft(undo.NOTHING_TO_UNDO)
        with self.writing() as store:
            return undo.undo(store, self.practice)

    def redo(self) -> str:
        """Do again what was taken back last; returns what it was."""
        from logbook.keeping import undo

        if self._is_new:
            raise NothingLeft(undo.NOTHING_TO_REDO)
        with self.writing() as store:
            return undo.redo(store, self.practice)

    def steps(self) -> tuple[list[Step], list[Step]]:
        """What undo would take back and what redo would do again, of each the next one first."""
        from logbook.keeping import undo

        if not self.exists:
            return [], []
        with self.rows() as rows:
            return undo.steps(rows, LISTED_STEPS)
