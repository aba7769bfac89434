"""CSV of one kind of entry, after RFC 4180: a header with units, SI numbers, ISO dates, lines ended by CRLF.

The points of profiles are left out: a cell holds one value. What `csv_in` and `csv_watches` read comes back
equal, but for ids, profiles and what a watch went through before its last test.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from types import MappingProxyType
from typing import Any

from logbook.errors import BadInput
from logbook.files.csv.guard import guarded
from logbook.model.judge import facts
from logbook.model.text import clean, printable
from logbook.model.values import POSITIONS, Event, Exposure, Habit, Seal, Watch, WatchRecord, WornStretch
from logbook.model.wear.charge import current_seals
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows

_CONTACT = (
    "activity", "depth_m", "basis", "gauge_pa", "duration_s", "water", "salinity", "density_kg_m3", "water_c",
    "water_c_assumed", "from_c", "dips", "rinsed", "crown_wet", "crown_under", "pusher_wet", "pusher_under",
    "crown_open", "pushers_open", "jump_m", "note",
)  # fmt: skip
_WHEN = ("starts_on", "starts_at", "zone", "utc_offset_s", "planned", "planned_to")
_EVENT = (
    "kind", "on", "order", "passed", "test_pa", "to_mark", "medium", "minutes", "deflection_um", "repaired",
    "crystal_c", "case_air_c", "moved", "workshop", "note",
)  # fmt: skip
Named = Mapping[int | None, str]
Lines = Iterable[dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Written:
    """The text of a table, and how many rows it has below the header."""

    text: str
    rows: int


def write_table(rows: Rows, kind: str) -> Written:
    """The entries of one of `KINDS` as CSV."""
    records = glance.read_records(rows, retired=True)
    names: Named = {record.watch.id: record.watch.name for record in records}
    header, lines = _TABLES[kind](rows, records, names)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(header)
    cells = [[_cell(line[column]) for column in header] for line in lines]
    writer.writerows(cells)
    return Written(text.getvalue(), len(cells))


def _cell(value: Any) -> str:
    """A value as a cell: numbers, dates and yes or no as they are, text guarded."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (date, time)):
        return value.isoformat()
    if isinstance(value, float):
        return repr(value).removesuffix(".0")
    return guarded(_shown(value)) if isinstance(value, str) else str(value)


def _shown(text: str) -> str:
    """The text; one with signs that a terminal would obey, as an older file may hold, with these in words."""
    try:
        clean(text, "text", "text", len(text))
    except BadInput:
        return printable(text)
    return text


def _fields(value: Any, names: Sequence[str]) -> dict[str, Any]:
    return {name: getattr(value, name) for name in names}


def _exposures(rows: Rows, records: Sequence[WatchRecord], names: Named) -> tuple[tuple[str, ...], Lines]:
    def line(one: Exposure) -> dict[str, Any]:
        return {"id": one.id, "watch": names.get(one.watch_id, "")} | _fields(one, (*_WHEN, *_CONTACT))

    return ("id", "watch", *_WHEN, *_CONTACT), map(line, glance.read_exposures(rows))


def _events(rows: Rows, records: Sequence[WatchRecord], names: Named) -> tuple[tuple[str, ...], Lines]:
    def line(one: Event) -> dict[str, Any]:
        seals = " ".join(f"{place}={material}" for place, material in one.seals)
        first, last = one.days
        days = {"first_on": first, "last_on": last}
        told = {"id": one.id, "watch": names.get(one.watch_id, "")}
        return told | _fields(one, _EVENT) | days | {"seals": seals}

    return ("id", "watch", *_EVENT, "first_on", "last_on", "seals"), (
        line(one) for record in records for one in record.events
    )


def _worn(rows: Rows, records: Sequence[WatchRecord], names: Named) -> tuple[tuple[str, ...], Lines]:
    def line(one: WornStretch) -> dict[str, Any]:
        told = {"id": one.id, "watch": names.get(one.watch_id, ""), "hours_per_day": one.hours}
        return told | _fields(one, ("from_on", "to_on"))

    header = ("id", "watch", "from_on", "to_on", "hours_per_day")
    return header, (line(one) for record in records for one in record.stretches)


def _habits(rows: Rows, records: Sequence[WatchRecord], names: Named) -> tuple[tuple[str, ...], Lines]:
    def line(one: Habit) -> dict[str, Any]:
        told = {"id": one.id, "watch": names.get(one.watch_id, "")}
        return told | _fields(one, ("from_on", "to_on", "per_day")) | _fields(one.exposure, _CONTACT)

    header = ("id", "watch", "from_on", "to_on", "per_day", *_CONTACT)
    return header, (line(one) for record in records for one in record.habits)


_WATCH = {
    "id": "id", "name": "name", "mark": "mark", "marked_pa": "marked_pa",
    "marked_in": "marked_in", "crown": "crown", "pushers": "pushers", "pushers_wet": "pushers_wet",
    "gas_valve": "gas_valve", "case": "case_material", "movement": "movement",
    "use": "use", "bought": "bought_on", "new_on": "new_on", "worn_hours": "worn_h",
    "winds_per_week": "winds", "presses_per_week": "presses", "added_on": "added_on",
    "recorded_from": "recorded_from", "reference": "reference", "note": "note", "group": "group",
    "retired_on": "retired_on", "confirmed_on": "confirmed_on",
}  # fmt: skip
_SEAL_COLUMNS = {position: f"seal_{position.replace('-', '_')}" for position in POSITIONS}


def _watches(rows: Rows, records: Sequence[WatchRecord], names: Named) -> tuple[tuple[str, ...], Lines]:
    def line(one: WatchRecord) -> dict[str, Any]:
        told = {column: getattr(one.watch, field) for column, field in _WATCH.items()}
        current = {seal.position: seal for seal in current_seals(one.seals)}
        seals = {column: _seal_words(current.get(place)) for place, column in _SEAL_COLUMNS.items()}
        return told | {"made": _years_made(one.watch)} | seals | _last_pass(one)

    tests = ("tested", "tested_pa", "tested_medium")
    return (*_WATCH, "made", *_SEAL_COLUMNS.values(), *tests), map(line, records)


def _years_made(watch: Watch) -> str | None:
    """`1968`, or the first and the last year that it may be."""
    if watch.made_from == watch.made_to:
        return None if watch.made_from is None else str(watch.made_from)
    return f"{watch.made_from}..{watch.made_to}"


def _seal_words(seal: Seal | None) -> str | None:
    """`FKM@2025-01-10`, or with the days between which it was fitted."""
    if seal is None:
        return None
    if seal.fitted_earliest == seal.fitted_latest:
        return f"{seal.material}@{seal.fitted_latest}"
    return f"{seal.material}@{seal.fitted_earliest}..{seal.fitted_latest}"


def _last_pass(record: WatchRecord) -> dict[str, Any]:
    passed = [e for e in record.events if e.kind == "pressure-test" and e.passed and e.test_pa is not None]
    last = max(passed, key=facts.moment, default=None)
    if last is None:
        return dict.fromkeys(("tested", "tested_pa", "tested_medium"))
    return {"tested": last.on, "tested_pa": last.test_pa, "tested_medium": last.medium}


_TABLES: Mapping[str, Callable[..., tuple[tuple[str, ...], Lines]]] = MappingProxyType({
    "exposures": _exposures, "events": _events, "worn": _worn, "habits": _habits, "watches": _watches,
})  # fmt: skip
KINDS = tuple(_TABLES)
