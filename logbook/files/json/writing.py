"""The whole record as JSON, version 1: SI numbers whose keys end in their unit, dates and times as ISO text.

Keys keep their meaning within a version; new ones may be added. Ids are the record's own: exposures, events,
habits and worn stretches share one space of them, watches and seals have one each.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from datetime import date, time
from typing import Any

from logbook import __version__
from logbook.caution import CAUTION
from logbook.model.values import OF_A_MOMENT, Entry, Event, Habit, Settings, WatchRecord
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows

VERSION = 1

# Fields whose name says no unit, or another word than the key that people read.
RENAMED = {"winds": "winds_per_week", "presses": "presses_per_week", "hours": "hours_per_day"}


def record_document(rows: Rows) -> dict[str, Any]:
    """Everything that the record holds, for one `json.dumps`."""
    records = glance.read_records(rows, retired=True)
    names = {record.watch.id: record.watch.name for record in records}
    exposures = glance.read_exposures(rows, with_profiles=True)
    return {
        "version": VERSION,
        "written_by": f"logbook {__version__}",
        "settings": settings_object(glance.read_settings(rows)),
        "watches": [watch_object(record) for record in records],
        "exposures": [entry_object(e, names.get(e.watch_id)) for e in exposures],
        "events": [entry_object(e, r.watch.name) for r in records for e in r.events],
        "worn": [entry_object(s, r.watch.name) for r in records for s in r.stretches],
        "habits": [entry_object(h, r.watch.name) for r in records for h in r.habits],
        "snoozed": _snoozed(records),
        "imported": [
            {"exposure": id_, "origin": origin} for id_, origin in glance.read_origins(rows).items()
        ],
        "caution": CAUTION,
    }


def watch_object(record: WatchRecord) -> dict[str, Any]:
    """A watch as its owner describes it, with every seal that it ever had."""
    return _object(record.watch) | {"seals": [_object(seal) for seal in record.seals]}


def entry_object(entry: Entry, watch: str | None) -> dict[str, Any]:
    """An exposure, an event, a worn stretch or a habit, with the nickname of its watch beside the id.

    New gaskets are place and material; what a habit repeats has no day and no time of its own.
    """
    found = {"watch": watch} | _object(entry)
    if isinstance(entry, Event):
        found["seals"] = [{"position": position, "material": material} for position, material in entry.seals]
    if isinstance(entry, Habit):
        found["exposure"] = {key: told for key, told in found["exposure"].items() if key not in OF_A_MOMENT}
    return found


def settings_object(settings: Settings) -> dict[str, Any]:
    """Home water, zone and units."""
    return _object(settings)


def _snoozed(records: Iterable[WatchRecord]) -> list[dict[str, str]]:
    found: dict[str, date] = {}
    for record in records:
        found |= record.snoozed
    return [{"item": item, "until_on": day.isoformat()} for item, day in sorted(found.items())]


def _object(value: Any) -> dict[str, Any]:
    """The fields of a frozen value, each as JSON has it."""
    return {
        RENAMED.get(field.name, field.name): _json(getattr(value, field.name))
        for field in dataclasses.fields(value)
    }


def _json(value: Any) -> Any:
    if isinstance(value, (date, time)):
        return value.isoformat()
    if dataclasses.is_dataclass(value):
        return _object(value)
    if isinstance(value, (tuple, list)):
        return [_json(each) for each in value]
    if isinstance(value, Mapping):
        return {key: _json(each) for key, each in value.items()}
    return value
