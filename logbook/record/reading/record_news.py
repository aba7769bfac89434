"""What of a file is not on record yet, and how much of it: see `already_here` for what is.

Of a watch that is here nothing but entries comes in; from a table, which has no ids, only its passed test.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from logbook.model.values import Entry, Event, Exposure, Habit, WornStretch
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.reading.already_here import AlreadyHere
from logbook.record.reading.entries import KINDS
from logbook.record.reading.rows import Rows

# Ids above this are given anew: those that follow must stay far below the greatest that a file may have.
GREATEST_KEPT_ID = 10**9


@dataclass(frozen=True, slots=True)
class WatchNews:
    """A watch of a file, what it is called here if it is here, and how much of it comes in."""

    name: str
    here: str | None = None
    renamed: bool = False
    exposures: int = 0
    events: int = 0
    stretches: int = 0
    habits: int = 0


@dataclass(frozen=True, slots=True)
class Merged:
    """How much of a file came in, how much was on record already, and whether it is the whole record now."""

    watches: int = 0
    exposures: int = 0
    events: int = 0
    stretches: int = 0
    habits: int = 0
    already: int = 0  # entries of any kind that are on record as they are in the file
    watches_here: int = 0  # watches whose nickname was on record
    whole: bool = False  # with its ids, its settings and what it silences
    amended: int = 0  # entries that are on record in another state, which stays
    renamed: int = 0  # watches that are here under another nickname, which stays
    shelf: tuple[WatchNews, ...] = field(default=(), compare=False)  # every watch of the file

    @property
    def nothing(self) -> bool:
        """Nothing of the file was new."""
        return not (self.watches or self.exposures or self.events or self.stretches or self.habits)


@dataclass(frozen=True, slots=True)
class News:
    """What of a file is not on record yet."""

    counts: Merged
    ids: Mapping[int | None, int]  # of the watches that are here: in the file -> here
    watches: Sequence[FiledWatch]
    exposures: Sequence[Exposure]
    events: Sequence[Event]
    stretches: Sequence[WornStretch]
    habits: Sequence[Habit]

    @classmethod
    def of(cls, rows: Rows, file: RecordFile) -> News:
        """Raises BadInput, with the entry's place in the file, for one that its watch here cannot have."""
        here = AlreadyHere.read(rows, file)
        watches = [one for one in file.watches if one.watch.id not in here.ids]
        exposures = here.new(file.exposures, "exposures", file.origins)
        events = here.new(file.events, "events") if file.whole else here.new_tests(file.events)
        stretches, habits = here.new(file.stretches, "worn"), here.new(file.habits, "habits")
        entries = exposures, events, stretches, habits
        renamed = len(here.renamed)
        counts = Merged(
            len(watches), len(exposures), len(events), len(stretches), len(habits), already=here.already,
            amended=here.amended, renamed=renamed, watches_here=len(here.ids) - renamed,
            shelf=tuple(_shelf(file, here, entries)),
            whole=file.whole and _greatest_id(file) <= GREATEST_KEPT_ID and _is_empty(rows),
        )  # fmt: skip
        return cls(counts, here.ids, watches, *entries)


def _shelf(file: RecordFile, here: AlreadyHere, entries: Sequence[Sequence[Entry]]) -> Iterator[WatchNews]:
    new = [Counter(entry.watch_id for entry in found) for found in entries]
    for one in file.watches:
        id_ = one.watch.id
        known = here.watches[here.ids[id_]].name if id_ in here.ids else None
        yield WatchNews(one.watch.name, known, id_ in here.renamed, *(count[id_] for count in new))


def _is_empty(rows: Rows) -> bool:
    return not any(list(rows(f"SELECT 1 FROM {table} LIMIT 1", ())) for table in ("watch", *KINDS))


def _greatest_id(file: RecordFile) -> int:
    seals = (seal.id for one in file.watches for seal in one.seals)
    entries = (entry.id for entry in file.entries)
    return max((id_ or 0 for id_ in (*seals, *entries, *(one.watch.id for one in file.watches))), default=0)
