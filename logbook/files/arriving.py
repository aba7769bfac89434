"""What of a file is new to the record: nothing comes in twice, and a likeness is a question."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from logbook.files.incoming import Incoming
from logbook.model import same
from logbook.model.same import Origins
from logbook.model.values import Exposure

State = Literal["new", "on record", "alike", "struck"]


@dataclass(frozen=True, slots=True)
class Arrival:
    """One exposure of a file and how it stands to the record; `twin` is the one that it is, or is like."""

    incoming: Incoming
    state: State
    twin: Exposure | None = None
    twin_place: str = ""  # of a twin in the same file


class _OnRecord:
    """The exposures of the record that nothing of the file has been matched with yet."""

    def __init__(self, exposures: Sequence[Exposure], origins: Mapping[int, str]) -> None:
        self._by_origin = Origins((e.watch_id, origins.get(e.id or 0, ""), e) for e in exposures)
        self._by_content: dict[object, list[Exposure]] = defaultdict(list)
        self._by_day: dict[tuple[int | None, date], list[Exposure]] = defaultdict(list)
        self._taken: set[int | None] = set()
        for exposure in exposures:
            self._by_content[same.told(exposure)].append(exposure)
            self._by_day[exposure.watch_id, exposure.starts_on].append(exposure)

    def same_as(self, incoming: Incoming) -> Exposure | None:
        """The exposure that this is; it is nothing else's from then on."""
        exposure = incoming.exposure
        candidates = [*self._by_origin.same(exposure.watch_id, incoming.origin)]
        candidates += self._by_content.get(same.told(exposure), ())
        found = next((e for e in candidates if e.id not in self._taken), None)
        if found is not None:
            self._taken.add(found.id)
        return found

    def twins(self, incoming: Mapping[int, Incoming]) -> dict[int, Exposure]:
        """Place in the file -> the one on record that it may be; each is a twin once, of the nearest."""
        pairs = [
            (same.distance(each.exposure, e), n, e)
            for n, each in incoming.items()
            for e in self._near(each.exposure)
        ]
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
                if other.id not in self._taken and same.alike(exposure, other):
                    yield other


def sort_out(
    incoming: Sequence[Incoming],
    on_record: Sequence[Exposure],
    origins: Mapping[int, str],
    struck: Iterable[tuple[int | None, str]] = (),
) -> list[Arrival]:
    """How each exposure of a file stands to those of the record; a dive that a file has twice counts once.

    `origins` is exposure id -> origin of those that came from a file; `struck` are watch and origin of those
    that were struck since. What is the same is found first, so that nothing is asked about an exposure that
    is there already.
    """
    kept, seen = _OnRecord(on_record, origins), Origins[str]()
    was_struck = Origins((watch_id, text, True) for watch_id, text in struck)
    arrivals: dict[int, Arrival] = {}
    left: dict[int, Incoming] = {}
    for n, each in enumerate(incoming):
        watch_id = each.exposure.watch_id
        place, found = next(seen.same(watch_id, each.origin), ""), None
        if not place:
            seen.add(watch_id, each.origin, each.place)
            found = kept.same_as(each)
        if found is not None or place:
            arrivals[n] = Arrival(each, "on record", found, place)
        elif any(was_struck.same(watch_id, each.origin)):
            arrivals[n] = Arrival(each, "struck")
        else:
            left[n] = each
    twins = kept.twins(left)
    for n, each in left.items():
        arrivals[n] = Arrival(each, "alike" if n in twins else "new", twins.get(n))
    return [arrivals[n] for n in range(len(incoming))]
