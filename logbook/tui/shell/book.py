"""The record as the rooms use it: what is read, and each thing a person can do, as one call."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from logbook.errors import BadInput, NothingLeft
from logbook.model.values import (
    Entry,
    Event,
    Exposure,
    Habit,
    Seal,
    Settings,
    Watch,
    WatchRecord,
    WornStretch,
)
from logbook.tui.shell.book_files import FileKeeper
from logbook.tui.shell.book_log import LogReader

if TYPE_CHECKING:
    from logbook.record.ledger.ledger import Progress
    from logbook.record.writing.undo import Step

LISTED_STEPS = 200  # of undo and of redo; undo itself goes on to the first change


class Book(LogReader, FileKeeper):
    """One record, opened on one day, with everything that a person can do to it."""

    def add_watch(self, watch: Watch, seals: Sequence[Seal], events: Sequence[Event] = ()) -> int:
        """A new watch on the shelf; makes the record if there is none yet."""
        from logbook.record.writing import watches

        with self.writing(create=not self.exists) as store:
            return watches.add(store, watch, seals, events, self.practice)

    def correct(self, before: WatchRecord, watch: Watch, seals: Sequence[Seal]) -> None:
        """What is told otherwise of a watch and its seals, as one step."""
        from logbook.record.writing import watches

        with self.writing() as store:
            watches.correct(store, before, watch, seals, self.practice)

    def retire(self, watch: Watch) -> None:
        """Take a watch off the shelf today; all of it stays on record."""
        from logbook.model.validate.watch import check_watch
        from logbook.record.writing import watches

        check_watch(replace(watch, retired_on=self.today), self.practice, self.today)
        with self.writing() as store:
            watches.retire(store, watch.id or 0, self.today)

    def unretire(self, watch_id: int) -> None:
        """Put a retired watch back on the shelf."""
        from logbook.record.writing import watches

        with self.writing() as store:
            watches.unretire(store, watch_id)

    def log(self, exposures: Sequence[Exposure]) -> list[int]:
        """New exposures, all or none."""
        from logbook.record.writing import exposures as service

        with self.writing() as store:
            return service.add(store, exposures, self.practice)

    def confirm_plan(self, plan: Exposure) -> tuple[Exposure, Exposure | None]:
        """A plan happened on its own day, of a trip the first, as it was planned.

        Returns what is charged, and of a trip what stays planned.
        """
        from logbook.record.reading.glance import read_exposure
        from logbook.record.writing import exposures as service
        from logbook.text.lines import as_it_happened

        plan_id = plan.id or 0
        watch = self.standing(plan.watch_id or 0).record.watch
        with self.rows() as rows:
            kept = read_exposure(rows, plan_id)
        if kept.starts_on != plan.starts_on:
            raise BadInput("This plan was changed meanwhile: look at it again.")
        happened, rest = as_it_happened(
            kept,
            kept.starts_on,
            practice=self.practice,
            settings=self.settings,
            today=self.today,
            watch=watch,
        )
        with self.writing() as store:
            charged = service.confirm_plan(store, plan_id, happened, self.practice, rest)
        return replace(happened, id=charged), rest

    def amend(self, entry: Entry) -> None:
        """Put an entry in the place of the one with its id."""
        from logbook.record.writing import events, exposures, wearing

        with self.writing() as store:
            if isinstance(entry, Exposure):
                exposures.amend(store, entry, self.practice)
            elif isinstance(entry, Event):
                events.amend(store, entry, self.practice)
            elif isinstance(entry, Habit):
                wearing.amend_habit(store, entry, self.practice)
            else:
                wearing.amend_stretch(store, entry, self.practice)

    def add_habit(self, habit: Habit) -> int:
        """An exposure that repeats, of the watch it names."""
        from logbook.record.writing import wearing

        with self.writing() as store:
            return wearing.add_habit(store, habit, self.practice)

    def add_stretch(self, stretch: WornStretch) -> None:
        """Hours a day on the wrist between two days, of the watch it names."""
        from logbook.record.writing import wearing

        with self.writing() as store:
            wearing.add_stretches(store, [stretch], self.practice)

    def add_events(self, new: Sequence[Event]) -> list[int]:
        """New workshop events or faults, all or none."""
        from logbook.record.writing import events

        with self.writing() as store:
            return events.add(store, new, self.practice)

    def strike(self, entry_id: int) -> None:
        """Take an exposure or an event off the record."""
        from logbook.record.writing import strike

        with self.writing() as store:
            strike.strike(store, entry_id, self.practice)

    def confirm(self, watch_id: int) -> None:
        """Nothing else happened to a watch up to today."""
        from logbook.record.writing import wearing

        with self.writing() as store:
            wearing.confirm(store, [watch_id], self.today)

    def wore(self, watch_ids: Sequence[int], on: date) -> tuple[float, list[str]]:
        """These watches were worn on a day, as one step of undo; returns the hours of each.

        Watches that shared the day until now share it with these: their nicknames are returned as well.
        Refused where one of these is on record as worn that day.
        """
        from logbook.model.wear.worn_day import check_worn_day, sharing_on
        from logbook.record.writing import wearing

        records = self.all_records()
        check_worn_day([r for r in records if r.watch.id in watch_ids], on, self.today)
        sharing = sharing_on(records, on, wearing.DAY_WORN_H)
        with self.writing() as store:
            wearing.wore(store, watch_ids, on, self.practice, sharing=sharing)
        names = {record.watch.id: record.watch.name for record in records}
        each_h = wearing.DAY_WORN_H / (len(watch_ids) + len(sharing))
        return each_h, [names[stretch.watch_id] for stretch in sharing]

    def snooze(self, item_id: str, until: date, others: Sequence[str] = ()) -> None:
        """Silence a due item, and others of its watch, until a day."""
        from logbook.record.writing import snoozes

        with self.writing() as store:
            snoozes.snooze(store, item_id, until, others)

    def change_settings(self, settings: Settings) -> None:
        """Other settings in place of what is set; makes the record if there is none yet."""
        from logbook.record.writing import settings as service

        other_units = settings.units != self.settings.units
        with self.writing(create=self._is_new) as store:
            service.write(store, settings)
        if other_units:
            self.units_asked = None  # what was just said goes before what was said at the start

    def undo(self, progress: Progress | None = None) -> str:
        """Take back the last change; returns what it was. What `progress` raises leaves all as it was."""
        from logbook.record.writing import undo

        if self._is_new:
            raise NothingLeft(undo.NOTHING_TO_UNDO)
        with self.writing() as store:
            return undo.undo(store, self.practice, progress)

    def redo(self, progress: Progress | None = None) -> str:
        """Do again what was taken back last; returns what it was. `progress` as for `undo`."""
        from logbook.record.writing import undo

        if self._is_new:
            raise NothingLeft(undo.NOTHING_TO_REDO)
        with self.writing() as store:
            return undo.redo(store, self.practice, progress)

    def steps(self) -> tuple[list[Step], list[Step]]:
        """What undo would take back and what redo would do again, of each the next one first."""
        from logbook.record.writing import undo

        if not self.exists:
            return [], []
        with self.rows() as rows:
            return undo.steps(rows, LISTED_STEPS)
