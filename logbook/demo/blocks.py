"""One table of the scenario and its place in the file, so that every fault names the watch and the key."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from random import Random
from typing import Any

from logbook.errors import BadInput
from logbook.model.text import did_you_mean, printable


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _pair(fits: Callable[[Any], bool]) -> Callable[[Any], bool]:
    return lambda v: isinstance(v, list) and len(v) == 2 and all(map(fits, v)) and v[0] <= v[1]


@dataclass(frozen=True, slots=True)
class Kind:
    """What a key may hold, in words and as a test."""

    words: str
    fits: Callable[[Any], bool]


TEXT = Kind("text", lambda v: isinstance(v, str))
FLAG = Kind("true or false", lambda v: isinstance(v, bool))
WHOLE = Kind("a whole number", _whole)
NUMBER = Kind("a number", _number)
NUMBERS = Kind("a list of numbers", lambda v: isinstance(v, list) and all(map(_number, v)))
DAYS = Kind("a whole number of days from 0 to 36500", lambda v: _whole(v) and 0 <= v <= 36_500)
SPAN = Kind(
    "a number of days ago, or [the earlier, the later]",
    lambda v: DAYS.fits(v) or (isinstance(v, list) and _pair(DAYS.fits)(v[::-1])),
)
AMOUNT = Kind("a number, or [low, high]", lambda v: _number(v) or _pair(_number)(v))
COUNT = Kind("a whole number, or [low, high]", lambda v: _whole(v) or _pair(_whole)(v))
SHARE = Kind("true, false, or a share from 0 to 1", lambda v: FLAG.fits(v) or (_number(v) and 0 <= v <= 1))
TABLE = Kind("a table", lambda v: isinstance(v, dict))
TABLES = Kind("a list of tables", lambda v: isinstance(v, list) and all(isinstance(t, dict) for t in v))
POINTS = Kind(
    "a list of [% of the time, % of the depth]",
    lambda v: isinstance(v, list) and len(v) > 1 and all(_point(p) for p in v),
)
MATERIALS = Kind(
    "one material for all, or a table of place = material", lambda v: TEXT.fits(v) or _table_of(TEXT).fits(v)
)


def _table_of(kind: Kind) -> Kind:
    return Kind(
        f"a table of {kind.words} each", lambda v: isinstance(v, dict) and all(map(kind.fits, v.values()))
    )


TASK_MONTHS, TASK_DAYS, SEAL_TABLES = _table_of(WHOLE), _table_of(DAYS), _table_of(TABLE)

# Field as the record's own checks name it -> the key that gives it here.
_KEY_OF = {
    "duration_s": "minutes", "starts_at": "hour", "test_pa": "bar", "marked_pa": "bar", "worn_h": "worn",
    "case_material": "case", "bought_on": "bought", "added_on": "added", "retired_on": "retired",
    "confirmed_on": "confirmed", "intervals_months": "intervals", "from_on": "from", "to_on": "to",
    "planned_to": "until", "span": "in_month",
}  # fmt: skip


def _point(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(_number(v) and 0 <= v <= 100 for v in value)


@dataclass(frozen=True, slots=True)
class Block:
    """The keys of one table, checked once against what it may hold; days count back from `today`."""

    values: Mapping[str, Any]
    place: str
    today: date
    keys: Mapping[str, Kind] = field(default_factory=dict)  # the keys it may hold, once checked

    def checked(self, keys: Mapping[str, Kind], *needed: str) -> Block:
        """Checks this block; raises BadInput for a key that is unknown, missing or of the wrong kind."""
        for key, value in self.values.items():
            if key not in keys:
                raise self.fault(key, f"there is no such key here.{did_you_mean(key, keys)}")
            if not keys[key].fits(value):
                raise self.fault(key, f"{printable(str(value), 40)!r} found where {keys[key].words} belongs.")
        for key in needed:
            if key not in self.values:
                raise self.fault(key, "this key is missing.")
        return replace(self, keys=keys)

    def fault(self, key: str, sentence: str) -> BadInput:
        where = f"{self.place}, {key}"
        return BadInput(f"Scenario, {where}: {sentence}", where=where)

    @contextmanager
    def blamed(self, fallback: str) -> Iterator[None]:
        """Gives a fault from the record's own checks its place; `fallback` is used where it names no key."""
        try:
            yield
        except BadInput as error:
            key = _KEY_OF.get(error.where or "", error.where or fallback)
            raise self.fault(key if key in self.keys else fallback, error.message) from None

    def get(self, key: str, default: Any = None) -> Any:
        return self.values.get(key, default)

    def given(self, *keys: str) -> dict[str, Any]:
        """The values of those keys that the block holds, to be passed on unchanged."""
        return {key: self.values[key] for key in keys if key in self.values}

    def inner(self, key: str, keys: Mapping[str, Kind], *needed: str) -> list[Block]:
        """The tables listed under a key, checked, each with its number in its place."""
        return [
            Block(values, f"{self.place}, {key} {n}", self.today).checked(keys, *needed)
            for n, values in enumerate(self.values.get(key, []), 1)
        ]

    def ago(self, key: str) -> date:
        """The day so many days back."""
        return self.today - timedelta(days=self.values[key])

    def ahead(self, key: str) -> date:
        """The day so many days ahead."""
        return self.today + timedelta(days=self.values[key])

    def day(self, key: str) -> date | None:
        """Like `ago`; None where the key is absent."""
        return self.ago(key) if key in self.values else None

    def days(self, key: str) -> tuple[date | None, date | None]:
        """Earliest and latest day of a date that may be known only as a range."""
        if key not in self.values:
            return None, None
        value = self.values[key]
        earlier, later = value if isinstance(value, list) else (value, value)
        return self.today - timedelta(days=earlier), self.today - timedelta(days=later)

    def amount(self, key: str, dice: Random, digits: int, times: float = 1) -> float | None:
        """The number, or one drawn from its range and rounded, times a factor; None where it is absent."""
        value = self.values.get(key)
        drawn = round(dice.uniform(*value), digits) if isinstance(value, list) else value
        return None if drawn is None else drawn * times

    def count(self, key: str, dice: Random) -> int | None:
        """The whole number, or one drawn from its range, both ends included."""
        value = self.values.get(key)
        return dice.randint(*value) if isinstance(value, list) else value
