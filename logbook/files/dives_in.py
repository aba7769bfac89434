"""Dives of a file as exposures of the watch that was worn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from hashlib import sha256
from zoneinfo import ZoneInfo

from logbook.errors import BadInput
from logbook.files.incoming import Incoming
from logbook.files.uddf.reading import FileDive
from logbook.model.practice import Practice
from logbook.model.same import Origin
from logbook.model.text import printable
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Settings, Watch

ACTIVITY = "dive"
LONGEST_ID, LONGEST_SITE = 200, 200  # characters that are kept


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
        starts, offset_s, shifted = self._civil(dive)
        exposure = make_exposure(
            self.practice, self.settings, activity=ACTIVITY, today=self.today, watch=watch,
            starts_on=starts.date(), starts_at=starts.time() if dive.has_time else None,
            zone=self.zone, utc_offset_s=offset_s if dive.has_time else None,
            depth_m=dive.depth_m, duration_s=dive.duration_s, water=dive.water,
            water_c=dive.lowest_c, rinsed=self.rinsed, note=_note(dive.site), profile=dive.points,
        )  # fmt: skip
        warnings = (*(f"line {each.line}: {each.sentence}" for each in dive.warnings), *shifted)
        return Incoming(place_of(dive), exposure, str(origin_of(dive)), warnings)

    def _civil(self, dive: FileDive) -> tuple[datetime, int | None, list[str]]:
        """The start as a clock on the wall showed it, its offset from UTC, and what was put right.

        A start without a zone is taken to be of ours. One that our clocks skipped is of an instrument that
        was left on winter time, and is an hour later on the wall.
        """
        assert dive.starts is not None
        if not dive.has_time:
            return dive.starts.replace(tzinfo=None), None, []
        zone = ZoneInfo(self.zone)
        aware = dive.starts.tzinfo is not None
        here = (dive.starts if aware else dive.starts.replace(tzinfo=zone)).astimezone(UTC).astimezone(zone)
        civil, offset = here.replace(tzinfo=None), here.utcoffset()
        shifted = []
        if not aware and civil.replace(fold=0) != dive.starts.replace(fold=0):
            shifted.append(
                f"{place_of(dive)}: {dive.starts:%H:%M} did not exist in {self.zone}, where the clocks went "
                f"forward: {civil:%H:%M} is taken."
            )
        return civil, None if offset is None else int(offset.total_seconds()), shifted


def place_of(dive: FileDive) -> str:
    """Where a dive stands in its file."""
    return f"line {dive.line}"


def origin_of(dive: FileDive) -> Origin:
    """What tells a dive apart from all others."""
    start = ""
    if dive.starts is not None:
        start = dive.starts.isoformat() if dive.has_time else dive.starts.date().isoformat()
    dive_id = printable(dive.dive_id)
    if len(dive_id) > LONGEST_ID:
        dive_id = sha256(dive_id.encode()).hexdigest()
    return Origin(start, round(dive.duration_s or 0), round(1000 * (dive.depth_m or 0)), dive_id)


def _note(site: str) -> str:
    return printable(site.strip(), LONGEST_SITE)
