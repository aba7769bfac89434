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
from logbook.files.csv.columns import EXPOSURES, WATCHES
from logbook.files.csv.guard import guarded
from logbook.model.fields import stored_fields
from logbook.model.judge import facts
from logbook.model.text import clean, printable
from logbook.model.values import (
    OF_A_MOMENT,
    POSITIONS,
    Event,
    Exposure,
    Habit,
    Seal,
    Watch,
    WatchRecord,
    WornStretch,
)
from logbook.model.wear.charge import current_seals
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows

_WET = [column.field for column in EXPOSURES if column.field not in ("id", "watch")]
_WHEN = [name for name in _WET if name in OF_A_MOMENT]
_CONTACT = [name for name in _WET if name not in OF_A_MOMENT]
_OF_EVENT = [one.name for one in stored_fields(Event) if one.name not in ("id", "watch_id")]
_BEHIND: dict[str, str] = {"to_mark": "test_pa", "moved": "case_air_c"}  # where they stand in the table
_EVENT = sorted(_OF_EVENT, key=lambda name: (_OF_EVENT.index(_BEHIND.get(name) or name), name in _BEHIND))
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


# What a watch's fields are called in its table, where it is not as in the program.
_CALLED = {
    "case_material": "case", "bought_on": "bought", "worn_h": "worn_hours", "winds": "winds_per_week",
    "presses": "presses_per_week",
}  # fmt: skip
_OF_WATCH = {one.name for one in stored_fields(Watch)}
_WATCH = {_CALLED.get(c.field, c.field): c.field for c in WATCHES if c.field in _OF_WATCH}
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
