"""What the rooms read of the log of a watch: exposures, events, costs, plans."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING

from logbook.errors import NotFound
from logbook.model.values import Event, Exposure, Position, Seal, Shares, WatchRecord
from logbook.model.wear.wet_days import Year
from logbook.record.reading import charged, glance
from logbook.tui.shell.book_open import OpenBook

if TYPE_CHECKING:
    from logbook.model.judge.since import Since
    from logbook.model.predict.levers import Levers


class LogReader(OpenBook):
    """The log of each watch, page by page."""

    def records_of(self, watch_ids: Sequence[int]) -> list[WatchRecord]:
        """Some watches as the record holds them now, in this order; raises NotFound where one is gone."""
        with self.rows() as rows:
            only = watch_ids[0] if len(watch_ids) == 1 else None
            found = {r.watch.id: r for r in self.read(rows, watch_id=only, retired=True)}
        if any(watch_id not in found for watch_id in watch_ids):
            raise NotFound("This watch is no longer in the record.", where="watch")
        return [found[watch_id] for watch_id in watch_ids]

    def exposures(self, watch_id: int, *, limit: int = 1, offset: int = 0) -> list[Exposure]:
        """Exposures of a watch that happened, newest first."""
        with self.rows() as rows:
            return glance.read_exposures(
                rows, watch_id=watch_id, planned=False, newest_first=True, limit=limit, offset=offset
            )

    def with_profile(self, exposure: Exposure) -> Exposure:
        """The exposure with its profile, which lists leave out; as it is where it was struck meanwhile."""
        with self.rows() as rows, suppress(NotFound):
            return glance.read_exposure(rows, exposure.id or 0)
        return exposure

    def cost(self, exposure_id: int) -> dict[int, Shares]:
        """Seal id -> what an exposure added to it."""
        with self.rows() as rows:
            return charged.ledger_of(rows, exposure_id)

    def plans(self, watch_id: int) -> list[Exposure]:
        """Planned exposures of a watch, the last one first."""
        with self.rows() as rows:
            return glance.read_exposures(rows, watch_id=watch_id, planned=True, newest_first=True)

    def all_plans(self) -> list[Exposure]:
        """Planned exposures of every watch, retired ones included, the first one first."""
        if self._is_new:
            return []
        with self.rows() as rows:
            return glance.read_exposures(rows, planned=True)

    def all_records(self) -> list[WatchRecord]:
        """What is needed to reckon every watch, retired ones included."""
        if self._is_new:
            return []
        with self.rows() as rows:
            return self.read(rows, retired=True)

    def log_length(self, record: WatchRecord) -> int:
        """How many exposures and events the log of a watch holds, plans left out."""
        with self.rows() as rows:
            wet = glance.count_exposures(rows, watch_id=record.watch.id, planned=False)
        return wet + len(record.events)

    def log_page(
        self, watch_id: int, offset: int, limit: int
    ) -> list[tuple[Exposure | Event, dict[int, Shares]]]:
        """Entries of a watch's log, newest first, each with what it added to which seal."""
        with self.rows() as rows:
            entries = glance.read_log(rows, watch_id, limit=limit, offset=offset)
            return [
                (entry, charged.ledger_of(rows, entry.id or 0) if isinstance(entry, Exposure) else {})
                for entry in entries
            ]

    def happened(self, record: WatchRecord) -> Since | None:
        """What its limiting seal was charged since the last pass; None without a seal."""
        from logbook.record.reading.happened import read_since

        with self.rows() as rows:
            return read_since(rows, record, self.practice, self.today)

    def check_nickname(self, name: str, watch_id: int) -> None:
        """Raises BadInput where another watch has this nickname."""
        from logbook.record.writing.watch_names import refuse_double

        with self.rows() as rows:
            refuse_double(rows, name, watch_id)

    def year_of_water(self, record: WatchRecord, year: int, position: Position | None) -> Year:
        """The days of a year with water, and what each cost the seals in one place."""
        from logbook.record.reading.wet_days import read_year

        with self.rows() as rows:
            return read_year(rows, record, year, position, self.practice, self.today)

    def levers(self, record: WatchRecord, seal: Seal) -> Levers:
        """What moves the date most on which a seal is used up."""
        from logbook.model.predict.levers import levers_of
        from logbook.record.reading.insight import read_outset

        with self.rows() as rows:
            outset = read_outset(rows, record, self.practice, self.today)
        return levers_of(outset, seal, self.practice)

    def wet_on(self, watch_id: int, on: date) -> bool:
        """True when an exposure of this watch is on record for a day."""
        with self.rows() as rows:
            return glance.count_exposures(rows, watch_id=watch_id, since=on, until=on, planned=False) > 0

    def last_exposure(self, watch_id: int, activity: str | None = None) -> Exposure | None:
        """The newest exposure of a watch, or the newest of one activity."""
        with self.rows() as rows:
            found = glance.read_exposures(
                rows, watch_id=watch_id, planned=False, activity=activity, newest_first=True, limit=1
            )
        return found[0] if found else None
