"""Dives of a file as exposures of the watch that was worn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from hashlib import sha256
from typing import TYPE_CHECKING

from logbook.errors import BadInput
from logbook.exchange.arriving import Origin
from logbook.exchange.incoming import Incoming
from logbook.reckoning.practice import Practice
from logbook.reckoning.text import printable
from logbook.reckoning.validate import make_exposure
from logbook.reckoning.values import Settings, Watch

if TYPE_CHECKING:
    from logbook.exchange.uddf import FileDive

ACTIVITY = "dive"
LONGEST_ID, LONGEST_SITE = 200, 200  # characters that are kept


@dataclass(frozen=True, slots=True)
class Refusal:
    """A dive of the file that cannot come in, and why."""

    place: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Taker:
    """What a dive's file leaves open: the zone of times without one, and whether the watch was rinsed."""

    practice: Practice
    settings: Settings
    today: date
    zone: str
    rinsed: bool = False

    def take(self, dive: FileDive, watch: Watch) -> Incoming:
        """The exposure of `watch` that a dive was; raises BadInput, whose sentence says why it was none."""
        if dive.problem:
            raise BadInput(dive.problem, where=place_of(dive))
        if dive.starts is None or dive.depth_m is None or dive.duration_s is None:
            raise BadInput("It has no date, no depth or no duration.", where=place_of(dive))
        starts, offset_s = self._civil(dive.starts)
        exposure = make_exposure(
            self.practice, self.settings, activity=ACTIVITY, today=self.today, watch=watch,
            starts_on=starts.date(), starts_at=starts.time() if dive.has_time else None,
            zone=self.zone, utc_offset_s=offset_s if dive.has_time else None,
            depth_m=dive.depth_m, duration_s=dive.duration_s, water=dive.water,
            water_c=dive.lowest_c, rinsed=self.rinsed, note=_note(dive.site), profile=dive.points,
        )  # fmt: skip
        warnings = tuple(notice.sentence for notice in dive.warnings)
        return Incoming(place_of(dive), exposure, str(origin_of(dive)), warnings)

    def take_all(
        self, dives: Sequence[tuple[FileDive, Watch | None]]
    ) -> tuple[list[Incoming], list[Refusal]]:
        """What comes in, and what cannot; a dive without a watch is left out without a word."""
        taken, refused = [], []
        for dive, watch in dives:
            if watch is None:
                continue
            try:
                taken.append(self.take(dive, watch))
            except BadInput as error:
                refused.append(Refusal(place_of(dive), error.message))
        return taken, refused

    def _civil(self, starts: datetime) -> tuple[datetime, int | None]:
        """The start as a clock on the wall showed it; one without a zone is taken to be of ours."""
        if starts.tzinfo is None:
            return starts, None
        from zoneinfo import ZoneInfo

        here = starts.astimezone(ZoneInfo(self.zone))
        offset = here.utcoffset()
        return here.replace(tzinfo=None), None if offset is None else int(offset.total_seconds())


def place_of(dive: FileDive) -> str:
    """Where a dive stands in its file."""
    return f"line {dive.line}"


def origin_of(dive: FileDive) -> Origin:
    """What tells a dive apart from all others."""
    start = "" if dive.starts is None else dive.starts.isoformat()
    dive_id = printable(dive.dive_id)
    if len(dive_id) > LONGEST_ID:
        dive_id = sha256(dive_id.encode()).hexdigest()
    return Origin(start, round(dive.duration_s or 0), round(1000 * (dive.depth_m or 0)), dive_id)


def _note(site: str) -> str:
    return printable(site.strip(), LONGEST_SITE)
