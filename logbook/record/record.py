"""The record as commands and rooms hold it, with what people do to it most.

`writing` is for what has no name here, with the functions of `record/writing`; what stands in a module of
`record/reading` is read by `rows`, or within `reading` where all of it must be of one state.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from logbook.errors import NotFound, NothingLeft
from logbook.model.values import (
    Entry,
    Event,
    Exposure,
    Habit,
    Seal,
    Settings,
    Shares,
    Watch,
    WatchRecord,
    WornStretch,
)
from logbook.record.reading import charged, glance
from logbook.record.standings import Standings

if TYPE_CHECKING:
    from logbook.record.ledger.ledger import Progress
    from logbook.record.writing.undo import Step

LISTED_STEPS = 200  # of undo and of redo; undo itself goes on to the first change


class Book(Standings):
    """One record, opened on one day, with everything that a person can do to it."""

    # ------------------------------------------------------------------ what people type

    def find(self, name: str, where: str = "watch") -> WatchRecord:
        """The watch of a nickname or its unambiguous beginning; one in use comes before a retired one."""
        from logbook.text.names import find_watch

        by_name = {record.watch.name: record for record in self.all_records()}
        in_use = [record.watch.name for record in self.shelf()]
        try:
            return by_name[find_watch(name, in_use, where)]
        except NotFound:
            return by_name[find_watch(name, by_name, where)]

    def day(self, text: str, where: str, *, ahead: bool = False) -> date:
        """The day that a text names."""
        from logbook.text.dates import parse_date

        return parse_date(text, self.today, ahead=ahead, where=where)

    def entry(
        self, line: str, watch: Watch | None = None, *, with_name: bool = False, planned: bool = False
    ) -> Exposure:
        """The exposure that a one-line entry describes."""
        from logbook.text.lines import parse_entry

        return parse_entry(
            line,
            practice=self.practice,
            settings=self.settings,
            today=self.today,
            watches=self.all_watches(),
            with_name=with_name,
            watch=watch,
            planned=planned,
        )

    # ------------------------------------------------------------------ the log

    def exposures(self, watch_id: int, activity: str | None = None, *, limit: int = 1) -> list[Exposure]:
        """Exposures of a watch that happened, or of one activity of it, newest first."""
        return self.ask(
            glance.read_exposures,
            watch_id=watch_id,
            planned=False,
            activity=activity,
            newest_first=True,
            limit=limit,
        )

    def last_exposure(self, watch_id: int, activity: str | None = None) -> Exposure | None:
        """The newest exposure of a watch, or the newest of one activity."""
        return next(iter(self.exposures(watch_id, activity)), None)

    def with_profile(self, exposure: Exposure) -> Exposure:
        """The exposure with its profile, which lists leave out; as it is where it was struck meanwhile."""
        with self.reading() as rows, suppress(NotFound):
            return glance.read_exposure(rows, exposure.id or 0)
        return exposure

    def cost(self, exposure_id: int) -> dict[int, Shares]:
        """Seal id -> what an exposure added to it."""
        return self.ask(charged.ledger_of, exposure_id)

    def plans(self, watch_id: int) -> list[Exposure]:
        """Planned exposures of a watch, the last one first."""
        return self.ask(glance.read_exposures, watch_id=watch_id, planned=True, newest_first=True)

    def all_plans(self) -> list[Exposure]:
        """Planned exposures of every watch, retired ones included, the first one first."""
        return [] if self._is_new() else self.ask(glance.read_exposures, planned=True)

    def wet_on(self, watch_id: int, on: date) -> bool:
        """True when an exposure of this watch is on record for a day."""
        return self.ask(glance.count_exposures, watch_id=watch_id, since=on, until=on, planned=False) > 0

    def steps(self) -> tuple[list[Step], list[Step]]:
        """What undo would take back and what redo would do again, of each the next one first."""
        from logbook.record.writing import undo

        if not self.exists():
            return [], []
        return self.ask(undo.steps, LISTED_STEPS)

    # ------------------------------------------------------------------ changes

    def add_watch(self, watch: Watch, seals: Sequence[Seal], events: Sequence[Event] = ()) -> int:
        """A new watch on the shelf; makes the record if there is none yet."""
        from logbook.record.writing import watches

        with self.writing(create=True) as store:
            return watches.add(store, watch, seals, events, self.practice)

    def retire(self, watch: Watch, on: date) -> None:
        """Take a watch off the shelf; all of it stays on record."""
        from logbook.model.validate.watch import check_watch
        from logbook.record.writing import watches

        check_watch(replace(watch, retired_on=on), self.practice, self.today)
        self.do(watches.retire, watch.id or 0, on)

    def log(self, exposures: Sequence[Exposure]) -> list[int]:
        """New exposures, all or none."""
        from logbook.record.writing import exposures as service

        return self.do(service.add, exposures, self.practice)

    def charge_plan(self, plan: Exposure, on: date) -> tuple[Exposure, Exposure | None]:
        """A plan happened on a day: what is charged, and of a trip what stays planned."""
        from logbook.record.writing import exposures as service
        from logbook.text.lines import as_it_happened

        (record,) = self.records_of([plan.watch_id or 0])
        happened, rest = as_it_happened(
            plan, on, practice=self.practice, settings=self.settings, today=self.today, watch=record.watch
        )
        charged = self.do(service.confirm_plan, plan.id or 0, happened, self.practice, rest)
        return replace(happened, id=charged), rest

    def add_events(self, new: Sequence[Event]) -> list[int]:
        """New workshop events or faults, all or none."""
        from logbook.record.writing import events

        return self.do(events.add, new, self.practice)

    def amend(self, entry: Entry) -> None:
        """Put an entry in the place of the one with its id."""
        from logbook.record.writing import events, exposures, habits

        with self.writing() as store:
            if isinstance(entry, Exposure):
                exposures.amend(store, entry, self.practice)
            elif isinstance(entry, Event):
                events.amend(store, entry, self.practice)
            elif isinstance(entry, Habit):
                habits.amend_habit(store, entry, self.practice)
            else:
                habits.amend_stretch(store, entry, self.practice)

    def strike(self, entry_id: int) -> None:
        """Take an entry off the record."""
        from logbook.record.writing import strike

        self.do(strike.strike, entry_id, self.practice)

    def wear(self, watch_ids: Sequence[int], on: date) -> tuple[list[int], list[WornStretch]]:
        """These watches were worn on a day, as one step; the ids of that, and what shares the day with it.

        Refused where one of these is on record as worn that day.
        """
        from logbook.model.wear.worn_day import DAY_WORN_H, check_worn_day, sharing_on
        from logbook.record.writing import habits

        records = self.records(retired=True)
        check_worn_day([r for r in records if r.watch.id in watch_ids], on, self.today)
        sharing = sharing_on(records, on, DAY_WORN_H)
        return self.do(habits.wore, watch_ids, on, self.practice, sharing=sharing), sharing

    def change_settings(self, settings: Settings) -> None:
        """Other settings in place of what is set; makes the record if there is none yet."""
        from logbook.record.writing import settings as service

        other_units = settings.units != self.settings.units
        with self.writing(create=self._is_new()) as store:
            service.write(store, settings)
        if other_units:
            self.units_asked = None  # what was just said goes before what was said at the start

    def undo(self, progress: Progress | None = None) -> str:
        """Take back the last change; returns what it was. What `progress` raises leaves all as it was."""
        from logbook.record.writing import undo

        if self._is_new():
            raise NothingLeft(undo.NOTHING_TO_UNDO)
        return self.do(undo.undo, self.practice, progress)

    def redo(self, progress: Progress | None = None) -> str:
        """Do again what was taken back last; returns what it was. `progress` as for `undo`."""
        from logbook.record.writing import undo

        if self._is_new():
            raise NothingLeft(undo.NOTHING_TO_REDO)
        return self.do(undo.redo, self.practice, progress)
