"""When two entries of a watch are one and the same: whatever asks "is it here already?" asks here.

Equal ids say nothing by themselves, since the records of two machines give the same ones.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, replace
from datetime import datetime, timedelta
from typing import Generic, TypeVar

from logbook.model.values import Entry, Event, Exposure, Habit, Watch

Thing = TypeVar("Thing")

# Two contacts of one watch are alike when they overlap in time; when they began about then and are roughly
# of one shape; or when they are of one shape to the minute, which clocks of two zones make hours apart.
NEAR_START, ANY_ZONE = timedelta(minutes=90), timedelta(hours=14)
ROUGH_MIN, ROUGH_M, ROUGH_PART = 10.0, 3.0, 0.2
EXACT_MIN, EXACT_M = 2.0, 0.5
# What one person calls a dive another calls by what was breathed.
_UNDER_WATER = ("dive", "mixed-gas", "freedive", "snorkel")
_NOT_TOLD = ("id", "profile", "gauge_pa", "utc_offset_s", "water_c_assumed")
_TOLD = tuple(field.name for field in fields(Exposure) if field.name not in _NOT_TOLD)


def content(entry: Entry, watch_id: int | None) -> object:
    """Two entries of a record are the same when all but their ids is equal."""
    if isinstance(entry, Habit):
        contact = replace(entry.exposure, id=None, watch_id=watch_id)
        return replace(entry, id=None, watch_id=watch_id, exposure=contact)
    if isinstance(entry, Event):
        return replace(entry, id=None, watch_id=watch_id, seals=tuple(sorted(entry.seals)))
    return replace(entry, id=None, watch_id=watch_id)


def endless(entry: Entry, watch_id: int | None) -> object:
    """A habit is the same as one that ended otherwise; None for what is no habit."""
    return content(replace(entry, to_on=None), watch_id) if isinstance(entry, Habit) else None


def told(exposure: Exposure) -> object:
    """An exposure of a table or a line is the same when all that these can say of it is equal."""
    return tuple(getattr(exposure, name) for name in _TOLD)


def passed_test(event: Event) -> object:
    """A test of a table of watches, which says neither minutes nor workshop: its day and pressure must do."""
    return event.kind, event.on, event.passed, event.test_pa


def in_another_state(entry: Entry, watch_id: int, here: Entry, earlier: Iterable[Entry]) -> bool:
    """An entry is the one of its id here when that was so once, or is of the very same moment now.

    `earlier` are the other states that this one had.
    """
    states = [(_plain(state), state.watch_id) for state in (*earlier, here)]
    moment = _moment(entry)
    return (_plain(entry), watch_id) in states or (
        here.watch_id == watch_id and moment is not None and moment == _moment(here)
    )


def renamed(filed: Watch, here: Watch, *, was_so_named: bool, shares_entry: bool) -> bool:
    """A watch of another nickname is the one of its id when it was added on that day, and one thing more.

    It was so named once; or mark and at least one entry are the same.
    """
    alike = shares_entry and (filed.mark, filed.marked_pa) == (here.mark, here.marked_pa)
    return filed.added_on == here.added_on and (was_so_named or alike)


def planned_water(plan: Exposure) -> tuple[object, ...]:
    """Two plans are one when they will be the same, to the precision in which the record keeps it."""
    p = plan
    measured = (p.depth_m, p.water_c, p.from_c, p.jump_m, p.salinity)
    return (
        p.activity, p.water, p.starts_on, p.planned_to, p.starts_at, p.duration_s, p.dips, p.rinsed,
        p.crown_wet, p.crown_under, p.pusher_wet, p.pusher_under, p.crown_open, p.pushers_open,
        *(None if number is None else round(number, 2) for number in measured),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Origin:
    """What a dive was in its file: start as written there, length, depth, and the file's id for it."""

    start: str  # ISO 8601, a date alone where no time was written
    duration_s: int
    depth_mm: int
    dive_id: str

    def __str__(self) -> str:
        return f"dive {self.start} {self.duration_s} {self.depth_mm} {self.dive_id}"

    @classmethod
    def read(cls, text: str) -> Origin | None:
        """The origin that a text is; None for what was no dive of a file."""
        kind, *parts = text.split(" ", 4)
        if kind != "dive" or len(parts) != 4:
            return None
        try:
            return cls(parts[0], int(parts[1]), int(parts[2]), parts[3])
        except ValueError:
            return None

    def is_same(self, other: Origin) -> bool:
        """One and the same dive: of one start and length, or of one start and the file's own id.

        Of dives without a time of day the depth must agree too, and ids must not differ. An id alone does
        not do: many files number their dives from one.
        """
        if self.start != other.start:
            return False
        ids_agree = bool(self.dive_id) and self.dive_id == other.dive_id
        if "T" in self.start:
            return ids_agree or self.duration_s == other.duration_s
        shape = (self.duration_s, self.depth_mm) == (other.duration_s, other.depth_mm)
        return shape and (ids_agree or not (self.dive_id and other.dive_id))


class Origins(Generic[Thing]):
    """Things by what they were in a file: the same is what has one text, or was one and the same dive.

    Dives are kept by their starts, so that a long file is compared in one pass.
    """

    def __init__(self, found: Iterable[tuple[int | None, str, Thing]] = ()) -> None:
        self._found: dict[tuple[int | None, str], list[tuple[Origin | None, Thing]]] = defaultdict(list)
        for watch_id, text, thing in found:
            self.add(watch_id, text, thing)

    def add(self, watch_id: int | None, text: str, thing: Thing) -> None:
        """Keeps what came from a file, of a watch; without a text nothing is the same as it."""
        origin = Origin.read(text)
        if text:
            self._found[watch_id, origin.start if origin else text].append((origin, thing))

    def same(self, watch_id: int | None, text: str) -> Iterator[Thing]:
        """What is the same, in the order added."""
        origin = Origin.read(text)
        for known, thing in self._found.get((watch_id, origin.start if origin else text), ()):
            if origin is None or (known is not None and origin.is_same(known)):
                yield thing


def alike(one: Exposure, other: Exposure) -> bool:
    """Two contacts of one watch may be one and the same, told twice, when they come close enough."""
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
    """How far two exposures are apart, in time first; without a time of day a day's half counts."""
    first, second = _start(one), _start(other)
    hours = 12.0 if first is None or second is None else abs(first - second) / timedelta(hours=1)
    return hours, sum(_difference(one, other))


def _plain(entry: Entry) -> object:
    """The content without what the journal keeps apart: points of a profile, seals."""
    if isinstance(entry, Exposure):
        return content(replace(entry, profile=()), None)
    return content(replace(entry, seals=()), None) if isinstance(entry, Event) else content(entry, None)


def _moment(entry: Entry) -> object:
    """What two entries of one watch and one id share only when they are one; None where nothing tells.

    No watch goes into the water twice at one time of day. A day alone is shared by many contacts.
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
    """In minutes and in metres."""
    return abs(one.duration_s - other.duration_s) / 60, abs(one.depth_m - other.depth_m)


def _start(exposure: Exposure) -> datetime | None:
    """In UTC, so that two zones compare; naive. None without a time of day."""
    if exposure.starts_at is None:
        return None
    offset = timedelta(seconds=exposure.utc_offset_s or 0)
    return datetime.combine(exposure.starts_on, exposure.starts_at) - offset
