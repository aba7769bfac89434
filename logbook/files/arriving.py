"""What of a file is new to the record: nothing comes in twice, and a likeness is a question."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date, datetime, timedelta
from typing import Any, Generic, Literal, TypeVar

from logbook.files.incoming import Incoming
from logbook.model.values import Exposure

State = Literal["new", "on record", "alike", "struck"]
Thing = TypeVar("Thing")

# Two contacts of one watch are alike when they overlap in time; when they began about then and are roughly
# of one shape; or when they are of one shape to the minute, which clocks of two zones make hours apart.
NEAR_START, ANY_ZONE = timedelta(minutes=90), timedelta(hours=14)
ROUGH_MIN, ROUGH_M, ROUGH_PART = 10.0, 3.0, 0.2
EXACT_MIN, EXACT_M = 2.0, 0.5
# What one person calls a dive another calls by what was breathed.
_UNDER_WATER = ("dive", "mixed-gas", "freedive", "snorkel")
_NOT_CONTENT = ("id", "profile", "gauge_pa", "utc_offset_s", "water_c_assumed")
_CONTENT = tuple(field.name for field in fields(Exposure) if field.name not in _NOT_CONTENT)


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


@dataclass(frozen=True, slots=True)
class Arrival:
    """One exposure of a file and how it stands to the record; `twin` is the one that it is, or is like."""

    incoming: Incoming
    state: State
    twin: Exposure | None = None
    twin_place: str = ""  # of a twin in the same file


class _Dives(Generic[Thing]):
    """Things by the start of the dive that they were, so that a long file is compared in one pass."""

    def __init__(self) -> None:
        self._found: dict[tuple[int | None, str], list[tuple[Origin, Thing]]] = defaultdict(list)

    def add(self, watch_id: int | None, origin: Origin, thing: Thing) -> None:
        self._found[watch_id, origin.start].append((origin, thing))

    def same(self, watch_id: int | None, origin: Origin) -> Iterator[Thing]:
        """What is one and the same dive of the same watch, in the order added."""
        near = self._found.get((watch_id, origin.start), ())
        return (thing for known, thing in near if origin.is_same(known))


class _OnRecord:
    """The exposures of the record that nothing of the file has been matched with yet."""

    def __init__(self, exposures: Iterable[Exposure], origins: Mapping[int, str]) -> None:
        self._by_origin: dict[tuple[int | None, str], list[Exposure]] = defaultdict(list)
        self._dives: _Dives[Exposure] = _Dives()
        self._by_content: dict[tuple[Any, ...], list[Exposure]] = defaultdict(list)
        self._by_day: dict[tuple[int | None, date], list[Exposure]] = defaultdict(list)
        self._taken: set[int | None] = set()
        for exposure in exposures:
            text = origins.get(exposure.id or 0, "")
            origin = Origin.read(text)
            if origin is not None:
                self._dives.add(exposure.watch_id, origin, exposure)
            elif text:
                self._by_origin[exposure.watch_id, text].append(exposure)
            self._by_content[_content(exposure)].append(exposure)
            self._by_day[exposure.watch_id, exposure.starts_on].append(exposure)

    def same_as(self, incoming: Incoming) -> Exposure | None:
        """The exposure that this is; it is nothing else's from then on."""
        watch_id = incoming.exposure.watch_id
        origin = Origin.read(incoming.origin)
        if origin is None:
            candidates = [*self._by_origin.get((watch_id, incoming.origin), ())]
        else:
            candidates = [*self._dives.same(watch_id, origin)]
        candidates += self._by_content.get(_content(incoming.exposure), ())
        found = next((e for e in candidates if e.id not in self._taken), None)
        if found is not None:
            self._taken.add(found.id)
        return found

    def twins(self, incoming: Sequence[Incoming | None]) -> dict[int, Exposure]:
        """Place in `incoming` -> the one on record that it may be; each is a twin once, of the nearest."""
        pairs = []
        for n, each in enumerate(incoming):
            if each is not None:
                pairs += [(_apart(each.exposure, e), n, e) for e in self._near(each.exposure)]
        pairs.sort(key=lambda pair: (pair[0], pair[1], pair[2].id or 0))
        found: dict[int, Exposure] = {}
        for _, n, exposure in pairs:
            if n not in found and exposure.id not in self._taken:
                found[n] = exposure
                self._taken.add(exposure.id)
        return found

    def _near(self, exposure: Exposure) -> Iterator[Exposure]:
        for shift in (-1, 0, 1):
            day = exposure.starts_on + timedelta(days=shift)
            for other in self._by_day.get((exposure.watch_id, day), ()):
                if other.id not in self._taken and alike(exposure, other):
                    yield other


def sort_out(
    incoming: Sequence[Incoming],
    on_record: Iterable[Exposure],
    origins: Mapping[int, str],
    struck: Iterable[tuple[int | None, str]] = (),
) -> list[Arrival]:
    """How each exposure of a file stands to those of the record; a dive that a file has twice counts once.

    `origins` is exposure id -> origin of those that came from a file; `struck` are watch and origin of those
    that were struck since. What is the same is found first, so that nothing is asked about an exposure that
    is there already.
    """
    kept = _OnRecord(on_record, origins)
    seen: _Dives[str] = _Dives()
    same: list[tuple[Exposure | None, str]] = []
    for each in incoming:
        origin, watch_id = Origin.read(each.origin), each.exposure.watch_id
        place = next(iter(seen.same(watch_id, origin)), "") if origin else ""
        if origin is not None and not place:
            seen.add(watch_id, origin, each.place)
        same.append((None if place else kept.same_as(each), place))
    was_struck = _struck(struck)
    left = [
        None if found or place or was_struck(each) else each
        for each, (found, place) in zip(incoming, same, strict=True)
    ]
    twins = kept.twins(left)
    arrivals = []
    for n, (each, (found, place)) in enumerate(zip(incoming, same, strict=True)):
        if found is not None or place:
            arrivals.append(Arrival(each, "on record", found, place))
        elif left[n] is None:
            arrivals.append(Arrival(each, "struck"))
        else:
            arrivals.append(Arrival(each, "alike" if n in twins else "new", twins.get(n)))
    return arrivals


def _struck(struck: Iterable[tuple[int | None, str]]) -> Callable[[Incoming], bool]:
    """Tells whether an exposure is one that came in before and was struck."""
    texts, dives = set(struck), _Dives[bool]()
    for watch_id, text in texts:
        origin = Origin.read(text)
        if origin is not None:
            dives.add(watch_id, origin, True)

    def told(incoming: Incoming) -> bool:
        watch_id, origin = incoming.exposure.watch_id, Origin.read(incoming.origin)
        if origin is None:
            return (watch_id, incoming.origin) in texts
        return any(dives.same(watch_id, origin))

    return told


def alike(one: Exposure, other: Exposure) -> bool:
    """True when two contacts of one watch may be one and the same, told twice."""
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


def _apart(one: Exposure, other: Exposure) -> tuple[float, float]:
    """How far two exposures are apart, in time first; without a time of day a day's half counts."""
    first, second = _start(one), _start(other)
    hours = 12.0 if first is None or second is None else abs(first - second) / timedelta(hours=1)
    minutes, depth_m = _difference(one, other)
    return hours, minutes + depth_m


def _content(exposure: Exposure) -> tuple[Any, ...]:
    return tuple(getattr(exposure, name) for name in _CONTENT)


def _start(exposure: Exposure) -> datetime | None:
    """In UTC, so that two zones compare; naive. None without a time of day."""
    if exposure.starts_at is None:
        return None
    offset = timedelta(seconds=exposure.utc_offset_s or 0)
    return datetime.combine(exposure.starts_on, exposure.starts_at) - offset
