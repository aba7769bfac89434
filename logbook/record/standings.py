"""How every watch of a record stands, and what is known of the days ahead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.errors import LogbookError, NotFound
from logbook.model.judge.standing import Standing, stand, stand_all
from logbook.model.values import Units, Watch, WatchRecord
from logbook.record.opening import OpenBook
from logbook.record.reading import glance

if TYPE_CHECKING:
    from logbook.model.due.services import Service
    from logbook.model.predict.bands import BandMaker, Outset
    from logbook.model.predict.draws import Draws
    from logbook.model.predict.insight import Insight
    from logbook.model.predict.tally import Contacts
    from logbook.model.predict.trials import Foresight
    from logbook.model.values import Position
    from logbook.record.ledger.ledger import Progress


@dataclass(frozen=True)
class _Known:
    """Bands and forecast of a watch, and what they were worked out from."""

    record: WatchRecord
    state: glance.State
    today: date
    found: Insight


class MustReckon(LogbookError):
    """The long ledger of a record that is open has become one of other constants: see `reckon_anew`."""


class Standings(OpenBook):
    """An open record, and what is worked out from it until something changes."""

    def __init__(
        self,
        location: Path | str | None,
        today: date,
        units: Units | None = None,
        *,
        by_clock: bool = False,
        may_wait: bool = False,
    ) -> None:
        """`may_wait` for the libraries that look ahead; else `warm` loads them in a thread."""
        super().__init__(location, today, units, by_clock=by_clock)
        self.must_reckon = False  # a long ledger: see `reckon_anew`; until then no watch has a standing
        self._seen = False  # a record that was there and is gone is trouble, not an empty shelf
        self._may_wait = may_wait
        self._insights: dict[int, _Known] = {}

    # ------------------------------------------------------------------ the watches

    def all_records(self) -> list[WatchRecord]:
        """Every watch, retired ones too, by nickname, as it was when first asked for."""
        return self._once("records", lambda: self.records(retired=True))

    def shelf(self) -> list[WatchRecord]:
        """The same of the watches that are not retired."""
        return [record for record in self.all_records() if record.watch.retired_on is None]

    def all_watches(self) -> list[Watch]:
        """Every watch, retired ones too."""
        return [record.watch for record in self.all_records()]

    def watches(self) -> list[Watch]:
        """Every watch on the shelf."""
        return [standing.record.watch for standing in self.standings()]

    def positions(self) -> dict[int | None, Position]:
        """Seal id -> the place where it sits."""
        seals = (seal for record in self.all_records() for seal in record.seals)
        return self._once("positions", lambda: {seal.id: seal.position for seal in seals})

    def clock_behind_by(self) -> date | None:
        """The latest day on record, of any watch, that the clock has not reached; None: it is not behind."""
        from logbook.model.judge.facts import clock_behind_by

        found = (clock_behind_by(record, self.today) for record in self.all_records())
        return max((day for day in found if day is not None), default=None)

    def name_of(self, watch_id: int | None) -> str:
        """The nickname behind an id."""
        return next((watch.name for watch in self.all_watches() if watch.id == watch_id), "")

    def records_of(self, watch_ids: Sequence[int]) -> list[WatchRecord]:
        """Some watches as the record holds them now, in this order; raises NotFound where one is gone."""
        only = watch_ids[0] if len(watch_ids) == 1 else None
        found = {r.watch.id: r for r in self.records(watch_id=only, retired=True)}
        if any(watch_id not in found for watch_id in watch_ids):
            raise NotFound("This watch is no longer in the record.", where="watch")
        return [found[watch_id] for watch_id in watch_ids]

    def records(self, *, watch_id: int | None = None, retired: bool = False) -> list[WatchRecord]:
        """What is needed to reckon every watch, or one, as the record holds it now."""
        if self._is_new():
            return []
        with self.reading() as rows:
            return self.read(rows, watch_id=watch_id, retired=retired)

    def _is_new(self) -> bool:
        """True while there is no record and never was one."""
        return not self._seen and not self.exists()

    # ------------------------------------------------------------------ how they stand

    def standings(self) -> list[Standing]:
        """How every watch stands today, retired ones left out; what is known ahead is taken along."""
        if "standings" not in self._kept and self._is_new():
            return []
        return self._once("standings", self._stand) or []

    def _stand(self) -> list[Standing] | None:
        records = None if self.must_reckon else self._settled()
        self.must_reckon = records is None
        if records is None:
            return None
        insights = {record.watch.id or 0: found for record in records if (found := self._known(record))}
        self._seen = True
        return stand_all(records, self.practice, self.today, self.foresight(), insights)

    def _settled(self) -> list[WatchRecord] | None:
        """Every watch on the shelf; None where a long ledger of other constants must be made anew first.

        A short one is made anew by the way, and so is one that went stale while the record was open.
        """
        found = self.backlog()
        if found is not None and found.much:
            if self._seen:
                raise MustReckon("Another program reckoned the ledger of this record with other constants.")
            return None
        if found is not None:
            self.reckon_anew()
        return self.records()

    def reckon_anew(self, progress: Progress | None = None) -> None:
        """Make the whole ledger anew; meant for a thread, where it is long.

        `progress` is told exposures done and exposures in all; what it raises leaves the ledger as it was.
        """
        from logbook.record.ledger import ledger

        with self.writing() as store:
            ledger.refresh_all(store, self.practice, progress)
            self.must_reckon = False

    def standing(self, watch_id: int) -> Standing:
        """How one watch stands today; what is known ahead is taken along."""
        (record,) = self.records_of([watch_id])
        return stand(record, self.practice, self.today, self.foresight(), self._known(record))

    def foretold(self, record: WatchRecord, *, near: bool = False) -> Standing:
        """How a watch stands today, chance, bands and forecast worked out; `near` as far as dates need."""
        return stand(record, self.practice, self.today, self.foresight(), self.insight(record, near=near))

    def services_of(self, record: WatchRecord) -> Sequence[Service]:
        """The next date of every task of a watch, by service; the chance has no part in it."""
        return stand(record, self.practice, self.today, insight=self.insight(record, near=True)).services

    def services(self) -> list[Service]:
        """The services of every watch on the shelf, what comes first in front."""
        from logbook.model.due.services import in_order

        return in_order(service for record in self.shelf() for service in self.services_of(record))

    def read_ahead(self) -> None:
        """Read what the rooms show first; meant for a thread, so that no key waits for it.

        What goes wrong is told of where it is read for a person.
        """
        with suppress(LogbookError):
            self.standings()

    def reads_otherwise(self) -> bool:
        """True for a record of before these rules whose owner was not told yet what they change."""
        from logbook.model.judge.otherwise import otherwise

        told = not self.exists() or glance.rules_are_told(self.rows)
        return not told and any(otherwise(standing) for standing in self.standings())

    # ------------------------------------------------------------------ what is known ahead

    def foresight(self, *, wait: bool = False) -> Foresight | None:
        """What the owner's tests teach; None until the libraries for it are loaded, unless one can wait."""
        if "foresight" not in self._kept and not ((self._may_wait or wait) and self.exists()):
            return None
        return self._once("foresight", self.read_foresight)

    def read_foresight(self) -> Foresight:
        """The same as it is now."""
        from logbook.record.reading.foresight import read_foresight

        return self.ask(read_foresight, self.practice, self.today)

    def draws(self) -> Draws:
        """The constants as they may be, for bands and forecasts."""
        from logbook.model.predict.draws import Draws

        return self._once("draws", lambda: Draws.random(self.practice))

    def band_maker(self) -> BandMaker | None:
        """Bands for any day that is asked about; None until the libraries for it are loaded."""
        if not self._may_wait:
            return None
        from logbook.model.predict.bands import BandMaker
        from logbook.record.reading.tallies import read_contacts

        def contacts(watch_id: int) -> Mapping[Position, Contacts]:
            return self.ask(read_contacts, watch_id, self.practice)

        return BandMaker(self.draws(), contacts)

    def outset(self, record: WatchRecord) -> Outset:
        """All that bands and forecast of a watch start from."""
        from logbook.record.reading.insight import read_outset

        return self.ask(read_outset, record, self.practice, self.today)

    def insight(self, record: WatchRecord, *, near: bool = False) -> Insight:
        """Bands and forecast of a watch; `near` looks only as far ahead as due dates need."""
        from logbook.model.predict.forecast import HORIZON_YEARS
        from logbook.model.predict.insight import insight_of, near_years

        years = near_years(record, self.practice) if near else HORIZON_YEARS
        return insight_of(self.outset(record), self.draws(), years)

    def look_ahead(self) -> bool:
        """Work out the bands and the forecast of every watch that has changed; meant for a thread.

        True when there was one. Nothing before the libraries for it are loaded.
        """
        if not self._may_wait or self.must_reckon or not self.exists():
            return False
        from logbook.model.predict.insight import insight_of

        with self.reading() as rows:  # for no longer than it takes to read: nobody can write meanwhile
            states, today = glance.read_states(rows), self.today
            changed = [
                (record, state, self.outset(record))
                for record in self.read(rows, retired=True)
                if not self._is_fresh(record, state := states.get(record.watch.id or 0, ()))
            ]
        for record, state, outset in changed:
            self._insights[record.watch.id or 0] = _Known(
                record, state, today, insight_of(outset, self.draws())
            )
        if changed:
            self._stand_again()  # with what was found
        return bool(changed)

    def _is_fresh(self, record: WatchRecord, state: glance.State) -> bool:
        known = self._insights.get(record.watch.id or 0)
        return known is not None and (known.record, known.state, known.today) == (record, state, self.today)

    def _known(self, record: WatchRecord) -> Insight | None:
        """The bands and the forecast of a watch as last worked out; None once it has other seals.

        One that is retired since then has no forecast.
        """
        known = self._insights.get(record.watch.id or 0)
        if known is None or known.record.seals != record.seals:
            return None
        return known.found if record.watch.retired_on is None else replace(known.found, forecast=None)

    def warm(self) -> None:
        """Load what writing and sea water need; meant for a thread."""
        from importlib import import_module

        from logbook.physics import water

        for module in ("text.lines", "record.writing.exposures", "record.writing.watches"):
            import_module(f"logbook.{module}")

        water.density_kg_m3(water.WaterColumn(35.0, 15.0, 45.0))
        self.foresight(wait=True)
        self._may_wait = True
        self._stand_again()  # with their chance

    def _stand_again(self) -> None:
        self._kept = {name: found for name, found in self._kept.items() if name != "standings"}
        self.read_ahead()

    # ------------------------------------------------------------------ what others do, and the clock

    def follow(self) -> bool:
        """Read the record anew where another window changed it; True when it did.

        A record that has gone is told of where it is read. Raises LogbookError when it can no longer be read:
        what was read before then stays.
        """
        if self._stamp is None or (stamp := self._stamp_now()) is None or stamp == self._stamp:
            return False
        kept = self._kept, self._stamp
        self.forget()
        try:
            self.standings()
        except LogbookError:
            self._kept, self._stamp = kept
            raise
        return True

    def turn_to(self, day: date) -> None:
        """Another day: everything is read and worked out as on it when it is next asked for."""
        self.today = day
        self._insights.clear()
        self.forget()
