"""What a file holds of a record, as plain values that were validated when it was read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from logbook.model.values import Entry, Event, Exposure, Habit, Seal, Settings, Watch, WornStretch


@dataclass(frozen=True, slots=True)
class FiledWatch:
    """A watch of a file with every seal that it ever had; what events brought has their id."""

    watch: Watch
    seals: tuple[Seal, ...] = ()


@dataclass(frozen=True, slots=True)
class RecordFile:
    """What a file holds of a record, validated; entries name their watch by its id in the file."""

    name: str  # of the file, as people know it
    watches: tuple[FiledWatch, ...] = ()
    exposures: tuple[Exposure, ...] = ()
    events: tuple[Event, ...] = ()
    stretches: tuple[WornStretch, ...] = ()
    habits: tuple[Habit, ...] = ()
    snoozed: Mapping[str, date] = field(default_factory=dict)
    origins: Mapping[int, str] = field(default_factory=dict)  # exposure id -> what it was in a file before
    settings: Settings | None = None
    whole: bool = True  # with the ids of a record, as only a whole one has them

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All of its entries, of whatever kind."""
        return (*self.exposures, *self.events, *self.habits, *self.stretches)
