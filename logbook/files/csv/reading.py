"""Exposures from a CSV table with a header, all or none of them; its columns are in `csv_columns`.

A row is made into the same exposure as a one-line entry: what is silent is filled in. Each error names file,
row (the line on which an editor shows it begin) and column.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Any, Literal

from logbook.errors import BadInput
from logbook.files.csv.cells import Cells, Dates, as_known, places_of
from logbook.files.csv.columns import EXPOSURE_HEADERS, WATCH_HEADERS
from logbook.files.csv.rows import header_key, header_of, read_table
from logbook.files.csv.watches import read_watches as read_watches
from logbook.files.incoming import Incoming
from logbook.model.fields import stored_fields
from logbook.model.judge.recheck import kept_gauge_pa
from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, Settings, Watch
from logbook.text.names import find_watch

KindOfTable = Literal["exposures", "watches"]

NEEDED = {"activity": "activity", "starts_on": "date"}  # field -> the column to add


def kind_of_table(text: str, name: str) -> KindOfTable:
    """Whether a table is of exposures or of watches, by its header; raises BadInput when of neither.

    `name` is that of the file, for people.
    """
    keys = [header_key(cell) for cell in header_of(text, name, (*EXPOSURE_HEADERS, *WATCH_HEADERS))]
    fields = {EXPOSURE_HEADERS[key][0].field for key in keys if key in EXPOSURE_HEADERS}
    if fields & NEEDED.keys():
        return "exposures"
    if any(key in WATCH_HEADERS and WATCH_HEADERS[key][0].field == "name" for key in keys):
        return "watches"
    sentence = (
        "the first line names neither the columns of exposures (watch, activity, date, …) nor those of "
        "watches (name, mark, marked_bar, …)."
    )
    raise BadInput(f"{printable(name)}, row 1: {sentence}", where="row 1")


def read_exposures(
    text: str, name: str, *, practice: Practice, settings: Settings, today: date, watches: Sequence[Watch],
    dates: Dates = "iso", watch: Watch | None = None,
) -> list[Incoming]:  # fmt: skip
    """The exposures of a table in the order of its rows; `watch` is that of rows which name none.

    Raises BadInput, with `where` such as `row 3, depth_m`, for the first thing that is wrong.
    """
    table = read_table(text, name, EXPOSURE_HEADERS)
    places = places_of(table, EXPOSURE_HEADERS)
    there = {place.column.field for place in places}
    for field, column in NEEDED.items():
        if field not in there:
            table.wrong("row 1", f"there is no column {column}; every exposure needs one.")
    if not table.rows:
        table.wrong("row 1", "there is a header, but no row below it.")
    by_name = {each.name: each for each in watches}
    seen: Counter[tuple[int | None, str]] = Counter()
    found = []
    for row in table.rows:
        cells = Cells(table, places, row, dates)
        given = cells.given()
        worn = _watch_of(cells, given.pop("watch", None), by_name, watch)
        exposure = cells.judged(None, partial(_exposure, given, worn, practice, settings, today))
        content = _digest(given, practice)
        seen[worn.id, content] += 1
        found.append(Incoming(row.place, exposure, f"csv:{content}#{seen[worn.id, content]}"))
    return found


def _watch_of(cells: Cells, text: str | None, by_name: dict[str, Watch], watch: Watch | None) -> Watch:
    if text is not None:
        return by_name[cells.judged(None, lambda: find_watch(text, by_name))]
    if watch is None:
        cells.wrong(
            "Which watch? Add a column watch with its nickname, or say it with --watch NAME.", "watch"
        )
    return watch


def _exposure(
    given: dict[str, Any], watch: Watch, practice: Practice, settings: Settings, today: date
) -> Exposure:
    """The exposure that a row describes; the pressure that it states is kept where it can be."""
    for field, column in NEEDED.items():
        if field not in given:
            raise BadInput(f"The {column} is missing; every exposure needs one.", where=field)
    told = {key: value for key, value in given.items() if key != "gauge_pa"} | _words(given, practice)
    exposure = make_exposure(practice, settings, today=today, watch=watch, **told)
    if "gauge_pa" in given:
        exposure = replace(exposure, gauge_pa=kept_gauge_pa(exposure, given["gauge_pa"]))
    return exposure


def _words(given: dict[str, Any], practice: Practice) -> dict[str, str]:
    known: dict[str, Any] = {one.name: one.words for one in stored_fields(Exposure) if one.words}
    known["activity"] = practice.activity_words
    return {field: as_known(given[field], words) for field, words in known.items() if field in given}


def _digest(given: dict[str, Any], practice: Practice) -> str:
    """What a row says, whatever the order, the units and the signs in which it says it."""
    said = given | _words(given, practice)
    said["activity"] = practice.activity_words.get(said["activity"], said["activity"])
    plain = {
        field: round(value, 3) + 0.0
        if isinstance(value, float)
        else value
        if isinstance(value, int)
        else str(value)
        for field, value in sorted(said.items())
        if field != "gauge_pa"
    }
    return hashlib.sha256(json.dumps(plain).encode()).hexdigest()[:16]
