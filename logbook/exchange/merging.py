"""Watches and whole records from files: how much of them came in, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from logbook.exchange.newwatch import NewWatch
from logbook.keeping.merge import Merged
from logbook.keeping.record_file import FiledWatch, RecordFile
from logbook.reckoning.text import listed

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
        "already": merged.already, "watches_here": merged.watches_here, "whole": merged.whole,
    }  # fmt: skip


def merged_words(merged: Merged, *, dry_run: bool) -> str:
    """`2 watches and 40 exposures came in; on record already: 3 watches of these nicknames, 12 entries.`"""
    came = [_counted(getattr(merged, kind), one, many) for kind, one, many in _KINDS if getattr(merged, kind)]
    verb = "would come in" if dry_run else "came in"
    text = f"{listed(came, 'and')} {verb}" if came else f"Nothing {verb}"
    here = []
    if merged.watches_here:
        here.append(_counted(merged.watches_here, "watch of this nickname", "watches of these nicknames"))
    if merged.already:
        here.append(_counted(merged.already, "entry", "entries"))
    return f"{text}; on record already: {', '.join(here)}." if here else f"{text}."


def _counted(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"
