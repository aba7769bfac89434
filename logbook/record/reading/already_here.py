"""Which watches and entries of a file are on record already, as they are in it or changed here since.

What is the same is said in `model/same.py`. An exposure is on record when one came from the same place of a
file before; any entry when an equal one is, whatever their ids: of n equal ones in the file n must be. One
without an equal may be here in another state.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from logbook.errors import BadInput
from logbook.model import same
from logbook.model.same import Origins
from logbook.model.text import printable
from logbook.model.validate.exposure import check_event
from logbook.model.values import Entry, Event, Exposure, Habit, Watch, WatchRecord
from logbook.record.file.record_file import RecordFile
from logbook.record.reading import glance
from logbook.record.reading.earlier import earlier_entries, earlier_names
from logbook.record.reading.rows import Rows
from logbook.record.schema import shapes

Kind = TypeVar("Kind", bound=Entry)


@dataclass(slots=True)
class AlreadyHere:
    """The watches of a file that are on record, and what is on record of them."""

    rows: Rows
    ids: Mapping[int | None, int]  # of a watch in the file -> here
    watches: Mapping[int, Watch]  # by id here
    renamed: Collection[int | None]  # ids in the file
    entries: Mapping[tuple[type, int | None], Entry]  # by kind and id here
    by_content: Mapping[object, list[Entry]]
    by_origin: Origins[Exposure]
    taken: set[int | None] = field(default_factory=set)  # ids here
    already: int = 0  # so many entries of the file are here as they are in it
    amended: int = 0  # and so many in another state

    @classmethod
    def read(cls, rows: Rows, file: RecordFile) -> AlreadyHere:
        """What the record has of the watches of a file."""
        named = {shapes.name_key(name): id_ for id_, name in rows("SELECT id, name FROM watch", ())}
        keys = {one.watch.id: shapes.name_key(one.watch.name) for one in file.watches}
        ids = {filed: named[key] for filed, key in keys.items() if key in named}
        renamed = _renamed(rows, file, ids) if file.whole else {}
        ids |= {filed: record.watch.id or 0 for filed, record in renamed.items()}
        records = {id_: _record(rows, id_) for id_ in ids.values()}
        entries: dict[tuple[type, int | None], Entry] = {}
        by_content: dict[object, list[Entry]] = defaultdict(list)
        by_origin: Origins[Exposure] = Origins()
        for id_, record in records.items():
            told = glance.read_origins(rows, id_)
            for entry in _entries(rows, record):
                entries[type(entry), entry.id] = entry
                by_content[same.content(entry, id_)].append(entry)
                if isinstance(entry, Exposure):
                    by_origin.add(id_, told.get(entry.id or 0, ""), entry)
        watches = {id_: record.watch for id_, record in records.items()}
        return cls(rows, ids, watches, renamed, entries, by_content, by_origin)

    def new(self, found: Sequence[Kind], kind: str, origins: Mapping[int, str] | None = None) -> list[Kind]:
        """The entries that are not on record; raises BadInput for one that the watch here cannot have.

        `kind` is their key in the file; `origins` is exposure id -> what it was in a file before.
        """
        came = [self._came_before(entry, (origins or {}).get(entry.id or 0, "")) for entry in found]
        left = {n: one for n, one in enumerate(found) if not came[n] and not self._take_equal(one)}
        earlier = self._earlier([*left.values()])
        fresh = []
        for n, entry in left.items():
            watch_id = self.ids.get(entry.watch_id)
            if watch_id is None:
                fresh.append(entry)
            elif not self._take_changed(entry, watch_id, earlier):
                _refuse_misfit(entry, self.watches[watch_id], f"{kind}[{n}]")
                fresh.append(entry)
        return fresh

    def new_tests(self, found: Sequence[Event]) -> list[Event]:
        """Of the events of a table: all of new watches, and the passed tests that others have not here.

        What else it says of a watch that is here stays out, as its description does.
        """
        fresh = []
        for event in found:
            watch_id = self.ids.get(event.watch_id)
            if watch_id is None:
                fresh.append(event)
            elif event.kind != "pressure-test":
                continue
            elif self._has_test(event, watch_id):
                self.already += 1
            else:
                watch = self.watches[watch_id]
                try:
                    check_event(event, watch, event.days[1], pressure_unknown=True)
                except BadInput as error:
                    raise BadInput(f"{printable(watch.name)}: {error.message}", where=error.where) from None
                fresh.append(event)
        return fresh

    def _has_test(self, event: Event, watch_id: int) -> bool:
        return any(
            isinstance(here, Event)
            and here.watch_id == watch_id
            and same.passed_test(here) == same.passed_test(event)
            for here in self.entries.values()
        )

    def _came_before(self, entry: Entry, origin: str) -> bool:
        of = self.by_origin.same(self.ids.get(entry.watch_id), origin)
        differs = {here.id: same.content(here, None) != same.content(entry, None) for here in of}
        if differs:
            here = min(differs, key=differs.__getitem__)
            self.taken.add(here)
            self.already += not differs[here]
            self.amended += differs[here]
        return bool(differs)

    def _take_equal(self, entry: Entry) -> bool:
        """Takes an equal entry that is here, the one of the same id if there is one."""
        equal = self.by_content.get(same.content(entry, self.ids.get(entry.watch_id)), ())
        free = [here for here in equal if here.id not in self.taken]
        if free:
            self.taken.add(min(free, key=lambda here: here.id != entry.id).id)
            self.already += 1
        return bool(free)

    def _take_changed(self, entry: Entry, watch_id: int, earlier: Mapping[int, list[Entry]]) -> bool:
        """Takes the entry that is this one in another state."""
        of_its_id = self.entries.get((type(entry), entry.id))
        states = [] if of_its_id is None else [of_its_id]
        found = [h for h in states if same.in_another_state(entry, watch_id, h, earlier.get(h.id or 0, ()))]
        if isinstance(entry, Habit):
            key = same.endless(entry, watch_id)
            found += [h for h in self.entries.values() if same.endless(h, h.watch_id) == key]
        taken = next((here.id for here in found if here.id not in self.taken), None)
        if taken is not None:
            self.taken.add(taken)
            self.amended += 1
        return taken is not None

    def _earlier(self, found: Sequence[Entry]) -> Mapping[int, list[Entry]]:
        """Earlier states of the entries here that have the ids of these, which are of one kind."""
        ids = [entry.id or 0 for entry in found if (type(entry), entry.id) in self.entries]
        return earlier_entries(self.rows, type(found[0]), ids) if ids else {}


def _record(rows: Rows, watch_id: int) -> WatchRecord:
    return glance.read_records(rows, watch_id=watch_id, retired=True)[0]


def _entries(rows: Rows, record: WatchRecord) -> Sequence[Entry]:
    wet = glance.read_exposures(rows, watch_id=record.watch.id, with_profiles=True)
    return (*wet, *record.events, *record.habits, *record.stretches)


def _renamed(rows: Rows, file: RecordFile, named: Mapping[int | None, int]) -> dict[int | None, WatchRecord]:
    """Watches of a file that have another nickname here; `named` are those whose nickname is here."""
    claimed = set(named.values())
    there = {id_ for (id_,) in rows("SELECT id FROM watch", ()) if id_ not in claimed}
    candidates = [one.watch for one in file.watches if one.watch.id in there]
    names = earlier_names(rows, [watch.id or 0 for watch in candidates])
    found: dict[int | None, WatchRecord] = {}
    for watch in candidates:
        record = _record(rows, watch.id or 0)
        was = shapes.name_key(watch.name) in names.get(watch.id or 0, ())
        shares = not was and watch.id not in named and _share(rows, file, record)
        if same.renamed(watch, record.watch, was_so_named=was, shares_entry=shares):
            found[watch.id] = record
    return found


def _share(rows: Rows, file: RecordFile, record: WatchRecord) -> bool:
    """Whether a file has an entry of the watch of this id that is on record."""
    id_ = record.watch.id
    here = {same.content(entry, id_) for entry in _entries(rows, record)}
    every: Sequence[Any] = (*file.exposures, *file.events, *file.habits, *file.stretches)
    return any(same.content(entry, id_) in here for entry in every if entry.watch_id == id_)


def _uses_pushers(contact: Exposure) -> bool:
    return bool(contact.pusher_wet or contact.pusher_under or contact.pushers_open)


def _refuse_misfit(entry: Entry, watch: Watch, where: str) -> None:
    """Raises BadInput for pushers or a gas valve that the watch has not here."""
    contact = entry.exposure if isinstance(entry, Habit) else entry
    if isinstance(contact, Exposure) and not watch.pushers and _uses_pushers(contact):
        sentence = f"{printable(watch.name)} has no pushers in this record: give it its pushers first."
        raise BadInput(sentence, where=where)
    if isinstance(entry, Event):
        try:
            # Its days were judged when the file was read; here only its places are in question.
            of = replace(watch, bought_on=None, new_on=None)
            check_event(entry, of, entry.days[1], pressure_unknown=True)
        except BadInput as error:
            raise BadInput(error.message, where=where) from None
