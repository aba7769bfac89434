"""A record opened on one day: how every watch on it stands, and the way to read and to change it.

It knows no widgets. Reading goes through the standard driver, so that the first screen need not wait for
the libraries that writing needs; `warm` loads those in a thread once the screen stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from logbook.errors import LogbookError, NotFound
from logbook.model.judge.standing import Standing, stand, stand_all
from logbook.model.practice import Practice
from logbook.model.values import Settings, Units, Watch, WatchRecord
from logbook.record.file import places
from logbook.record.file.practice_file import load_practice
from logbook.record.reading import glance

if TYPE_CHECKING:
    from logbook.model.predict.bands import BandMaker
    from logbook.model.predict.insight import Insight
    from logbook.model.predict.tally import Contacts
    from logbook.model.predict.trials import Foresight
    from logbook.model.values import Position
    from logbook.record.file.store import Store
    from logbook.record.reading.rows import Rows


@dataclass(frozen=True)
class _Known:
    """Bands and forecast of a watch, and what they were worked out from."""

    record: WatchRecord
    state: glance.State
    today: date
    found: Insight


class MustReckon(LogbookError):
    """The long ledger of a record that is open has become one of other constants: see `reckon_anew`."""


class OpenBook:
    """One record, opened on one day."""

    def __init__(self, location: Path | str, today: date, units: Units | None = None) -> None:
        self.location = location
        self.today = today
        self.practice: Practice = load_practice()
        self.by_clock = False  # the day is the machine's, not one that was asked for
        self.units_asked = units  # in place of the owner's
        self._standings: list[Standing] | None = None
        self._changes = 0  # so often something changed: what was read before is not kept after it
        self._settings: Settings | None = None
        self._foresight: Foresight | None = None
        self._insights: dict[int, _Known] = {}
        self._warmed = False
        self.must_reckon = False  # a long ledger: see `reckon_anew`; until then no watch has a standing
        self._stamp: tuple[int, ...] | None = None  # of the record when it was first read
        self._seen = False  # a record that was there and is gone is trouble, not an empty shelf

    @classmethod
    def at(cls, location: Path | str | None, today: date, units: Units | None = None) -> Self:
        """The record at a path or database URL, else where the environment says, else at the usual place."""
        return cls(location or places.default_location(), today, units)

    @property
    def exists(self) -> bool:
        """True once there is a record; a database is taken to hold one."""
        return not isinstance(self.location, Path) or self.location.exists()

    @property
    def _is_new(self) -> bool:
        """True while there is no record and never was one."""
        return not self.exists and not self._seen

    @property
    def path(self) -> Path:
        """The file of the record."""
        return Path(self.location)

    @contextmanager
    def rows(self) -> Iterator[Rows]:
        """The record, read-only."""
        if isinstance(self.location, Path):
            with glance.open_rows(self.location) as rows:
                yield rows
            return
        from logbook.record.file.store import Store

        with Store.open(self.location) as store, store.reading() as rows:
            yield rows

    def knock(self) -> None:
        """Open the record and close it again, for which nobody else may hold it."""
        with self.rows():
            pass

    def read(self, rows: Rows, **which: Any) -> list[WatchRecord]:
        """What is needed to reckon watches today, as `glance.read_records` chooses them."""
        return glance.read_records(rows, on=self.today, by_clock=self.by_clock, **which)

    def standings(self) -> list[Standing]:
        """How every watch stands today, retired ones left out; read once until something changes."""
        if self._standings is None:
            if self._is_new:
                return []
            changes = self._changes
            self._mark()
            records = None if self.must_reckon else self._records()
            if records is None:
                self.must_reckon = True
                return []
            insights = {record.watch.id or 0: found for record in records if (found := self._insight(record))}
            standings = stand_all(records, self.practice, self.today, self.foresight(), insights)
            self._seen = True
            if changes == self._changes:
                self._standings = standings
            return standings
        return self._standings

    def read_ahead(self) -> None:
        """Read what the rooms show first; meant for a thread, so that no key waits for it.

        What goes wrong is told of where it is read for a person.
        """
        with suppress(LogbookError):
            self.standings()

    def standing(self, watch_id: int) -> Standing:
        """How one watch stands today."""
        with self.rows() as rows:
            found = self.read(rows, watch_id=watch_id, retired=True)
        if not found:
            raise NotFound("This watch is no longer in the record.", where="watch")
        record = found[0]
        return stand(record, self.practice, self.today, self.foresight(), self._insight(record))

    def _insight(self, record: WatchRecord) -> Insight | None:
        """The bands and the forecast of a watch as last worked out; None once it has other seals.

        One that is retired since then has no forecast.
        """
        known = self._insights.get(record.watch.id or 0)
        if known is None or known.record.seals != record.seals:
            return None
        return known.found if record.watch.retired_on is None else replace(known.found, forecast=None)

    def _is_fresh(self, record: WatchRecord, state: glance.State) -> bool:
        known = self._insights.get(record.watch.id or 0)
        return known is not None and (known.record, known.state, known.today) == (
            record,
            state,
            self.today,
        )

    def band_maker(self) -> BandMaker | None:
        """Bands for any day that is asked about; None until the libraries for it are loaded."""
        if not self._warmed:
            return None
        from logbook.model.predict.bands import BandMaker
        from logbook.model.predict.draws import Draws
        from logbook.record.reading.tallies import read_contacts

        def contacts(watch_id: int) -> Mapping[Position, Contacts]:
            with self.rows() as rows:
                return read_contacts(rows, watch_id, self.practice)

        return BandMaker(Draws.random(self.practice), contacts)

    def look_ahead(self) -> bool:
        """Work out the bands and the forecast of every watch that has changed; meant for a thread.

        True when there was one. Nothing before the libraries for it are loaded.
        """
        if not self._warmed or self.must_reckon or not self.exists:
            return False
        from logbook.model.predict.draws import Draws
        from logbook.model.predict.insight import insight_of
        from logbook.record.reading.insight import read_outset

        with self.rows() as rows:  # for no longer than it takes to read: nobody can write meanwhile
            states, today = glance.read_states(rows), self.today
            changed = [
                (record, state, read_outset(rows, record, self.practice, today))
                for record in self.read(rows, retired=True)
                if not self._is_fresh(record, state := states.get(record.watch.id or 0, ()))
            ]
        draws = Draws.random(self.practice) if changed else None
        for record, state, outset in changed:
            assert draws is not None
            self._insights[record.watch.id or 0] = _Known(record, state, today, insight_of(outset, draws))
        if changed:
            self._stand_again()  # with what was found
        return bool(changed)

    def _stand_again(self) -> None:
        self._changes += 1
        self._standings = None
        self.read_ahead()

    def reads_otherwise(self) -> bool:
        """True for a record of before these rules whose owner was not told yet what they change."""
        from logbook.model.judge.otherwise import otherwise

        if not self.exists:
            return False
        with self.rows() as rows:
            told = glance.rules_are_told(rows)
        return not told and any(otherwise(standing) for standing in self.standings())

    def rules_told(self) -> None:
        """Do not tell again what the rules changed; a record that cannot be written to tells it each time."""
        from logbook.record.writing.rules_told import rules_told

        with self.writing() as store:
            rules_told(store)

    def foresight(self, *, wait: bool = False) -> Foresight | None:
        """What the owner's tests teach; None until the libraries for it are loaded, unless one can wait."""
        if self._foresight is None and self.exists and (self._warmed or wait):
            from logbook.record.reading.foresight import read_foresight

            changes = self._changes
            self._mark()
            with self.rows() as rows:
                found = read_foresight(rows, self.practice, self.today)
            if changes == self._changes:
                self._foresight = found
            return found
        return self._foresight

    def watches(self) -> list[Watch]:
        """Every watch on the shelf."""
        return [s.record.watch for s in self.standings()]

    def records(self) -> list[WatchRecord]:
        """What is needed to reckon every watch on the shelf."""
        return [s.record for s in self.standings()]

    @property
    def settings(self) -> Settings:
        """What the owner set once."""
        if self._settings is None:
            if self._is_new:
                return Settings()
            changes = self._changes
            self._mark()
            with self.rows() as rows:
                found = glance.read_settings(rows)
            if changes == self._changes:
                self._settings = found
            return found
        return self._settings

    @property
    def units(self) -> Units:
        """How quantities are printed."""
        return self.units_asked or self.settings.units

    def warm(self) -> None:
        """Load what writing and sea water need; meant for a thread."""
        from importlib import import_module

        from logbook.physics import water

        for module in ("text.lines", "record.writing.exposures", "record.writing.watches"):
            import_module(f"logbook.{module}")

        water.density_kg_m3(water.WaterColumn(35.0, 15.0, 45.0))
        self.foresight(wait=True)
        self._warmed = True
        self._stand_again()  # with their chance

    @contextmanager
    def writing(self, *, create: bool = False) -> Iterator[Store]:
        """The record for a change; what was read before is read anew afterwards."""
        from logbook.record.file.store import Store
        from logbook.record.writing import settings

        with Store.open(self.location, create=create) as store:
            if store.begun:
                settings.begin(store)
            try:
                yield store
            finally:
                self.forget()

    def forget(self) -> None:
        """Read everything anew when it is next asked for."""
        self._changes += 1
        self._standings = None
        self._settings = None
        self._foresight = None
        self._stamp = None

    def follow(self) -> bool:
        """Read the record anew where another window changed it; True when it did.

        A record that has gone is told of where it is read. Raises LogbookError when it can no longer be read:
        what was read before then stays.
        """
        if self._stamp is None or (stamp := self._stamp_now()) is None or stamp == self._stamp:
            return False
        kept = self._standings, self._settings, self._foresight, self._stamp
        self.forget()
        try:
            self.standings()
        except LogbookError:
            self._standings, self._settings, self._foresight, self._stamp = kept
            raise
        return True

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
            try:
                found = self.location.stat()
            except OSError:
                return None
            return found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns
        with self.rows() as rows:
            return glance.read_writes(rows)

    def turn_to(self, day: date) -> None:
        """Another day: everything is read and worked out as on it when it is next asked for."""
        self.today = day
        self._insights.clear()
        self.forget()

    def reckon_anew(self, progress: Callable[[int, int], None] | None = None) -> None:
        """Make the whole ledger anew; meant for a thread, where it is long.

        `progress` is told exposures done and exposures in all; what it raises leaves the ledger as it was.
        """
        from logbook.record.ledger import ledger

        with self.writing() as store:
            ledger.refresh_all(store, self.practice, progress)
        self.must_reckon = False

    def _records(self) -> list[WatchRecord] | None:
        """Every watch on the shelf; None where a long ledger of other constants must be made anew first.

        A short one is made anew by the way, and so is one that went stale while the record was open.
        """
        with self.rows() as rows:
            if not glance.is_stale(rows, self.practice):
                return self.read(rows)
            from logbook.record.ledger.backlog import backlog_of

            found = backlog_of(rows, self.practice)
        if found is not None and found.much:
            if self._seen:
                raise MustReckon("Another program reckoned the ledger of this record with other constants.")
            return None
        self.reckon_anew()
        with self.rows() as rows:
            return self.read(rows)
