"""Which watches and entries of a file are on record already, as they are in it or changed here since.

An entry is on record when an equal one is, whatever their ids; of n equal ones in the file n must be. One
without an equal is on record in another state when the entry of its id was once just that here, or is of the
very same moment; a habit also when all but its end agrees. An id alone says nothing: records of two machines
give the same ones. An exposure is on record, too, when one came from the same place of the same file before.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from logbook.errors import BadInput
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
    by_origin: Mapping[tuple[int | None, str | None], Entry]  # watch here and origin
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
        by_origin: dict[tuple[int | None, str | None], Entry] = {}
        for id_, record in records.items():
            told = glance.read_origins(rows, id_)
            for entry in _entries(rows, record):
                entries[type(entry), entry.id] = entry
                by_content[content(entry, id_)].append(entry)
                if isinstance(entry, Exposure) and entry.id in told:
                    by_origin[id_, told[entry.id]] = entry
        watches = {id_: record.watch for id_, record in records.items()}
        return cls(rows, ids, watches, renamed, entries, by_content, by_origin)

    def new(self, found: Sequence[Kind], kind: str, origins: Mapping[int, str] | None = None) -> list[Kind]:
        """The entries that are not on record; raises BadInput for one that the watch here cannot have.

        `kind` is their key in the file; `origins` is exposure id -> what it was in a file before.
        """
        came = [self._came_before(entry, origins or {}) for entry in found]
        known = [
            before or entry.watch_id not in self.ids or self._take_equal(entry)
            for before, entry in zip(came, found, strict=True)
        ]
        left = [entry for entry, there in zip(found, known, strict=True) if not there]
        earlier = self._earlier(left)
        fresh = []
        for n, entry in enumerate(found):
            watch_id = self.ids.get(entry.watch_id)
            if watch_id is None:
                fresh.append(entry)
            elif not known[n] and not self._take_changed(entry, watch_id, earlier):
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
        """A table says neither minutes nor workshop, so that day and pressure must do."""
        said = (event.kind, event.on, event.passed, event.test_pa)
        return any(
            isinstance(here, Event)
            and here.watch_id == watch_id
            and (here.kind, here.on, here.passed, here.test_pa) == said
            for here in self.entries.values()
        )

    def _came_before(self, entry: Entry, origins: Mapping[int, str]) -> bool:
        here = self.by_origin.get((self.ids.get(entry.watch_id), origins.get(entry.id or 0)))
        if here is None or not isinstance(entry, Exposure):
            return False
        self.taken.add(here.id)
        same = content(here, here.watch_id) == content(entry, here.watch_id)
        self.already += same
        self.amended += not same
        return True

    def _take_equal(self, entry: Entry) -> bool:
        """Takes an equal entry that is here, the one of the same id if there is one."""
        equal = self.by_content.get(content(entry, self.ids[entry.watch_id]), ())
        free = [here for here in equal if here.id not in self.taken]
        if free:
            self.taken.add(min(free, key=lambda here: here.id != entry.id).id)
            self.already += 1
        return bool(free)

    def _take_changed(self, entry: Entry, watch_id: int, earlier: Mapping[int, list[Entry]]) -> bool:
        """Takes the entry that is this one in another state."""
        here = self.entries.get((type(entry), entry.id))
        if here is None or here.id in self.taken or not _is_same(entry, watch_id, here, earlier):
            here = self._but_for_its_end(entry, watch_id) if isinstance(entry, Habit) else None
        if here is None:
            return False
        self.taken.add(here.id)
        self.amended += 1
        return True

    def _but_for_its_end(self, habit: Habit, watch_id: int) -> Entry | None:
        endless = content(replace(habit, to_on=None), watch_id)
        free = (h for h in self.entries.values() if isinstance(h, Habit) and h.id not in self.taken)
        return next((h for h in free if content(replace(h, to_on=None), h.watch_id) == endless), None)

    def _earlier(self, found: Sequence[Entry]) -> Mapping[int, list[Entry]]:
        """Earlier states of the entries here that have the ids of these, which are of one kind."""
        ids = [entry.id or 0 for entry in found if (type(entry), entry.id) in self.entries]
        return earlier_entries(self.rows, type(found[0]), ids) if ids else {}


def content(entry: Entry, watch_id: int | None) -> object:
    """What makes two entries of a watch the same."""
    if isinstance(entry, Habit):
        contact = replace(entry.exposure, id=None, watch_id=watch_id)
        return replace(entry, id=None, watch_id=watch_id, exposure=contact)
    if isinstance(entry, Event):
        return replace(entry, id=None, watch_id=watch_id, seals=tuple(sorted(entry.seals)))
    return replace(entry, id=None, watch_id=watch_id)


def _is_same(entry: Entry, watch_id: int, here: Entry, earlier: Mapping[int, list[Entry]]) -> bool:
    """Whether the entry of the same id here is this one: it was so once, or is of the same moment now."""
    states = [(_plain(state), state.watch_id) for state in (*earlier.get(here.id or 0, ()), here)]
    moment = _moment(entry)
    return (_plain(entry), watch_id) in states or (
        here.watch_id == watch_id and moment is not None and moment == _moment(here)
    )


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


def _record(rows: Rows, watch_id: int) -> WatchRecord:
    return glance.read_records(rows, watch_id=watch_id, retired=True)[0]


def _entries(rows: Rows, record: WatchRecord) -> Sequence[Entry]:
    wet = glance.read_exposures(rows, watch_id=record.watch.id, with_profiles=True)
    return (*wet, *record.events, *record.habits, *record.stretches)


def _renamed(rows: Rows, file: RecordFile, named: Mapping[int | None, int]) -> dict[int | None, WatchRecord]:
    """Watches of a file that have another nickname here; `named` are those whose nickname is here.

    The id, the day on which it was added, and one thing more must agree: it had that nickname here before,
    or nothing here has it, and mark and at least one entry are the same.
    """
    claimed = set(named.values())
    there = {id_ for (id_,) in rows("SELECT id FROM watch", ()) if id_ not in claimed}
    candidates = [one.watch for one in file.watches if one.watch.id in there]
    names = earlier_names(rows, [watch.id or 0 for watch in candidates])
    found: dict[int | None, WatchRecord] = {}
    for watch in candidates:
        record = _record(rows, watch.id or 0)
        here = record.watch
        was_named = shapes.name_key(watch.name) in names.get(watch.id or 0, ())
        alike = watch.id not in named and (watch.mark, watch.marked_pa) == (here.mark, here.marked_pa)
        if watch.added_on == here.added_on and (was_named or (alike and _share(rows, file, record))):
            found[watch.id] = record
    return found


def _share(rows: Rows, file: RecordFile, record: WatchRecord) -> bool:
    """Whether a file has an entry of the watch of this id that is on record."""
    id_ = record.watch.id
    here = {content(entry, id_) for entry in _entries(rows, record)}
    every: Sequence[Any] = (*file.exposures, *file.events, *file.habits, *file.stretches)
    return any(content(entry, id_) in here for entry in every if entry.watch_id == id_)


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
