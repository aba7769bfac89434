"""Watches from a CSV table with a header, all or none of them; its columns are in `csv_columns`.

A row is made into the same watch as `logbook watch add` makes, with the seals that it comes with and what is
known of its past: new gaskets on a day that is known mean that it was open then, a passed test is an event.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from functools import partial
from typing import Any

from logbook.errors import BadInput
from logbook.files.csv.cells import MARKED_UNIT, Cells, Dates, as_known, places_of, read_day
from logbook.files.csv.columns import WATCH_HEADERS
from logbook.files.csv.rows import read_table
from logbook.model.fields import stored_fields
from logbook.model.fitting import Fitted, initial_seals, last_pass_on, places
from logbook.model.practice import Practice
from logbook.model.ranges import check_day, one_of
from logbook.model.text import printable
from logbook.model.validate.watch import check_event, check_seal, check_watch
from logbook.model.values import (
    DAY_ORDER,
    MEDIA,
    Event,
    Position,
    Watch,
)
from logbook.record.schema.shapes import name_key
from logbook.text.dates import NoDate
from logbook.text.newwatch import NewWatch
from logbook.text.spans import parse_span, parse_years

_AS_THEY_ARE = [one.name for one in stored_fields(Watch) if one.name not in ("name", "worn_h")]
_NAMES_YEAR = re.compile(r"\b[12][0-9]{3}\b")
_OF_A_TEST = ("tested_pa", "tested_medium")


def read_watches(
    text: str, name: str, *, practice: Practice, today: date, dates: Dates = "iso"
) -> list[NewWatch]:
    """The watches of a table in the order of its rows.

    Raises BadInput, with `where` such as `row 3, mark`, for the first thing that is wrong.
    """
    table = read_table(text, name, WATCH_HEADERS)
    columns = places_of(table, WATCH_HEADERS)
    if all(place.column.field != "name" for place in columns):
        table.wrong("row 1", "there is no column name; every watch needs one.")
    if not table.rows:
        table.wrong("row 1", "there is a header, but no row below it.")
    seen: dict[str, str] = {}
    found = []
    for row in table.rows:
        cells = Cells(table, columns, row, dates)
        given = cells.given()
        new = cells.judged(None, partial(_watch, given, practice, today, dates))
        key = name_key(new.watch.name)
        if key in seen:
            shown = printable(new.watch.name, 40)
            cells.wrong(f"{shown} is in {seen[key]} already; capitals do not count.", "name")
        seen[key] = row.place
        found.append(new)
    return found


def _watch(given: Mapping[str, Any], practice: Practice, today: date, dates: Dates) -> NewWatch:
    if "name" not in given:
        raise BadInput("The name is missing: what do you call this watch?", where="name")
    fields = {field: given[field] for field in _AS_THEY_ARE if field in given} | _words(given, practice)
    fields.setdefault("mark", "unknown" if given.get("marked_pa") is None else "water-resistant")
    fields.setdefault("marked_pa", None)
    fields.setdefault("marked_in", given.get(MARKED_UNIT, "bar"))
    fields.setdefault("added_on", today)
    fields.setdefault("recorded_from", fields["added_on"])
    if "worn_h" in given:
        fields["worn_h"] = given["worn_h"] / 3600
    if "made" in given:
        fields["made_from"], fields["made_to"] = parse_years(given["made"], today, "made")
    watch = check_watch(Watch(name=given["name"], **fields), practice, today)
    span = _span(given["fitted"], dates, today, "fitted") if "fitted" in given else (None, None)
    apart = _seals_apart(given, watch, practice, dates, today)
    material = as_known(given.get("seals", "unknown"), practice.materials)
    one_of(material, tuple(practice.materials), "material", "seals")
    tests = _tested(given, watch, today)
    whole, since = Fitted(None, *span), last_pass_on(tests)
    seals = initial_seals(watch, material, whole, apart, last_pass=since)
    checked = tuple(check_seal(seal, watch, practice, today) for seal in seals)
    spans = (span, *((one.earliest, one.latest) for one in apart.values()))
    days = [latest for earliest, latest in spans if latest and earliest == latest]
    return NewWatch(watch, checked, (*_opened(days, watch, today), *tests))


def _words(given: Mapping[str, Any], practice: Practice) -> dict[str, str]:
    known: dict[str, Any] = {one.name: one.words for one in stored_fields(Watch) if one.words}
    known["case_material"] = practice.cases
    return {field: as_known(given[field], words) for field, words in known.items() if field in given}


def _span(text: str, dates: Dates, today: date, where: str) -> tuple[date, date]:
    """First and last day of `DATE` or `DATE..DATE`, or of months, seasons and years: `may 2024..2025`."""
    try:
        return _days(text, dates, today, where)
    except BadInput:
        # Days that count from today, such as "sat", have no place in a file.
        if not _NAMES_YEAR.search(text):
            raise
        try:
            return parse_span(text, today, where)
        except NoDate:
            pass
        raise


def _days(text: str, dates: Dates, today: date, where: str) -> tuple[date, date]:
    first_text, dots, last_text = text.partition("..")
    first = read_day(first_text.strip(), dates, where)
    last = read_day(last_text.strip(), dates, where) if dots else first
    if last < first:
        raise BadInput(f"{first}..{last} runs backwards: write the earlier day first.", where=where)
    for day in (first, last):
        check_day(day, "The day on which seals were fitted", where, today=today)
    return first, last


def _seals_apart(
    given: Mapping[str, Any], watch: Watch, practice: Practice, dates: Dates, today: date
) -> dict[Position, Fitted]:
    """What the columns of single places say."""
    there = places(watch)
    found: dict[Position, Fitted] = {}
    for field, text in given.items():
        kind, _, place = field.partition(" ")
        if kind != "seal":
            continue
        position = next((each for each in there if each == place), None)
        if position is None:
            column = "pushers" if place == "pushers" else "gas_valve"
            raise BadInput(
                f"It has no {place}: say yes in the column {column}, or leave this empty.", where=field
            )
        stuff, _, days = (part.strip() for part in text.partition("@"))
        material = as_known(stuff, practice.materials)
        one_of(material, tuple(practice.materials), "material", field)
        span = _span(days, dates, today, field) if days else (None, None)
        found[position] = Fitted(material, *span)
    return found


def _opened(days: Sequence[date], watch: Watch, today: date) -> tuple[Event, ...]:
    """New gaskets on a day that is known mean that the case was open then, unless it came with them.

    A span of days says so by itself.
    """
    if not days or (watch.first_on is not None and max(days) <= watch.first_on):
        return ()
    event = Event("opened", max(days), DAY_ORDER["opened"], note="given gaskets")
    return (check_event(event, watch, today),)


def _tested(given: Mapping[str, Any], watch: Watch, today: date) -> tuple[Event, ...]:
    """The last passed test, as the event that it is."""
    if "tested" not in given:
        for field in _OF_A_TEST:
            if field in given:
                raise BadInput("When was that test? Its day belongs in the column tested.", where=field)
        return ()
    if "tested_pa" not in given:
        sentence = "To what pressure was it passed? That belongs in a column tested_bar."
        raise BadInput(sentence, where="tested")
    medium = as_known(given.get("tested_medium", "air"), MEDIA)
    event = Event(
        "pressure-test", given["tested"], DAY_ORDER["pressure-test"], passed=True, test_pa=given["tested_pa"],
        medium=one_of(medium, MEDIA, "medium of a pressure test", "tested_medium"),
    )  # fmt: skip
    return (check_event(event, watch, today),)
