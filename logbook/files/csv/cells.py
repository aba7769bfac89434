"""Cells of a table as the values that they are, by the column they stand in; nothing is guessed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from types import MappingProxyType
from typing import Any, Literal, NoReturn, TypeVar, get_args

from logbook.errors import BadInput
from logbook.files.csv.columns import Column
from logbook.files.csv.rows import Row, Table, header_key
from logbook.model.text import did_you_mean, listed, printable
from logbook.text import quantities
from logbook.text.dates import parse_time
from logbook.text.quantities import marked_in

Dates = Literal["iso", "day-first", "month-first"]
DATES: tuple[Dates, ...] = get_args(Dates)
MARKED_UNIT = "unit of the marked pressure"  # told with a marked pressure, in bar or m
Made = TypeVar("Made")
Headers = Mapping[str, tuple[Column, str | None]]

_YES, _NO = ("yes", "y", "true", "1", "x"), ("no", "n", "false", "0")
_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_YEAR_FIRST = re.compile(r"([0-9]{4})([/. ])([0-9]{1,2})\2([0-9]{1,2})\.?")
_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9])(?::([0-5][0-9]))?")
_NUMBERS = re.compile(r"([0-9]{1,2})([/.\-])([0-9]{1,2})\2([0-9]{2}(?:[0-9]{2})?)")
_WITH_TIME = re.compile(r"(\S+?)(?:[ T]+)([0-9]{1,2}:[0-9]{2}.*)")
_OFFSET = re.compile(r"([+-])([0-9]{1,2}):?([0-9]{2})")


@dataclass(frozen=True, slots=True)
class Place:
    """Where a column stands: its position, its name as written, and the unit that the name says."""

    at: int
    column: Column
    written: str
    unit: str | None


def places_of(table: Table, known: Headers) -> tuple[Place, ...]:
    """The columns of a table; raises BadInput for one that is not known here, or is there twice."""
    found: dict[str, Place] = {}
    for at, written in enumerate(table.header):
        shown = printable(written, 40)
        if not written:
            if any(row.cells[at].strip() for row in table.rows):
                table.wrong("row 1", f"column {at + 1} has cells but no name; give it one, or leave it out.")
            continue
        key = header_key(written)
        if key not in known:
            near = did_you_mean(key, known)
            offer = near or f" There are {listed(sorted({column.names[0] for column, _ in known.values()}))}."
            table.wrong(
                "row 1", f"there is no column {shown} here; leave it out, or name it as it is.{offer}"
            )
        column, unit = known[key]
        if column.field in found:
            before = printable(found[column.field].written, 40)
            table.wrong("row 1", f"{before} and {shown} are one and the same column; leave one out.")
        found[column.field] = Place(at, column, written, unit)
    return tuple(found.values())


@dataclass(frozen=True, slots=True)
class Cells:
    """One row by field."""

    table: Table
    places: tuple[Place, ...]
    row: Row
    dates: Dates

    def given(self) -> dict[str, Any]:
        """Field -> value of every cell that is not empty; raises BadInput at the first that is wrong."""
        found: dict[str, Any] = {}
        for place in self.places:
            text = self.row.cells[place.at].strip()
            if text and place.column.reads != "ignored":
                found |= self.judged({place.column.field: place}, partial(self._read, text, place))
        return found

    def judged(self, by_field: Mapping[str, Place] | None, make: Callable[[], Made]) -> Made:
        """What `make` gives; what it refuses is told with the row, and the column where one is at fault."""
        try:
            return make()
        except BadInput as error:
            fields = {place.column.field: place for place in self.places} if by_field is None else by_field
            where = error.where or ""
            column = fields[where].written if where in fields else where
            self.wrong(error.message, column)

    def wrong(self, sentence: str, column: str = "") -> NoReturn:
        """Raises BadInput for this row, and for a column of it."""
        at = f"{self.row.place}, {printable(column, 40)}" if column else self.row.place
        self.table.wrong(at, sentence)

    def _read(self, text: str, place: Place) -> dict[str, Any]:
        field, reads = place.column.field, place.column.reads
        if reads == "day" and field == "starts_on":
            return self._moment(text, field)
        if reads in ("day", "span"):
            return {field: text} if reads == "span" else {field: read_day(text, self.dates, field)}
        if field == "marked_pa":
            unit = f" {place.unit}" if place.unit else ""
            return {field: _quantity(text, place), MARKED_UNIT: marked_in(f"{text}{unit}", field)}
        return {field: _READERS[reads](text, place)}

    def _moment(self, text: str, field: str) -> dict[str, Any]:
        """A day, or a day and the time after it."""
        match = _WITH_TIME.fullmatch(text)
        if match is None:
            return {field: read_day(text, self.dates, field)}
        day = read_day(match[1], self.dates, field)
        if any(p.column.field == "starts_at" and self.row.cells[p.at].strip() for p in self.places):
            raise BadInput(
                "The time of day stands here and in a column of its own; once is right.", where=field
            )
        return {field: day, "starts_at": _clock(match[2], field)}


def read_day(text: str, dates: Dates, where: str) -> date:
    """A day written year first, or as `dates` says; raises BadInput with what would be right."""
    shown = printable(text, 40)
    match = _ISO.fullmatch(text)
    if match:
        return _calendar(match[1], match[2], match[3], shown, where)
    match = _YEAR_FIRST.fullmatch(text)
    if match:
        right = _calendar(match[1], match[3], match[4], shown, where)
        raise BadInput(f"'{shown}' has other signs than a hyphen in it: write {right}.", where=where)
    match = _NUMBERS.fullmatch(text)
    if match is None:
        raise BadInput(f"'{shown}' is not a date: write the year first, such as 2026-07-03.", where=where)
    if len(match[4]) == 2:
        raise BadInput(f"'{shown}' has no century: write the year in full, such as 2026.", where=where)
    if dates == "iso":
        raise BadInput(
            f"'{shown}' can be read day first or month first: say which with --dates day-first or "
            f"--dates month-first, or write the year first, such as 2026-07-03.",
            where=where,
        )
    day, month = (match[1], match[3]) if dates == "day-first" else (match[3], match[1])
    if int(month) > 12:
        raise BadInput(f"'{shown}' has no month {month}: it is not {dates.replace('-', ' ')}.", where=where)
    return _calendar(match[4], month, day, shown, where)


def _calendar(year: str, month: str, day: str, shown: str, where: str) -> date:
    try:
        return date(int(year), int(month), int(day))
    except ValueError:
        raise BadInput(f"'{shown}' is not in the calendar.", where=where) from None


def _clock(text: str, where: str) -> Any:
    if re.search(r"[0-9](Z|[+-][0-9:]+)$", text.strip(), re.IGNORECASE):
        sentence = "A time of day stands alone, such as 10:40; its zone belongs in a column zone."
        raise BadInput(sentence, where=where)
    return parse_time(text, where)


def _quantity(text: str, place: Place) -> float:
    column, where = place.column, place.column.field
    parse = _PARSERS[column.reads]
    if column.reads == "time":
        _refuse_clock(text, place)
    bare = quantities.measure(text, where)[0] == quantities.BARE
    shown = printable(text, 40)
    if place.unit is None:
        if bare:
            names = listed(sorted(name for name, unit in column.headers().items() if unit is not None)[:4])
            sentence = f"{shown} has no unit: write it as {column.example}, or name the column {names}."
            raise BadInput(sentence, where=where)
        return parse(text, where)
    if not bare:
        sentence = f"'{shown}' has a unit of its own, but the name of its column says {place.unit}"
        raise BadInput(
            f"{sentence}: write the number alone, or name the column {column.names[0]}.", where=where
        )
    return parse(f"{text} {place.unit}", where)


def _refuse_clock(text: str, place: Place) -> None:
    """Raises BadInput for a time with colons, which may be minutes and seconds or hours and minutes."""
    match = _CLOCK.fullmatch(text)
    if match is None:
        return
    first, second, third = int(match[1]), match[2], match[3]
    write = f"{first}min{second}s or {first}h{second}"
    if third:
        write = f"{60 * first + int(second)}min{third}s"
    elsewhere = f", and name the column {place.column.names[0]}" if place.unit else ""
    sentence = f"'{printable(text, 40)}' does not say what its numbers are: write {write}{elsewhere}."
    raise BadInput(sentence, where=place.column.field)


def _number(text: str, place: Place) -> float:
    kind, value = quantities.measure(text, place.column.field)
    if kind != quantities.BARE:
        shown = printable(text, 40)
        raise BadInput(f"A number without a unit belongs here, not '{shown}'.", where=place.column.field)
    return value


def _flag(text: str, place: Place) -> bool:
    word = text.casefold()
    if word not in (*_YES, *_NO):
        raise BadInput(f"'{printable(text, 40)}' is not yes or no; leave it empty for no.",
                       where=place.column.field)  # fmt: skip
    return word in _YES


def _offset(text: str, place: Place) -> int:
    match = _OFFSET.fullmatch(text)
    if match:
        seconds = int(match[2]) * 3600 + int(match[3]) * 60
        return -seconds if match[1] == "-" else seconds
    value = _number(text, place)
    if value != int(value):
        raise BadInput("An offset from UTC is in whole seconds, such as 7200.", where=place.column.field)
    return int(value)


_PARSERS: Mapping[str, Callable[[str, str], float]] = MappingProxyType({
    "length": quantities.parse_length_m,
    "time": quantities.parse_duration_s,
    "temperature": quantities.parse_temperature_c,
    "pressure": quantities.parse_marked_pa,
})  # fmt: skip
_READERS: Mapping[str, Callable[[str, Place], Any]] = MappingProxyType({
    "text": lambda text, place: text,
    "word": lambda text, place: text,
    "number": _number,
    "whole": _number,
    "flag": _flag,
    "clock": lambda text, place: _clock(text, place.column.field),
    "offset": _offset,
    **dict.fromkeys(_PARSERS, _quantity),
})  # fmt: skip


def as_known(text: str, known: Iterable[str]) -> str:
    """The known word that a text is but for its case; else the text, for a validator to refuse."""
    folded = text.casefold()
    return next((word for word in known if word.casefold() == folded), text)
