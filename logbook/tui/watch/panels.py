"""What stands beside a watch's log when asked for: a working, what happened, the forecast, a year."""

from __future__ import annotations

from typing import Literal

from textual.geometry import Size

from logbook.model.judge.since import Since
from logbook.model.judge.standing import Standing
from logbook.model.predict.levers import Levers, levers_of
from logbook.model.values import Event, Exposure, Seal
from logbook.record.reading.happened import read_since
from logbook.record.reading.wet_days import read_year
from logbook.tui.pictures import water_strip
from logbook.tui.shell.ink import Line
from logbook.tui.shell.room import Room
from logbook.tui.shell.slow import Slow
from logbook.tui.watch import forecast_lines, since_lines
from logbook.tui.watch import lines as watch_lines
from logbook.tui.watch import working as watch_working
from logbook.tui.watch.log import GONE, LogPages, Row
from logbook.tui.widgets.lines import Lines

Panel = Literal["work", "happened", "forecast", "year"]


class Panels(Room):
    """The part of the Watch room that finds out what a panel says."""

    standing: Standing
    _log: LogPages | None
    _slow: Slow
    _panel: Panel
    _year: int | None
    _drawn_in: Size

    def _happened(self) -> Since | None:
        """What happened since the last pass; None until it is read, too."""
        record = self.standing.record
        if self.standing.score is None:
            return None
        book = self.book
        return self._slow.get("happened", lambda: book.ask(read_since, record, book.practice, book.today))

    def _raised(self, entry: watch_lines.Entry) -> str:
        """What an entry of the log raised, in a word."""
        if self._log is None or not isinstance(entry, Exposure):
            return ""
        return self._log.raised_by(entry)

    def _entry(self, row: int) -> Row:
        """A row of the log and its cost, read where it is looked at."""
        log = self._log
        return (self.looked_up(lambda: log.row(row)) if log is not None else None) or GONE

    def _working(self) -> list[Line]:
        if self._panel == "happened":
            since = self._happened()
            if since is None and self._slow.busy:
                return [[("what happened: ", "title"), ("working out …", "dim")]]
            return since_lines.panel(since, self.book.units, self._why_nothing)
        if self._panel == "forecast":
            return self._forecast()
        if self._panel == "year":
            return self._year_of_water()
        if self._in_log and self.query_one("#log", Lines).count:
            entry, costs = self._entry(self.query_one("#log", Lines).cursor)
            if entry is None:
                return []
            if isinstance(entry, Event):
                return watch_working.of_event(entry, self.book.units)
            whole = self.looked_up(lambda: self.book.with_profile(entry))
            if whole is None:
                return []
            return watch_working.of_exposure(
                whole, costs, self.standing, self.book.practice, self.book.units, self._drawn_in,
                self._raised(entry),
            )  # fmt: skip
        about = watch_lines.about(self.standing.record.watch)
        if not self.standing.seals:
            return [[("no seal is on record", "plain")], *about]
        seal = self.standing.seals[self.query_one("#seals", Lines).cursor]
        width = self._drawn_in.width
        units = self.book.units
        return [*watch_working.of_seal(seal, self.standing, self.book.practice, units, width), *about]

    def _forecast(self) -> list[Line]:
        """The forecast of the seal under the cursor, with what moves it most."""
        if self._why_nothing is not None:
            return forecast_lines.panel(None, None, None, *self._drawn_in, self._why_nothing)
        insight = self.standing.insight
        forecast = insight.forecast if insight else None
        seal = self._seal_here if forecast else None
        levers = self._levers_of(seal) if seal else None
        return forecast_lines.panel(forecast, seal.position if seal else None, levers, *self._drawn_in)

    def _levers_of(self, seal: Seal) -> Levers | None:
        """What moves its forecast most; None until it is worked out."""
        record = self.standing.record
        book = self.book

        def work_out() -> Levers:
            return levers_of(book.outset(record), seal, book.practice)

        return self._slow.get(f"levers of {seal.id}", work_out)

    @property
    def _why_nothing(self) -> str | None:
        """Why nothing is known of the seals that are on record; None where something is."""
        return self.standing.why_no_score if self.standing.seals else None

    def _year_of_water(self) -> list[Line]:
        """The year's days with water, by what they cost the seal under the cursor."""
        position = self._seal_here.position if self._seal_here else None
        asked = self._year or self.book.today.year
        about = (self.standing.record, asked, position, self.book.practice, self.book.today)
        year = self.looked_up(lambda: self.book.ask(read_year, *about))
        if year is None:
            return []
        since = self.standing.record.watch.recorded_from
        return water_strip.lines(year, position, since, self.book.today, self._drawn_in.width)

    @property
    def _seal_here(self) -> Seal | None:
        """The seal under the cursor."""
        seals = self.standing.seals
        return seals[self.query_one("#seals", Lines).cursor].seal if seals else None

    @property
    def _in_log(self) -> bool:
        return self.query_one("#log", Lines).has_focus
