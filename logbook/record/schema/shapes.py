"""The two shapes of everything kept: the value that the reckoning reads and the columns that the tables hold.

Both directions follow from the fields of `model.values`, and need only the standard library, so that a first
screen is painted from it. What is read is held against the words and ranges of what is written: another
program, or a failing disk, may have put there what would pass for a milder exposure.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from functools import cached_property
from typing import Any, Generic, TypeVar

from logbook.model.fields import MILLIKELVIN, TRILLIONTH, USED_BY_SCALES, Stored, stored_fields
from logbook.model.values import (  # fmt: skip
    CHANNELS,
    OF_A_MOMENT,
    Event,
    Exposure,
    Habit,
    HomeWater,
    ProfilePoint,
    Seal,
    Settings,
    Shares,
    Watch,
    WornStretch,
)

Columns = dict[str, Any]
Value = TypeVar("Value")


class Unfit(ValueError):
    """A column holds what no version of logbook would have written there."""


class Shape(Generic[Value]):
    """What `make` is made of, as columns of a table: its own `fields`, then `more` that are read by hand.

    `beside` are fields that are no columns; they are handed to `value`, or are empty.
    Reading and writing are put together as text and compiled once, as `dataclasses` does with `__init__`.
    """

    def __init__(
        self,
        table: str,
        make: Callable[..., Value],
        fields: Iterable[Stored],
        *,
        more: Sequence[str] = (),
        beside: Sequence[str] = (),
    ) -> None:
        self.table, self._make, self._beside = table, make, beside
        # The id comes first, so that rows can be told apart before they are values.
        self.fields = sorted(fields, key=lambda one: (one.name != "id", one.name != "watch_id"))
        self.names = (*(one.column for one in self.fields), *more)

    def listed(self, table: str = "") -> str:
        """All its columns, as a statement names them."""
        return ", ".join(f"{table}.{name}" if table else name for name in self.names)

    @cached_property
    def value(self) -> Callable[..., Value]:
        """The value of a row, and of what stands beside it; raises Unfit."""
        known: dict[str, Any] = {**USED_BY_SCALES, "make": self._make, "refuse": self._refuse}
        tests, given = ["True"], []
        for one in self.fields:
            name = one.column
            if one.words:
                known[f"words_{name}"] = frozenset((*one.words, None) if one.maybe else one.words)
                tests.append(f"{name} in words_{name}")
            if one.kept:
                within = f"{one.kept[0]} <= {name} <= {one.kept[1]}"
                tests.append(f"({name} is None or {within})" if one.maybe else within)
            given.append(f"{one.name}={_converted(one, one.scale.as_value, name)}")
        beside = "".join(f", {name}=()" for name in self._beside)
        given += (f"{name}={name}" for name in self._beside)
        text = f"""def value(row{beside}):
    {", ".join(self.names)}, = row
    try:
        if {" and ".join(tests)}: return make({", ".join(given)})
    except (TypeError, ValueError): pass
    refuse(row)"""
        exec(text, known)
        read: Callable[..., Value] = known["value"]
        return read

    @cached_property
    def columns(self) -> Callable[[Any], Columns]:
        """The row of a value, by column; without those that are written by hand."""
        pieces = (
            f"{one.column!r}: {_converted(one, one.scale.as_kept, f'value.{one.name}')}"
            for one in self.fields
        )
        written: Callable[[Any], Columns] = eval(f"lambda value: {{{', '.join(pieces)}}}")
        return written

    def check(self, columns: Mapping[str, Iterable[Any]]) -> None:
        """Holds whole columns by name against the words and ranges of what is written; raises Unfit."""
        for one in self.fields:
            found = [each for each in columns.get(one.column, ()) if each is not None]
            if found and (one.words or one.kept):
                _refuse_unfit(one, set(found) if one.words else (min(found), max(found)))

    def _refuse(self, row: Sequence[Any]) -> None:
        for one, found in zip(self.fields, row, strict=False):
            _refuse_unfit(one, [found])


def _refuse_unfit(one: Stored, found: Iterable[Any]) -> None:
    for each in found:
        if not one.takes(each):
            raise Unfit(f"{one.column} is {each!r}")


def _converted(one: Stored, expression: str, of: str) -> str:
    """A value or a column on its way; what may be absent stays so."""
    told = expression.format(of)
    return f"None if {of} is None else {told}" if one.maybe and told != of else told


WATCH = Shape("watch", Watch, stored_fields(Watch), beside=["intervals_months"])
SEAL = Shape("seal", Seal, stored_fields(Seal))
EVENT = Shape(
    "event", Event, stored_fields(Event), more=("span_first", "span_last"), beside=["span", "seals"]
)
EXPOSURE = Shape("exposure", Exposure, stored_fields(Exposure), beside=["profile"])
CONTACT = Shape(
    "habit",
    Exposure,
    [one for one in stored_fields(Exposure) if one.name not in OF_A_MOMENT],
    beside=["starts_on", "watch_id"],
)
HABIT = Shape("habit", dict[str, Any], stored_fields(Habit), more=CONTACT.names)
STRETCH = Shape("worn_stretch", WornStretch, stored_fields(WornStretch))
POINT = Shape("profile_point", ProfilePoint, stored_fields(ProfilePoint), more=("exposure_id",))
HOME = Shape("setting", HomeWater, stored_fields(HomeWater), beside=["monthly_c"])
SETTINGS = Shape("setting", Settings, stored_fields(Settings), more=HOME.names, beside=["home"])


def day_of(text: Any) -> date:
    """A day as a column has it; raises Unfit."""
    try:
        return date.fromisoformat(text)
    except (TypeError, ValueError):
        raise Unfit(f"a date is {text!r}") from None


def name_key(name: str) -> str:
    """What makes two nicknames the same: composed, without case."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def watch_columns(watch: Watch) -> Columns:
    name = unicodedata.normalize("NFC", watch.name)
    return WATCH.columns(watch) | {"name": name, "name_key": name_key(name)}


def seal_columns(seal: Seal, watch_id: int | None) -> Columns:
    return SEAL.columns(seal) | {"watch_id": watch_id}


def event_columns(event: Event) -> Columns:
    first, last = (day.isoformat() for day in event.span) if event.span else (None, None)
    return EVENT.columns(event) | {"span_first": first, "span_last": last}


def event_of(row: Sequence[Any], seals: Sequence[Seal] = ()) -> Event:
    """The event, with the seals that it brought in the order in which they were given."""
    first, last = row[-2:]
    span = (day_of(first), day_of(last)) if first and last else None
    return EVENT.value(row, span=span, seals=tuple((s.position, s.material) for s in seals))


def habit_columns(habit: Habit) -> Columns:
    return HABIT.columns(habit) | CONTACT.columns(habit.exposure)


def habit_of(row: Sequence[Any]) -> Habit:
    """The habit; its exposure stands on the first day, without a time of day."""
    told = HABIT.value(row)
    contact = CONTACT.value(row[len(HABIT.fields) :], starts_on=told["from_on"], watch_id=told["watch_id"])
    return Habit(contact, **told)


def profile_columns(exposure_id: int, profile: Sequence[ProfilePoint]) -> list[Columns]:
    return [{"exposure_id": exposure_id, "seq": n, **POINT.columns(point)} for n, point in enumerate(profile)]


def settings_columns(settings: Settings) -> Columns:
    return {"id": 1, **HOME.columns(settings.home), **SETTINGS.columns(settings)}


def settings_of(row: Sequence[Any], monthly_mk: Sequence[int]) -> Settings:
    monthly_c = tuple(map(MILLIKELVIN.value, monthly_mk)) or None
    return SETTINGS.value(row, home=HOME.value(row[len(SETTINGS.fields) :], monthly_c=monthly_c))


def share_columns(shares: Shares) -> tuple[int, ...]:
    """Six whole trillionths in the order of `CHANNELS`."""
    return tuple(map(TRILLIONTH.kept, shares.as_tuple()))


def shares_of(row: Sequence[int]) -> Shares:
    return Shares(*map(TRILLIONTH.value, row[: len(CHANNELS)]))
