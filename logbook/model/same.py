"""When two entries of a watch are the same: every question "is it here already?" is answered here.

Equal ids prove nothing by themselves: the records of two machines give out the same ones.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, replace
from datetime import datetime, timedelta
from typing import Generic, TypeVar

from logbook.model.values import Entry, Event, Exposure, Habit, Watch

Thing = TypeVar("Thing")

# Two contacts of one watch are alike when they overlap in time; when they began close together and have
# roughly one shape; or when they have one shape to the minute, hours apart by the clocks of two zones.
NEAR_START, ANY_ZONE = timedelta(minutes=90), timedelta(hours=14)
ROUGH_MIN, ROUGH_M, ROUGH_PART = 10.0, 3.0, 0.2
EXACT_MIN, EXACT_M = 2.0, 0.5
# What one person calls a dive, another names by the gas breathed.
_UNDER_WATER = ("dive", "mixed-gas", "freedive", "snorkel")
_NOT_TOLD = ("id", "profile", "gauge_pa", "utc_offset_s", "water_c_assumed")
_TOLD = tuple(field.name for field in fields(Exposure) if field.name not in _NOT_TOLD)


def content(entry: Entry, watch_id: int | None) -> object:
    """An entry without its ids: two entries are the same when this is equal."""
    if isinstance(entry, Habit):
        contact = replace(entry.exposure, id=None, watch_id=watch_id)
        return replace(entry, id=None, watch_id=watch_id, exposure=contact)
    if isinstance(entry, Event):
        return replace(entry, id=None, watch_id=watch_id, seals=tuple(sorted(entry.seals)))
    return replace(entry, id=None, watch_id=watch_id)


def endless(entry: Entry, watch_id: int | None) -> object:
    """A habit without its end: two that differ only in this are the same. None for anything but a habit."""
    return content(replace(entry, to_on=None), watch_id) if isinstance(entry, Habit) else None


def told(exposure: Exposure) -> object:
    """What a table or a line can say about an exposure: two are the same when this is equal."""
    return tuple(getattr(exposure, name) for name in _TOLD)


def passed_test(event: Event) -> object:
    """What a table of watches says about a passed test: its day and pressure, not minutes or workshop."""
    return event.kind, event.on, event.passed, event.test_pa


def in_another_state(entry: Entry, watch_id: int, here: Entry, earlier: Iterable[Entry]) -> bool:
    """True when two entries of one id are the same: either an earlier state or the moment agrees.

    `earlier` are the former states of the entry here.
    """
    states = [(_plain(state), state.watch_id) for state in (*earlier, here)]
    moment = _moment(entry)
    return (_plain(entry), watch_id) in states or (
        here.watch_id == watch_id and moment is not None and moment == _moment(here)
    )


def renamed(filed: Watch, here: Watch, *, was_so_named: bool, shares_entry: bool) -> bool:
    """True when a watch of another nickname is the one with its id here.

    Both were added on the same day; and it once had that name, or the mark and at least one entry agree.
    """
    alike = shares_entry and (filed.mark, filed.marked_pa) == (here.mark, here.marked_pa)
    return filed.added_on == here.added_on and (was_so_named or alike)


def planned_water(plan: Exposure) -> tuple[object, ...]:
    """What a plan will be, at the precision the record keeps: two plans are the same when this is equal."""
    p = plan
    measured = (p.depth_m, p.water_c, p.from_c, p.jump_m, p.salinity)
    return (
        p.activity, p.water, p.starts_on, p.planned_to, p.starts_at, p.duration_s, p.dips, p.rinsed,
        p.crown_wet, p.crown_under, p.pusher_wet, p.pusher_under, p.crown_open, p.pushers_open,
        *(None if number is None else round(number, 2) for number in measured),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Origin:
    """A dive as its file had it: the start as written there, length, depth, and the file's id for it."""

    start: str  # ISO 8601, a date alone where no time was written
    duration_s: int
    depth_mm: int
    dive_id: str

    def __str__(self) -> str:
        return f"dive {self.start} {self.duration_s} {self.depth_mm} {self.dive_id}"

    @classmethod
    def read(cls, text: str) -> Origin | None:
        """Reads an origin from its text; None where the text is not that of a dive from a file."""
        kind, *parts = text.split(" ", 4)
        if kind != "dive" or len(parts) != 4:
            return None
        try:
            return cls(parts[0], int(parts[1]), int(parts[2]), parts[3])
        except ValueError:
            return None

    def is_same(self, other: Origin) -> bool:
        """True for the same dive: start and length agree, or start and the file's own id.

        Without a time of day the depth must agree too, and the ids must not differ. An id alone is not
        enough: many files number their dives from one.
        """
        if self.start != other.start:
            return False
        ids_agree = bool(self.dive_id) and self.dive_id == other.dive_id
        if "T" in self.start:
            return ids_agree or self.duration_s == other.duration_s
        shape = (self.duration_s, self.depth_mm) == (other.duration_s, other.depth_mm)
        return shape and (ids_agree or not (self.dive_id and other.dive_id))


class Origins(Generic[Thing]):
    """Finds things by what they were in a file: those with the same text, or those that were the same dive.

    Dives are kept by their starts, so that a long file is compared in one pass.
    """

    def __init__(self, found: Iterable[tuple[int | None, str, Thing]] = ()) -> None:
        self._found: dict[tuple[int | None, str], list[tuple[Origin | None, Thing]]] = defaultdict(list)
        for watch_id, text, thing in found:
            self.add(watch_id, text, thing)

    def add(self, watch_id: int | None, text: str, thing: Thing) -> None:
        """Adds a thing of a watch that came from a file; without a text nothing is the same as it."""
        origin = Origin.read(text)
        if text:
            self._found[watch_id, origin.start if origin else text].append((origin, thing))

    def same(self, watch_id: int | None, text: str) -> Iterator[Thing]:
        """The things that are the same, in the order added."""
        origin = Origin.read(text)
        for known, thing in self._found.get((watch_id, origin.start if origin else text), ()):
            if origin is None or (known is not None and origin.is_same(known)):
                yield thing


def alike(one: Exposure, other: Exposure) -> bool:
    """True when two contacts of one watch are close enough to be one that was told twice."""
    if one.activity != other.activity and not {one.activity, other.activity} <= set(_UNDER_WATER):
        return False
    first, second = _start(one), _start(other)
    if first is None or second is None:
        return one.starts_on == other.starts_on and _roughly(one, other)
    apart = abs(first - second)
    overlap = apart < timedelta(seconds=(one if first < second else other).duration_s)
    return overlap or (
        _roughly(one, other) if apart <= NEAR_START else apart <= ANY_ZONE and _exactly(one, other)
    )


def distance(one: Exposure, other: Exposure) -> tuple[float, float]:
    """How far apart two exposures are, by time first; a missing time of day counts as half a day."""
    first, second = _start(one), _start(other)
    hours = 12.0 if first is None or second is None else abs(first - second) / timedelta(hours=1)
    return hours, sum(_difference(one, other))


def _plain(entry: Entry) -> object:
    """The content without what the journal keeps separately: the points of a profile, and seals."""
    if isinstance(entry, Exposure):
        return content(replace(entry, profile=()), None)
    return content(replace(entry, seals=()), None) if isinstance(entry, Event) else content(entry, None)


def _moment(entry: Entry) -> object:
    """What two entries of one watch and one id share only when they are the same; None where nothing tells.

    A watch does not go into the water twice at one time of day; many contacts may share a day.
    """
    if isinstance(entry, Exposure):
        start = entry.starts_at
        return None if start is None else (entry.starts_on, start, entry.utc_offset_s)
    if isinstance(entry, Event):
        result = (entry.passed, entry.test_pa, entry.medium, entry.repaired)
        return entry.kind, entry.on, result, sorted(entry.seals)
    return None


def _roughly(one: Exposure, other: Exposure) -> bool:
    minutes, depth_m = _difference(one, other)
    longest_min = max(one.duration_s, other.duration_s) / 60
    deepest_m = max(one.depth_m, other.depth_m)
    return minutes <= max(ROUGH_MIN, ROUGH_PART * longest_min) and depth_m <= max(
        ROUGH_M, ROUGH_PART * deepest_m
    )


def _exactly(one: Exposure, other: Exposure) -> bool:
    minutes, depth_m = _difference(one, other)
    return minutes <= EXACT_MIN and depth_m <= EXACT_M


def _difference(one: Exposure, other: Exposure) -> tuple[float, float]:
    """How far apart in minutes and in metres."""
    return abs(one.duration_s - other.duration_s) / 60, abs(one.depth_m - other.depth_m)


def _start(exposure: Exposure) -> datetime | None:
    """The start in UTC, naive, so that two zones compare; None without a time of day."""
    if exposure.starts_at is None:
        return None
    offset = timedelta(seconds=exposure.utc_offset_s or 0)
    return datetime.combine(exposure.starts_on, exposure.starts_at) - offset
