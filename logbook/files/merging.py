"""Watches and whole records from files: how much of them came in, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from logbook.model.text import listed, printable
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.reading.record_news import WatchNews
from logbook.record.writing.merge import Merged
from logbook.text.newwatch import NewWatch

MOST_NAMED = 3  # watches with other nicknames

_ENTRIES = ("entries", "entry", "entries")
_KINDS = (
    ("watches", "watch", "watches"),
    ("exposures", "exposure", "exposures"),
    ("events", "event", "events"),
    ("stretches", "worn stretch", "worn stretches"),
    ("habits", "habit", "habits"),
)


def record_of(name: str, watches: Sequence[NewWatch]) -> RecordFile:
    """The watches of a table as what a file holds of a record, numbered in its own order."""
    return RecordFile(
        name,
        watches=tuple(
            FiledWatch(replace(new.watch, id=number), new.seals) for number, new in enumerate(watches, 1)
        ),
        events=tuple(
            replace(event, watch_id=number) for number, new in enumerate(watches, 1) for event in new.events
        ),
        whole=False,
    )


def counts(merged: Merged) -> dict[str, int | bool]:
    """What came in and what was there, by kind."""
    return {kind: getattr(merged, kind) for kind, _, _ in _KINDS} | {
        "already": merged.already, "amended": merged.amended, "watches_here": merged.watches_here,
        "renamed": merged.renamed, "whole": merged.whole,
    }  # fmt: skip


def counted_words(count: int, kind: str) -> str:
    """`1 watch`, `2 watches`: so many of a kind of `counts`, or of entries."""
    one, many = next((one, many) for name, one, many in (*_KINDS, _ENTRIES) if name == kind)
    return _counted(count, one, many)


def merged_words(merged: Merged, *, dry_run: bool) -> str:
    """`2 watches and 40 exposures came in; on record already: 3 watches of these nicknames, 12 entries.`"""
    came = [_counted(getattr(merged, kind), one, many) for kind, one, many in _KINDS if getattr(merged, kind)]
    verb = "would come in" if dry_run else "came in"
    text = f"{listed(came, 'and')} {verb}" if came else f"Nothing {verb}"
    here = []
    if merged.watches_here:
        here.append(_counted(merged.watches_here, "watch of this nickname", "watches of these nicknames"))
    if merged.already:
        here.append(counted_words(merged.already, "entries"))
    first = f"{text}; on record already: {', '.join(here)}." if here else f"{text}."
    return " ".join((first, *_changed(merged)))


def coming_words(news: WatchNews) -> str:
    """`40 exposures and 2 events`; nothing where nothing of a watch comes in."""
    found = [_counted(getattr(news, kind), one, many) for kind, one, many in _KINDS if getattr(news, kind, 0)]
    return listed(found, "and")


def _changed(merged: Merged) -> Iterator[str]:
    """What is on record otherwise than in the file, and stays."""
    if merged.amended:
        entries, are = counted_words(merged.amended, "entries"), "is" if merged.amended == 1 else "are"
        yield f"{entries} of the file {are} on record with changes: left as here."
    renamed = [
        f"{printable(one.name, 40)} is {printable(one.here, 40)}"
        for one in merged.shelf
        if one.renamed and one.here is not None
    ]
    if renamed:
        more = [_counted(len(renamed) - MOST_NAMED, "more", "more")] if len(renamed) > MOST_NAMED else []
        yield f"{listed([*renamed[:MOST_NAMED], *more], 'and')} here: left as here."


def _counted(count: int, one: str, many: str) -> str:
    return f"{count:,} {one if count == 1 else many}"
