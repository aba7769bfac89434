"""The exposures of a file, each with its watch, sorted out against the record before anything is written."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.errors import BadInput
from logbook.files.arriving import Arrival, State, sort_out
from logbook.files.dives_in import Taker, place_of
from logbook.files.files_in import FileIn
from logbook.files.incoming import Incoming
from logbook.files.uddf.reading import FileDive
from logbook.model.judge.stands_words import at_once, by_watch
from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.model.values import Exposure, ProfilePoint, Units, Watch, WatchRecord
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows
from logbook.record.reading.struck import read_struck

if TYPE_CHECKING:
    from logbook.record.file.store import Store

IMPORT = "import "  # how the label of every import begins
NO_WATCH = "No watch was named for it."


@dataclass(slots=True)
class Item:
    """One exposure of a file; `dive` is there as long as its watch may still be chosen."""

    place: str
    dive: FileDive | None = None
    watch: Watch | None = None
    incoming: Incoming | None = None
    refusal: str = ""  # why it cannot come in
    unwanted: bool = False  # left out by its owner
    wanted: bool = False  # its owner says that it comes in although it is like one on record, or was struck
    arrival: Arrival | None = None

    @property
    def state(self) -> State | None:
        """How it stands to the record; None for what cannot come in or was left out."""
        return None if self.arrival is None else self.arrival.state

    @property
    def comes_in(self) -> bool:
        """True when it would be written."""
        return self.state == "new" or (self.wanted and self.state in ("alike", "struck"))

    @property
    def is_open(self) -> bool:
        """True while nobody said whether it is the one that it is like."""
        return self.state == "alike" and not self.wanted


@dataclass(frozen=True, slots=True)
class _There:
    """What the record holds that a file may be about."""

    exposures: Sequence[Exposure]
    origins: dict[int, str]
    struck: Sequence[tuple[int | None, str]]

    @classmethod
    def read(cls, rows: Rows, days: Sequence[date]) -> _There:
        """The exposures and plans of these days, and whatever came from a file before.

        An entry may have been moved to another day since it came in; then its origin tells.
        """
        if not days:
            return cls([], {}, [])
        around = timedelta(days=2)  # zones lie a day apart at most, and a likeness a little more
        origins = glance.read_origins(rows)
        near = glance.read_exposures(rows, since=min(days) - around, until=max(days) + around)
        moved = sorted(origins.keys() - {exposure.id for exposure in near})
        return cls([*near, *glance.read_exposures_of(rows, moved)], origins, read_struck(rows))

    def sort_out(self, incoming: Sequence[Incoming]) -> list[Arrival]:
        return sort_out(incoming, self.exposures, self.origins, self.struck)


@dataclass
class Inbox:
    """All exposures of one file; what is chosen for one is sorted out anew."""

    file: FileIn
    taker: Taker
    there: _There
    items: list[Item] = field(default_factory=list)

    @classmethod
    def of(
        cls, file: FileIn, taker: Taker, rows: Rows, watches: Sequence[Watch], worn: Watch | None
    ) -> Inbox:
        """The exposures of a file against the record; `worn` is the watch of dives, where one is known."""
        inbox = cls(file, taker, _There.read(rows, _days(file)))
        by_id = {watch.id: watch for watch in watches}
        for dive in file.dives or ():
            inbox.items.append(Item(place_of(dive), dive, refusal=dive.problem))
            inbox.give(inbox.items[-1], worn)
        for incoming in file.rows or ():
            watch = by_id.get(incoming.exposure.watch_id)
            inbox.items.append(Item(incoming.place, watch=watch, incoming=incoming))
        inbox.sort_out()
        return inbox

    @property
    def name(self) -> str:
        """What the file is called."""
        return self.file.name

    def give(self, item: Item, watch: Watch | None) -> None:
        """Another watch for a dive, or none: then it is left out. Call `sort_out` when all are given."""
        item.watch, item.wanted = watch, False
        if item.dive is None or item.dive.problem:
            return
        item.incoming, item.refusal = None, "" if watch is not None else NO_WATCH
        if watch is not None:
            try:
                item.incoming = self.taker.take(item.dive, watch)
            except BadInput as error:
                item.refusal = error.message

    def sort_out(self) -> None:
        """Find what is new, what is on record, and what is like something there."""
        coming = self._candidates()
        for item in self.items:
            item.arrival = None
        for item, arrival in zip(coming, self._sorted(coming, self.there), strict=True):
            item.arrival = arrival

    def _candidates(self) -> list[Item]:
        return [item for item in self.items if item.incoming is not None and not item.unwanted]

    @staticmethod
    def _sorted(items: Sequence[Item], there: _There) -> list[Arrival]:
        return there.sort_out([item.incoming for item in items if item.incoming is not None])

    def want_all_alike(self) -> None:
        """Whatever is like an exposure on record, or was struck before, comes in as well."""
        for item in self.items:
            item.wanted = item.wanted or item.state in ("alike", "struck")

    @property
    def open_questions(self) -> list[Item]:
        """What is like an exposure on record, and nobody said yet whether it is that one."""
        return [item for item in self.items if item.is_open]

    @property
    def left_out(self) -> list[Item]:
        """What does not come in whatever the record holds: it cannot, or nobody wants it."""
        return [item for item in self.items if item.arrival is None]

    @property
    def coming(self) -> list[Incoming]:
        """What would be written."""
        return [item.incoming for item in self.items if item.incoming is not None and item.comes_in]

    def warnings(self) -> Iterator[str]:
        """What was put right in what comes in, each with its place in the file."""
        for item in self.items:
            if item.incoming is not None and item.comes_in:
                yield from item.incoming.warnings

    def retired(self) -> list[Watch]:
        """Watches off the shelf for which something comes in."""
        found = {item.watch.id: item.watch for item in self.items if item.comes_in and item.watch is not None}
        return [watch for watch in found.values() if watch.retired_on is not None]

    def not_charged(self) -> list[tuple[Watch, list[date]]]:
        """Watches with the days of what comes in from before their water is on record, the earliest first.

        It is kept but costs nothing: for that time the stated use is charged.
        """
        days: dict[int | None, tuple[Watch, list[date]]] = {}
        for item in self.items:
            if item.watch is not None and item.incoming is not None and item.comes_in:
                on = item.incoming.exposure.starts_on
                if on < item.watch.recorded_from:
                    days.setdefault(item.watch.id, (item.watch, []))[1].append(on)
        return [(watch, sorted(found)) for watch, found in days.values()]

    def counts(self) -> list[tuple[int, str]]:
        """How many of what does not come in, in words."""
        states = [item.state for item in self.items if not item.comes_in]
        counted = (
            (states.count("on record"), "on record already"),
            (states.count("alike"), "like one on record"),
            (states.count("struck"), "struck before"),
            (states.count(None), "left out"),
        )
        return [(count, words) for count, words in counted if count]

    def write(
        self, store: Store, practice: Practice, progress: Callable[[int, int], None] | None = None
    ) -> list[int]:
        """Puts what comes in on record as one step of undo; returns the ids, none when nothing comes in.

        Raises BadInput when the record has changed meanwhile so that something else would come in.
        """
        from logbook.record.writing import exposures

        coming = self.coming
        if not coming:
            return []
        noun = "exposure" if len(coming) == 1 else "exposures"
        return exposures.add(
            store,
            [each.exposure for each in coming],
            practice,
            label=f"{IMPORT}{len(coming)} {noun} from {printable(self.name, 60)}",
            origins=[each.origin for each in coming],
            profiles=self._profiles(),
            progress=progress,
            first=self._is_still_so,
        )

    def meaning(
        self, ids: Sequence[int], records: Sequence[WatchRecord], practice: Practice, units: Units
    ) -> list[str]:
        """What was written under these ids means for the next swim or dive: a sentence a watch at most."""
        written: dict[int | None, list[Exposure]] = {}
        for each, id_ in zip(self.coming, ids, strict=True) if ids else ():
            if not each.exposure.planned:
                written.setdefault(each.exposure.watch_id, []).append(replace(each.exposure, id=id_))
        return by_watch(
            (record.watch.name, at_once(record, written[record.watch.id], practice, units))
            for record in records
            if record.watch.id in written
        )

    def _is_still_so(self, rows: Rows) -> None:
        """What was looked at is what is written, whoever wrote in between."""
        items = self._candidates()
        now = [arrival.state for arrival in self._sorted(items, _There.read(rows, _days(self.file)))]
        if now != [item.state for item in items]:
            sentence = "The record was changed while you looked at the file; nothing was written. Look again."
            raise BadInput(sentence, where="FILE")

    def _profiles(self) -> Iterator[tuple[int, tuple[ProfilePoint, ...]]]:
        """The profile of the n-th exposure that comes in, read from the file again, one after the other.

        So a file of any size takes little memory. Raises BadInput when it is not the file that it was.
        """
        coming = [item for item in self.items if item.comes_in]
        wanted = {item.place: n for n, item in enumerate(coming) if item.dive and item.dive.point_count}
        for dive in self.file.again() if wanted else ():
            n = wanted.pop(place_of(dive), None)
            if n is None:
                continue
            item = coming[n]
            again = None if item.watch is None or dive.problem else self.taker.take(dive, item.watch)
            if again is None or item.incoming is None or again.origin != item.incoming.origin:
                wanted[item.place] = n
                break
            yield n, again.exposure.profile
            if not wanted:
                return
        if wanted:
            sentence = (
                f"{printable(self.name)} was changed while it was read; nothing was written. Look again."
            )
            raise BadInput(sentence, where="FILE")


def _days(file: FileIn) -> list[date]:
    dives = [dive.starts.date() for dive in file.dives or () if dive.starts is not None]
    return dives + [incoming.exposure.starts_on for incoming in file.rows or ()]
