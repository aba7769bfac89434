"""The record as a command uses it: opened for reading through plain SQL, or for writing as a store."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.cli.asked import Asked
from logbook.errors import NotFound, RecordTrouble
from logbook.model.values import Units

if TYPE_CHECKING:
    from logbook.model.due.services import Service
    from logbook.model.judge.standing import Standing
    from logbook.model.practice import Practice
    from logbook.model.predict.bands import BandMaker, Outset
    from logbook.model.predict.draws import Draws
    from logbook.model.predict.insight import Insight
    from logbook.model.predict.trials import Foresight
    from logbook.model.values import Exposure, Settings, Watch, WatchRecord
    from logbook.record.file.store import Store
    from logbook.record.reading.rows import Rows


@dataclass
class Book:
    """An open record with what every command needs beside it."""

    rows: Rows
    practice: Practice
    settings: Settings
    today: date
    units: Units
    by_clock: bool  # the day is the machine's, not one that was asked for

    @cached_property
    def records(self) -> list[WatchRecord]:
        """Every watch, retired ones too, by nickname, as it was when first asked for."""
        from logbook.record.reading.glance import read_records

        return read_records(self.rows, retired=True, on=self.today, by_clock=self.by_clock)

    @cached_property
    def positions(self) -> dict[int | None, str]:
        """Seal id -> the place where it sits."""
        return {seal.id: seal.position for record in self.records for seal in record.seals}

    @property
    def shelf(self) -> list[WatchRecord]:
        """The watches that are not retired."""
        return [record for record in self.records if record.watch.retired_on is None]

    @property
    def watches(self) -> list[Watch]:
        """What the owner said of every watch."""
        return [record.watch for record in self.records]

    @cached_property
    def clock_behind_by(self) -> date | None:
        """The latest day on record, of any watch, that the clock has not reached; None: it is not behind."""
        from logbook.model.judge.facts import clock_behind_by

        found = (clock_behind_by(record, self.today) for record in self.records)
        return max((day for day in found if day is not None), default=None)

    def find(self, name: str, where: str = "watch") -> WatchRecord:
        """The watch of a nickname or its unambiguous beginning; one in use comes before a retired one."""
        from logbook.text.names import find_watch

        by_name = {record.watch.name: record for record in self.records}
        in_use = [record.watch.name for record in self.shelf]
        try:
            return by_name[find_watch(name, in_use, where)]
        except NotFound:
            return by_name[find_watch(name, by_name, where)]

    @cached_property
    def foresight(self) -> Foresight:
        """What all the owner's tests teach about the next one."""
        from logbook.record.reading.foresight import read_foresight

        return read_foresight(self.rows, self.practice, self.today)

    @cached_property
    def draws(self) -> Draws:
        """The constants as they may be, for bands and forecasts."""
        from logbook.model.predict.draws import Draws

        return Draws.random(self.practice)

    @cached_property
    def bands(self) -> BandMaker:
        """Bands for any day that is asked about."""
        from logbook.model.predict.bands import BandMaker
        from logbook.record.reading.tallies import read_contacts

        return BandMaker(self.draws, lambda watch_id: read_contacts(self.rows, watch_id, self.practice))

    def outset(self, record: WatchRecord) -> Outset:
        """All that bands and forecast of a watch start from."""
        from logbook.record.reading.insight import read_outset

        return read_outset(self.rows, record, self.practice, self.today)

    def insight(self, record: WatchRecord, *, near: bool = False) -> Insight:
        """Bands and forecast of a watch; `near` looks only as far ahead as due dates need."""
        from logbook.model.predict.forecast import HORIZON_YEARS
        from logbook.model.predict.insight import insight_of, near_years

        years = near_years(record, self.practice) if near else HORIZON_YEARS
        return insight_of(self.outset(record), self.draws, years)

    def standing(self, record: WatchRecord, *, near: bool = False) -> Standing:
        """How a watch stands today, its chance, bands and forecast included."""
        from logbook.model.judge.standing import stand

        return stand(record, self.practice, self.today, self.foresight, self.insight(record, near=near))

    def services_of(self, record: WatchRecord) -> Sequence[Service]:
        """The next date of every task of a watch, by service; the chance has no part in it."""
        from logbook.model.judge.standing import stand

        return stand(record, self.practice, self.today, insight=self.insight(record, near=True)).services

    @property
    def services(self) -> list[Service]:
        """The services of every watch on the shelf, what comes first in front."""
        from logbook.model.due.services import in_order

        return in_order(service for record in self.shelf for service in self.services_of(record))

    def name_of(self, watch_id: int | None) -> str:
        """The nickname behind an id."""
        return next((w.name for w in self.watches if w.id == watch_id), "")

    def day(self, text: str, where: str, *, ahead: bool = False) -> date:
        """The day that an option names."""
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
            watches=self.watches,
            with_name=with_name,
            watch=watch,
            planned=planned,
        )


@dataclass
class WritableBook(Book):
    """A record that is open for writing; `rows` sees what was written."""

    store: Store

    def again(self) -> WritableBook:
        """The same book, its watches to be read afresh."""
        return replace(self)


def _missing(error: RecordTrouble, location: Path | str) -> RecordTrouble:
    if isinstance(location, Path) and not location.exists():
        hint = "Begin one with `logbook watch add NAME`, or look around with `logbook demo`."
        return RecordTrouble(f"{error.message} {hint}", where=error.where)
    return error


@contextmanager
def reading(asked: Asked) -> Iterator[Book]:
    """The record for reading alone; a ledger reckoned with other constants is made anew first."""
    from logbook.record.file.practice_file import load_practice
    from logbook.record.reading.glance import is_stale, open_rows

    practice, location = load_practice(), asked.location
    if isinstance(location, Path):
        try:
            with open_rows(location) as rows:
                if not is_stale(rows, practice):
                    yield _book(asked, rows, practice)
                    return
        except RecordTrouble as error:
            raise _missing(error, location) from error
    with _fresh_store(location, practice) as store, store.reading() as rows:
        yield _book(asked, rows, practice)


@contextmanager
def _fresh_store(location: Path | str, practice: Practice) -> Iterator[Store]:
    from logbook.cli.along import reckon_anew
    from logbook.record.file.store import Store

    with Store.open(location) as store:
        reckon_anew(store, practice)
        yield store


def _book(asked: Asked, rows: Rows, practice: Practice) -> Book:
    from logbook.record.reading.glance import read_settings

    settings = read_settings(rows)
    return Book(rows, practice, settings, asked.day(), asked.units_for(settings), asked.today is None)


@contextmanager
def writing(asked: Asked, *, create: bool = False) -> Iterator[WritableBook]:
    """The record for writing; `create` makes a new one where there is none."""
    from logbook.cli.along import reckon_anew
    from logbook.record.file.places import refuse_missing_folder
    from logbook.record.file.practice_file import load_practice
    from logbook.record.file.store import Store
    from logbook.record.reading.glance import read_settings
    from logbook.record.writing.settings import begin

    practice, location = load_practice(), asked.location
    if create and isinstance(location, Path) and not location.exists():
        refuse_missing_folder(location)
    try:
        opened = Store.open(location, create=create)
    except RecordTrouble as error:
        raise _missing(error, location) from error
    with opened as store:
        if store.begun:
            begin(store)
        else:
            reckon_anew(store, practice, only_much=True)
        settings = read_settings(store.rows)
        book = WritableBook(
            store.rows, practice, settings, asked.day(), asked.units_for(settings), asked.today is None, store
        )
        store.wrote = False  # what was done to open it is no part of what was asked
        try:
            yield book
        finally:
            asked.on_record |= store.wrote


def bars(pressure_pa: float | None) -> float | None:
    """A pressure in bar for JSON."""
    return None if pressure_pa is None else round(pressure_pa / 1e5, 6)


def iso(day: date | None) -> str | None:
    """A date for JSON."""
    return None if day is None else day.isoformat()


def several(words: Sequence[str]) -> str:
    """Words that the shell parted, as the one line that they were."""
    return " ".join(words)


def with_words(line: str, words: str) -> str:
    """The line with more words, put before its note."""
    entry, mark, note = line.partition(" -- ")
    return f"{entry} {words}{mark}{note}"
