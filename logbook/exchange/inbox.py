"""The exposures of a file, each with its watch, sorted out against the record before anything is written."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.errors import BadInput
from logbook.exchange.arriving import Arrival, State, sort_out
from logbook.exchange.dives_in import Taker, place_of
from logbook.exchange.files_in import FileIn
from logbook.exchange.incoming import Incoming
from logbook.keeping import glance
from logbook.keeping.rows import Rows
from logbook.reckoning.practice import Practice
from logbook.reckoning.text import printable
from logbook.reckoning.values import Exposure, ProfilePoint, Watch

if TYPE_CHECKING:
    from logbook.exchange.uddf import FileDive
    from logbook.keeping.store import Store

IMPORT = "import "  # how the label of every import begins
NO_WATCH = "no watch was named for it"


@dataclass(slots=True)
class Item:
    """One exposure of a file; `dive` is there as long as its watch may still be chosen."""

    place: str
    dive: FileDive | None = None
    watch: Watch | None = None
    incoming: Incoming | None = None
    refusal: str = ""  # why it cannot come in
    unwanted: bool = False  # left out by its owner
    arrival: Arrival | None = None

    @property
    def state(self) -> State | None:
        """How it stands to the record; None for what cannot come in or was left out."""
        return None if self.arrival is None else self.arrival.state


@dataclass
class Inbox:
    """All exposures of one file; what is chosen for one is sorted out anew."""

    name: str
    items: list[Item]
    taker: Taker
    on_record: Sequence[Exposure]
    origins: Mapping[int, str]
    again: Callable[[], Iterator[FileDive]] = lambda: iter(())  # the dives once more, with their profiles
    alike_too: bool = False  # what is like an exposure on record comes in as well

    @classmethod
    def of(
        cls, file: FileIn, taker: Taker, rows: Rows, watches: Sequence[Watch], worn: Watch | None
    ) -> Inbox:
        """The exposures of a file against the record; `worn` is the watch of dives, where one is known."""
        origins = glance.read_origins(rows)
        inbox = cls(file.name, [], taker, _on_record(rows, _days(file), origins), origins, file.again)
        by_id = {watch.id: watch for watch in watches}
        for dive in file.dives or ():
            inbox.items.append(Item(place_of(dive), dive, refusal=dive.problem))
            inbox._take(inbox.items[-1], worn)
        for incoming in file.rows or ():
            watch = by_id.get(incoming.exposure.watch_id)
            inbox.items.append(Item(incoming.place, watch=watch, incoming=incoming))
        inbox.sort_out()
        return inbox

    def give(self, item: Item, watch: Watch | None) -> None:
        """Another watch for a dive, or none: then it is left out. Call `sort_out` when all are given."""
        self._take(item, watch)

    def _take(self, item: Item, watch: Watch | None) -> None:
        item.watch = watch
        if item.dive is None or item.dive.problem:
            return
        item.incoming, item.refusal = None, "" if watch is not None else NO_WATCH
        if watch is not None:
            try:
                item.incoming = self.taker.take(item.dive, watch)
            except BadInput as error:
                item.refusal = error.message

    def leave_out(self, item: Item, unwanted: bool) -> None:
        """Leave one out, or take it back in. Call `sort_out` when all is said."""
        item.unwanted = unwanted

    def sort_out(self) -> None:
        """Find what is new, what is on record, and what is like something there."""
        coming = [item for item in self.items if item.incoming is not None and not item.unwanted]
        arrivals = sort_out([item.incoming for item in coming if item.incoming], self.on_record, self.origins)
        for item in self.items:
            item.arrival = None
        for item, arrival in zip(coming, arrivals, strict=True):
            item.arrival = arrival

    def of_state(self, state: State) -> list[Item]:
        """The items of one state."""
        return [item for item in self.items if item.state == state]

    @property
    def left_out(self) -> list[Item]:
        """What does not come in whatever the record holds: it cannot, or nobody wants it."""
        return [item for item in self.items if item.arrival is None]

    def comes_in(self, item: Item) -> bool:
        """True when the item would be written."""
        return item.state == "new" or (item.state == "alike" and self.alike_too)

    @property
    def coming(self) -> list[Incoming]:
        """What would be written."""
        return [item.incoming for item in self.items if item.incoming is not None and self.comes_in(item)]

    def warnings(self) -> Iterator[tuple[str, str]]:
        """Place in the file, and what was put right there."""
        for item in self.items:
            for notice in item.dive.warnings if item.dive is not None else ():
                yield item.place, notice.sentence

    def not_charged(self) -> list[tuple[Watch, list[date]]]:
        """Watches with the days of what comes in from before their water is on record, the earliest first.

        It is kept but costs nothing: for that time the stated use is charged.
        """
        days: dict[int | None, tuple[Watch, list[date]]] = {}
        for item in self.items:
            if item.watch is not None and item.incoming is not None and self.comes_in(item):
                on = item.incoming.exposure.starts_on
                if on < item.watch.recorded_from:
                    days.setdefault(item.watch.id, (item.watch, []))[1].append(on)
        return [(watch, sorted(found)) for watch, found in days.values()]

    def counts(self) -> list[tuple[int, str]]:
        """How many of what is not new, in words."""
        alike = 0 if self.alike_too else len(self.of_state("alike"))
        counted = (
            (len(self.of_state("on record")), "on record already"),
            (alike, "like one on record"),
            (len(self.left_out), "left out"),
        )
        return [(count, words) for count, words in counted if count]

    def write(
        self, store: Store, practice: Practice, progress: Callable[[int, int], None] | None = None
    ) -> list[int]:
        """Puts what is new on record as one step of undo; returns the ids, none when nothing is new."""
        from logbook.keeping import exposures

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
        )

    def _profiles(self) -> Iterator[tuple[int, tuple[ProfilePoint, ...]]]:
        """The profile of the n-th exposure that comes in, read from the file again, one after the other.

        So a file of any size takes little memory. Raises BadInput when it is not the file that it was.
        """
        coming = [item for item in self.items if self.comes_in(item)]
        wanted = {item.place: n for n, item in enumerate(coming) if item.dive and item.dive.point_count}
        for dive in self.again() if wanted else ():
            n = wanted.pop(place_of(dive), None)
            if n is None:
                continue
            item = coming[n]
            again = None if item.watch is None or dive.problem else self.taker.take(dive, item.watch)
            if again is None or item.incoming is None or again.origin != item.incoming.origin:
                break
            yield n, again.exposure.profile
            if not wanted:
                return
        if wanted:
            sentence = (
                f"{printable(self.name)} was changed while it was read; nothing was written. Read it again."
            )
            raise BadInput(sentence, where="FILE")


def _days(file: FileIn) -> list[date]:
    dives = [dive.starts.date() for dive in file.dives or () if dive.starts is not None]
    return dives + [incoming.exposure.starts_on for incoming in file.rows or ()]


def _on_record(rows: Rows, days: list[date], origins: Mapping[int, str]) -> list[Exposure]:
    """What the file may be about: the exposures of its days, and whatever came from a file before.

    An entry may have been moved to another day since it came in; then its origin tells.
    """
    if not days:
        return []
    around = timedelta(days=2)  # zones lie a day apart at most, and a likeness a little more
    near = glance.read_exposures(rows, since=min(days) - around, until=max(days) + around, planned=False)
    moved = sorted(origins.keys() - {exposure.id for exposure in near})
    return [*near, *glance.read_exposures_of(rows, moved)]
