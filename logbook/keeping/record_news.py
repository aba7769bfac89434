"""What of a file is not on record yet.

An entry is on record when an equal one is, whatever their ids; of n equal ones in the file n must be. An
exposure is, too, when one came from the same place of the same file before. Of a watch whose nickname is here
nothing but entries comes in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from logbook.errors import BadInput
from logbook.keeping import glance, shapes
from logbook.keeping.entries import KINDS
from logbook.keeping.record_file import FiledWatch, RecordFile
from logbook.keeping.rows import Rows
from logbook.reckoning.text import printable
from logbook.reckoning.validate import check_event
from logbook.reckoning.values import Event, Exposure, Habit, Watch, WornStretch

Entry = TypeVar("Entry", Exposure, Event, Habit, WornStretch)


@dataclass(frozen=True, slots=True)
class Merged:
    """How much of a file came in, how much was on record already, and whether it is the whole record now."""

    watches: int = 0
    exposures: int = 0
    events: int = 0
    stretches: int = 0
    habits: int = 0
    already: int = 0  # entries of any kind
    watches_here: int = 0  # watches whose nickname was on record
    whole: bool = False  # with its ids, its settings and what it silences

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
        if file.whole and _is_empty(rows):
            found = (file.watches, file.exposures, file.events, file.stretches, file.habits)
            return cls(Merged(*map(len, found), whole=True), {}, *found)
        here = _Here.read(rows, file)
        watches = [one for one in file.watches if one.watch.id not in here.ids]
        entries = (
            here.new_exposures(file.exposures, file.origins),
            here.new(file.events, "events"),
            here.new(file.stretches, "worn"),
            here.new(file.habits, "habits"),
        )
        every = sum(map(len, (file.exposures, file.events, file.stretches, file.habits)))
        counts = Merged(
            len(watches), *map(len, entries), already=every - sum(map(len, entries)),
            watches_here=len(file.watches) - len(watches),
        )  # fmt: skip
        return cls(counts, here.ids, watches, *entries)


def _is_empty(rows: Rows) -> bool:
    return not any(list(rows(f"SELECT 1 FROM {table} LIMIT 1", ())) for table in ("watch", *KINDS))


@dataclass(frozen=True, slots=True)
class _Here:
    """The watches of a file that are on record, and what is on record of them."""

    ids: Mapping[int | None, int]  # of a watch in the file -> here
    watches: Mapping[int, Watch]
    entries: Counter[Any]
    origins: Mapping[tuple[int | None, str | None], object]  # watch here and origin -> its content
    whole: bool  # of the file: a table of watches says nothing of those that are here

    @classmethod
    def read(cls, rows: Rows, file: RecordFile) -> _Here:
        named = {shapes.name_key(name): id_ for id_, name in rows("SELECT id, name FROM watch", ())}
        keys = {one.watch.id: shapes.name_key(one.watch.name) for one in file.watches}
        ids = {filed: named[key] for filed, key in keys.items() if key in named}
        watches, entries, origins = {}, Counter[Any](), {}
        for watch_id in ids.values():
            record = glance.read_records(rows, watch_id=watch_id, retired=True)[0]
            watches[watch_id] = record.watch
            wet = glance.read_exposures(rows, watch_id=watch_id, with_profiles=True)
            for entry in (*wet, *record.events, *record.habits, *record.stretches):
                entries[_content(entry, watch_id)] += 1
            told = glance.read_origins(rows, watch_id)
            origins |= {(watch_id, told[e.id]): _content(e, watch_id) for e in wet if e.id in told}
        return cls(ids, watches, entries, origins, file.whole)

    def new_exposures(self, found: Sequence[Exposure], origins: Mapping[int, str]) -> list[Exposure]:
        """As `new`; one that is here by its origin, amended since or not, stays out too."""
        told = {e.id: (self.ids.get(e.watch_id), origins.get(e.id or 0)) for e in found}
        known = {id_: self.origins[key] for id_, key in told.items() if key in self.origins}
        self.entries.subtract(known.values())
        return self.new(found, "exposures", known)

    def new(
        self, found: Sequence[Entry], kind: str, known: Container[int | None] = frozenset()
    ) -> list[Entry]:
        """The entries that are not on record; raises BadInput for one that the watch here cannot have."""
        fresh: list[Entry] = []
        for n, entry in enumerate(found):
            if entry.id in known:
                continue
            watch_id = self.ids.get(entry.watch_id)
            if watch_id is not None and not self.whole:
                continue
            if watch_id is not None:
                content = _content(entry, watch_id)
                if self.entries[content] > 0:
                    self.entries[content] -= 1
                    continue
                _refuse_misfit(entry, self.watches[watch_id], f"{kind}[{n}]")
            fresh.append(entry)
        return fresh


def _content(entry: Exposure | Event | Habit | WornStretch, watch_id: int) -> object:
    """What makes two entries of a watch the same."""
    if isinstance(entry, Habit):
        contact = replace(entry.exposure, id=None, watch_id=watch_id)
        return replace(entry, id=None, watch_id=watch_id, exposure=contact)
    if isinstance(entry, Event):
        return replace(entry, id=None, watch_id=watch_id, seals=tuple(sorted(entry.seals)))
    return replace(entry, id=None, watch_id=watch_id)


def _refuse_misfit(entry: Exposure | Event | Habit | WornStretch, watch: Watch, where: str) -> None:
    """Raises BadInput for pushers or a gas valve that the watch has not here."""
    contact = entry.exposure if isinstance(entry, Habit) else entry
    if isinstance(contact, Exposure) and contact.pusher_wet + contact.pusher_under and not watch.pushers:
        sentence = f"{printable(watch.name)} has no pushers in this record: give it its pushers first."
        raise BadInput(sentence, where=where)
    if isinstance(entry, Event):
        try:
            # Its days were judged when the file was read; here only its places are in question.
            check_event(entry, replace(watch, bought_on=None, new_on=None), entry.on)
        except BadInput as error:
            raise BadInput(error.message, where=where) from None
