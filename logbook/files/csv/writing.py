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
from functools import partial
from operator import attrgetter
from typing import Any, NamedTuple

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
    Watch,
    WatchRecord,
)
from logbook.model.wear.charge import current_seals
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows

Column = str | Callable[["_Line"], Any]

_WET = [column.field for column in EXPOSURES if column.field not in ("id", "watch")]
_WHEN = [name for name in _WET if name in OF_A_MOMENT]
_CONTACT = [name for name in _WET if name not in OF_A_MOMENT]
_OF_EVENT = [one.name for one in stored_fields(Event) if one.name not in ("id", "watch_id")]
_BEHIND: dict[str, str] = {"to_mark": "test_pa", "moved": "case_air_c"}  # where they stand in the table
_EVENT = sorted(_OF_EVENT, key=lambda name: (_OF_EVENT.index(_BEHIND.get(name) or name), name in _BEHIND))


@dataclass(frozen=True, slots=True)
class Written:
    """The text of a table, and how many rows it has below the header."""

    text: str
    rows: int


def write_table(rows: Rows, kind: str) -> Written:
    """The entries of one of `KINDS` as CSV."""
    records = glance.read_records(rows, retired=True)
    lines, columns = _TABLES[kind]
    reading = [attrgetter(how) if isinstance(how, str) else how for how in columns.values()]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    cells = [[_cell(read(line)) for read in reading] for line in lines(rows, records)]
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


class _Line(NamedTuple):
    """What a line of a table is made of."""

    one: Any
    watch: str


def _plain(names: Iterable[str], of: str = "one") -> dict[str, Column]:
    return {name: f"{of}.{name}" for name in names}


def _exposures(rows: Rows, records: Sequence[WatchRecord]) -> list[_Line]:
    names = {record.watch.id: record.watch.name for record in records}
    return [_Line(one, names.get(one.watch_id, "")) for one in glance.read_exposures(rows)]


def _of_each(kind: str) -> Callable[[Rows, Sequence[WatchRecord]], list[_Line]]:
    """Lines of what every record has of a kind."""
    return lambda rows, records: [
        _Line(one, record.watch.name) for record in records for one in getattr(record, kind)
    ]


# What a watch's fields are called in its table, where it is not as in the program.
_CALLED = {
    "case_material": "case", "bought_on": "bought", "worn_h": "worn_hours", "winds": "winds_per_week",
    "presses": "presses_per_week",
}  # fmt: skip
_OF_WATCH = {one.name for one in stored_fields(Watch)}
_WATCH = {_CALLED.get(c.field, c.field): c.field for c in WATCHES if c.field in _OF_WATCH}


def _years_made(watch: Watch) -> str | None:
    """`1968`, or the first and the last year that it may be."""
    if watch.made_from == watch.made_to:
        return None if watch.made_from is None else str(watch.made_from)
    return f"{watch.made_from}..{watch.made_to}"


def _seal_words(position: str, line: _Line) -> str | None:
    """`FKM@2025-01-10`, or with the days between which it was fitted."""
    seal = next((s for s in current_seals(line.one.seals) if s.position == position), None)
    if seal is None:
        return None
    if seal.fitted_earliest == seal.fitted_latest:
        return f"{seal.material}@{seal.fitted_latest}"
    return f"{seal.material}@{seal.fitted_earliest}..{seal.fitted_latest}"


def _last_pass(field: str, line: _Line) -> Any:
    """A field of the last pass whose pressure is known."""
    events = line.one.events
    passed = [e for e in events if e.kind == "pressure-test" and e.passed and e.test_pa is not None]
    return getattr(max(passed, key=facts.moment, default=None), field, None)


_ID: dict[str, Column] = {"id": "one.id", "watch": "watch"}
# What a table is of, and its columns: where in a line each stands, or how it is worked out.
_TABLES: Mapping[str, tuple[Callable[[Rows, Sequence[WatchRecord]], list[_Line]], dict[str, Column]]] = {
    "exposures": (_exposures, _ID | _plain([*_WHEN, *_CONTACT])),
    "events": (
        _of_each("events"),
        _ID | _plain(_EVENT) | {
            "first_on": lambda line: line.one.days[0],
            "last_on": lambda line: line.one.days[1],
            "seals": lambda line: " ".join(f"{place}={material}" for place, material in line.one.seals),
        },
    ),
    "worn": (_of_each("stretches"), _ID | _plain(["from_on", "to_on"]) | {"hours_per_day": "one.hours"}),
    "habits": (
        _of_each("habits"),
        _ID | _plain(["from_on", "to_on", "per_day"]) | _plain(_CONTACT, "one.exposure"),
    ),
    "watches": (
        lambda rows, records: [_Line(record, record.watch.name) for record in records],
        {column: f"one.watch.{field}" for column, field in _WATCH.items()}
        | {"made": lambda line: _years_made(line.one.watch)}
        | {f"seal_{place.replace('-', '_')}": partial(_seal_words, place) for place in POSITIONS}
        | {
            "tested": partial(_last_pass, "on"),
            "tested_pa": partial(_last_pass, "test_pa"),
            "tested_medium": partial(_last_pass, "medium"),
        },
    ),
}  # fmt: skip
KINDS = tuple(_TABLES)
