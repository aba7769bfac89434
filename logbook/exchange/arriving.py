"""What of a file is new to the record: nothing comes in twice, and a likeness is a question."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date, datetime, timedelta
from typing import Any, Generic, Literal, TypeVar

from logbook.exchange.incoming import Incoming
from logbook.reckoning.values import Exposure

State = Literal["new", "on record", "alike"]
Thing = TypeVar("Thing")

# Alike: they began within this time or, where one has no time of day, are of one day and one shape.
ALIKE_START = timedelta(minutes=90)
ALIKE_MINUTES, ALIKE_DEPTH_M = 10, 3.0
_NOT_CONTENT = ("id", "profile", "gauge_pa", "utc_offset_s", "water_c_assumed", "planned", "planned_to")
_CONTENT = tuple(field.name for field in fields(Exposure) if field.name not in _NOT_CONTENT)


@dataclass(frozen=True, slots=True)
class Origin:
    """What a dive was in its file: start as written there, length, depth, and the file's id for it."""

    start: str
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
        return cls(parts[0], int(parts[1]), int(parts[2]), parts[3])

    def is_same(self, other: Origin) -> bool:
        """One and the same dive: by start and length, or by the file's id and something beside it.

        An id alone does not do: many files number their dives from one.
        """
        if (self.start, self.duration_s) == (other.start, other.duration_s):
            return True
        if not self.dive_id or self.dive_id != other.dive_id:
            return False
        shape = (self.duration_s, self.depth_mm) == (other.duration_s, other.depth_mm)
        return shape or self.start == other.start


@dataclass(frozen=True, slots=True)
class Arrival:
    """One exposure of a file and how it stands to the record; `twin` is the one that it is, or is like."""

    incoming: Incoming
    state: State
    twin: Exposure | None = None
    twin_place: str = ""  # of a twin in the same file


class _Dives(Generic[Thing]):
    """Things by the dive that they were, so that a long file is compared in one pass."""

    def __init__(self) -> None:
        self._found: dict[tuple[Any, ...], list[tuple[Origin, Thing]]] = defaultdict(list)

    @staticmethod
    def _keys(watch_id: int | None, origin: Origin) -> Iterator[tuple[Any, ...]]:
        yield watch_id, origin.start, origin.duration_s
        if origin.dive_id:
            yield watch_id, origin.dive_id

    def add(self, watch_id: int | None, origin: Origin, thing: Thing) -> None:
        for key in self._keys(watch_id, origin):
            self._found[key].append((origin, thing))

    def same(self, watch_id: int | None, origin: Origin) -> list[Thing]:
        """What is one and the same dive of the same watch, in the order added."""
        near = (pair for key in self._keys(watch_id, origin) for pair in self._found.get(key, ()))
        return [thing for known, thing in near if origin.is_same(known)]


class _OnRecord:
    """The exposures of the record that nothing of the file has been matched with yet, day by day."""

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
            candidates = self._dives.same(watch_id, origin)
        candidates += self._by_content.get(_content(incoming.exposure), ())
        found = next((e for e in candidates if e.id not in self._taken), None)
        if found is not None:
            self._taken.add(found.id)
        return found

    def like(self, exposure: Exposure) -> Exposure | None:
        """One that may be the same, logged by hand; it may be like several."""
        near = (exposure.starts_on + timedelta(days=shift) for shift in (-1, 0, 1))
        found = (e for day in near for e in self._by_day.get((exposure.watch_id, day), ()))
        return next((e for e in found if e.id not in self._taken and _alike(exposure, e)), None)


def sort_out(
    incoming: Sequence[Incoming], on_record: Iterable[Exposure], origins: Mapping[int, str]
) -> list[Arrival]:
    """How each exposure of a file stands to those of the record; a dive that a file has twice counts once.

    `origins` is exposure id -> origin of those that came from a file. What is the same is found first, so
    that nothing is asked about an exposure that is there already.
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
    return [_arrival(each, *found, kept) for each, found in zip(incoming, same, strict=True)]


def _arrival(incoming: Incoming, same: Exposure | None, place: str, kept: _OnRecord) -> Arrival:
    if same is not None or place:
        return Arrival(incoming, "on record", same, place)
    twin = kept.like(incoming.exposure)
    return Arrival(incoming, "new" if twin is None else "alike", twin)


def _content(exposure: Exposure) -> tuple[Any, ...]:
    return tuple(getattr(exposure, name) for name in _CONTENT)


def _alike(one: Exposure, other: Exposure) -> bool:
    if one.activity != other.activity:
        return False
    if one.starts_at is not None and other.starts_at is not None:
        return abs(_start(one) - _start(other)) <= ALIKE_START
    minutes = abs(one.duration_s - other.duration_s) / 60
    depth_m = abs(one.depth_m - other.depth_m)
    return one.starts_on == other.starts_on and minutes <= ALIKE_MINUTES and depth_m <= ALIKE_DEPTH_M


def _start(exposure: Exposure) -> datetime:
    """In UTC, so that two zones compare; naive."""
    assert exposure.starts_at is not None
    offset = timedelta(seconds=exposure.utc_offset_s or 0)
    return datetime.combine(exposure.starts_on, exposure.starts_at) - offset
