"""Every field that an edge leaves out, with the reason: what is not listed here goes everywhere by itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import fields
from datetime import date, time

import pytest

from logbook.errors import BadInput
from logbook.files.csv import columns, writing
from logbook.model import values as v
from logbook.model.fields import stored_fields
from logbook.record.schema import shapes
from logbook.text.words import COUNTED, FIXED, INTRODUCED, Reader
from logbook.text.words_of_time import split_words
from logbook.tui.water.form import QUESTIONS

WHOSE = "the watch stands there by its nickname"
NOT_TOLD = "the record's own number"
MEASURED = "21m 38min ~17C brackish 99"
# One of them fits after any word.
FOLLOWING = ("1", "1C", "1m", "UTC", "10:40+02:00", "2026-08-01..2026-08-03")

CLASSES: tuple[type, ...] = (
    v.Exposure, v.Event, v.Habit, v.WornStretch, v.Watch, v.Seal, v.ProfilePoint, v.Settings, v.HomeWater,
)  # fmt: skip
BESIDE = {
    "Exposure.profile": "its points are rows of their own",
    "Event.seals": "seals are rows of their own",
    "Event.span": "two columns, both or neither",
    "Habit.exposure": "a contact is fields of its own",
    "Watch.intervals_months": "rows of their own",
    "HomeWater.monthly_c": "twelve rows of their own, or none",
    "Settings.home": "fields of its own",
}


def names_of(cls: type) -> set[str]:
    return {field.name for field in fields(cls)}


def said_in_a_line() -> Iterable[str]:
    """The fields that words of a one-line entry give."""
    for line in (MEASURED, *(f"{word} {after}" for word in INTRODUCED for after in FOLLOWING)):
        words, _ = split_words(line)
        with suppress(BadInput):
            yield from Reader(line, words, date(2026, 3, 15), metric=False, ahead=True).read()
    yield from (name for given in FIXED.values() for name in given)
    yield from (*COUNTED.values(), "note", "activity", "planned")


def asked_in_the_form() -> Iterable[str]:
    yield from (name for question in QUESTIONS for name in question.fields)
    yield from ("rinsed", "note", "planned")


OF_EXPOSURES = {"id": NOT_TOLD, "watch_id": WHOSE, "profile": "a cell holds one value"}
OF_EVENTS = {
    "id": NOT_TOLD,
    "watch_id": WHOSE,
    "seals": "one column, as place=material",
    "span": "two columns, first_on and last_on",
}
NOT_TYPED = {
    "id": NOT_TOLD,
    "watch_id": "the watch comes first",
    "gauge_pa": "worked out from the others",
    "profile": "from files alone",
}
LEFT_OUT: dict[str, tuple[type, Callable[[], Iterable[str]], dict[str, str]]] = {
    "the table of exposures, read": (
        v.Exposure, lambda: [c.field for c in columns.EXPOSURES if c.reads != "ignored"], OF_EXPOSURES,
    ),
    "the table of exposures, written": (v.Exposure, lambda: writing._WET, OF_EXPOSURES),
    "the table of watches, read": (
        v.Watch, lambda: [c.field for c in columns.WATCHES if c.reads != "ignored"],
        {
            "id": NOT_TOLD,
            "made_from": "one column for both years",
            "made_to": "one column for both years",
            "intervals_months": "a cell holds one value",
        },
    ),
    "the table of watches, written": (
        v.Watch, lambda: writing._WATCH.values(),
        {
            "made_from": "one column for both years",
            "made_to": "one column for both years",
            "intervals_months": "a cell holds one value",
        },
    ),
    "the table of events": (v.Event, lambda: writing._EVENT, OF_EVENTS),
    "a one-line entry": (v.Exposure, said_in_a_line, NOT_TYPED),
    "the form of an exposure": (
        v.Exposure, asked_in_the_form,
        NOT_TYPED | {
            "water_c_assumed": "a sign before the temperature",
        },
    ),
    "what a habit repeats": (
        v.Exposure, lambda: [one.name for one in shapes.CONTACT.fields],
        dict.fromkeys(v.OF_A_MOMENT, "of one moment"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("edge", LEFT_OUT)
def test_what_an_edge_leaves_out_is_listed_with_the_reason(edge: str) -> None:
    cls, there, left_out = LEFT_OUT[edge]
    assert names_of(cls) - set(there()) == set(left_out)


def test_every_field_is_a_column_or_says_why_not() -> None:
    said = {
        f"{cls.__name__}.{field.name}": field.metadata["apart"]
        for cls in CLASSES
        for field in fields(cls)
        if "apart" in field.metadata
    }
    assert said == BESIDE
    for cls in CLASSES:
        columns_and_apart = {one.name for one in stored_fields(cls)} | {
            name.partition(".")[2] for name in BESIDE if name.startswith(f"{cls.__name__}.")
        }
        assert names_of(cls) == columns_and_apart


def test_every_number_says_what_the_record_takes() -> None:
    ids = ("id", "watch_id", "event_id")
    free = {
        f"{cls.__name__}.{one.name}"
        for cls in CLASSES
        for one in stored_fields(cls)
        if one.type in ("int", "float") and one.name not in ids and one.kept is None
    }
    assert free == set()


def test_a_value_of_every_type_comes_back_from_its_column() -> None:
    dive = v.Exposure("dive", "sea", 21.0, "EN 13319", 2e5, 60, 17.0, 32.0, date(2024, 5, 1), time(9, 30))
    row = [
        value.isoformat() if isinstance(value, (date, time)) else value
        for value in shapes.EXPOSURE.columns(dive).values()
    ]
    assert shapes.EXPOSURE.value(row) == dive


@pytest.mark.parametrize("value", [0.0005, 0.0025, 1.0005, 2.0015, 18.2995])
def test_a_half_thousandth_is_kept_as_the_language_rounds_it(value: float) -> None:
    depth = next(one for one in stored_fields(v.Exposure) if one.name == "depth_m")
    assert depth.checked(value) == round(value, 3)
    assert depth.scale.kept(value) == round(round(value, 3) * 1000)
