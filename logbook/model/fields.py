"""How a field describes itself, once: its column and scale, what it may hold, and what it means.

The fields are declared in `model.values`; the record, files and sentences read their description there.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, dataclass, fields
from datetime import date, time
from functools import cache, cached_property
from typing import Any, get_args

from logbook.model.ranges import RANGES, in_range, one_of, whole_in_range


class Scale:
    """How a value becomes its column and back, each an expression in which `{}` is the input.

    A value at that resolution comes back equal. Where `value` is arithmetic, it takes a whole column too.
    """

    def __init__(self, kept: str = "{}", value: str = "{}") -> None:
        self.as_kept, self.as_value = kept, value

    @cached_property
    def kept(self) -> Callable[[Any], Any]:
        return _function(self.as_kept)

    @cached_property
    def value(self) -> Callable[[Any], Any]:
        return _function(self.as_value)


def _function(expression: str) -> Callable[[Any], Any]:
    made: Callable[[Any], Any] = eval(f"lambda x: {expression.format('x')}", dict(USED_BY_SCALES))
    return made


USED_BY_SCALES: Mapping[str, Any] = {"date": date, "time": time}
ZERO_C_MK = 273_150
TRILLION = 10**12

AS_IS = Scale()
FLAG = Scale("int({})", "bool({})")
DAY = Scale("{}.isoformat()", "date.fromisoformat({})")
CLOCK = Scale("{}.isoformat('seconds')", "time.fromisoformat({})")
PASCAL = Scale("round({})", "float({})")
MILLI = Scale("round(round({}, 3) * 1000)", "{} / 1000")  # metres to mm, uses a week to uses in 1000 weeks, …
MILLIKELVIN = Scale(f"round(round({{}}, 3) * 1000) + {ZERO_C_MK}", f"({{}} - {ZERO_C_MK}) / 1000")
SIXTIETH = Scale("round({} * 60)", "{} / 60")  # hours to minutes, minutes to seconds
# Uses a day to uses in 1000 weeks, so that both "2 a week" and "1 a day" are whole numbers.
PER_1000_WEEKS = Scale("round({} * 7000)", "{} / 7000")
MICRO = Scale("round({} * 1_000_000)", "{} / 1_000_000")
TRILLIONTH = Scale(f"round({{}} * {TRILLION})", f"{{}} / {TRILLION}")  # sums in any order

_SCALE_OF = {"bool": FLAG, "date": DAY, "time": CLOCK}


def stored(
    column: str = "", scale: Scale | None = None, within: str = "", *,
    kept: tuple[float, float] | None = None, label: str = "", meaning: str = "", example: str = "",
) -> Mapping[str, Any]:  # fmt: skip
    """The `metadata` of a `dataclasses.field` that is kept in the record.

    `within` names the range for entry in `RANGES`. `kept` is the range that the record takes, in the unit of
    the value, where it is wider: older records and other constants may hold more. `label` is the word for the
    field in an error about an unknown word; `meaning` and `example` are printed in tables.
    """
    if kept is None and within:
        kept = RANGES[within].low, RANGES[within].high
    said = {"column": column, "scale": scale, "within": within, "kept": kept}
    return {**said, "label": label, "meaning": meaning, "example": example}


def apart(why: str) -> Mapping[str, Any]:
    """The `metadata` of a field that is neither a column nor a plain key: it is written and read by hand."""
    return {"apart": why}


@dataclass(frozen=True, slots=True)
class Stored:
    """One field, as the record keeps it."""

    name: str  # of the value
    column: str
    type: str  # str, int, float, bool, date, time, or the name of a list of words
    maybe: bool  # None is a value of it
    needed: bool = True  # it has no default
    scale: Scale = AS_IS
    words: tuple[str, ...] = ()  # none: any
    within: str = ""  # its range in `RANGES`
    kept: tuple[int, int] | None = None  # what may stand in the column, both ends included
    label: str = ""
    meaning: str = ""
    example: str = ""

    def takes(self, found: Any) -> bool:
        """True when the column may hold this."""
        if found is None:
            return self.maybe
        low, high = self.kept or (found, found)
        try:
            self.scale.value(found)
            return low <= found <= high and (not self.words or found in self.words)
        except (TypeError, ValueError):
            return False

    def checked(self, value: Any) -> Any:
        """Checks a value for the field, a known word or a number in range, and rounds it to what is kept.

        Raises BadInput with the field in `where`.
        """
        if value is not None and self.label:
            one_of(value, self.words, self.label, self.name)
        if value is None or self.type not in ("int", "float"):
            return value
        judged = whole_in_range if self.type == "int" else in_range
        if self.within:
            value = judged(self.within, value, self.name)
        value = self.scale.value(self.scale.kept(value))
        return judged(self.within, value, self.name) if self.within else value


def checked(cls: type, given: Mapping[str, Any]) -> dict[str, Any]:
    """Checks every given field of a class by `Stored.checked`."""
    fitting = {one.name: one.checked(given[one.name]) for one in stored_fields(cls) if one.name in given}
    return {**given, **fitting}


def checked_fields(value: Any) -> dict[str, Any]:
    """Checks every field of a value that is a column, in the same way."""
    return {one.name: one.checked(getattr(value, one.name)) for one in stored_fields(value.__class__)}


@cache
def stored_fields(cls: type) -> tuple[Stored, ...]:
    """The fields of a class of `model.values` that are columns, in its order."""
    return tuple(_stored(cls, field) for field in fields(cls) if "apart" not in field.metadata)


def _stored(cls: type, field: Field[Any]) -> Stored:
    said = field.metadata or stored()
    kind = str(field.type).removesuffix(" | None")
    scale = said["scale"] or _SCALE_OF.get(kind, AS_IS)
    kept = said["kept"] and tuple(map(scale.kept, said["kept"]))
    words = get_args(getattr(sys.modules[cls.__module__], kind, None))
    return Stored(
        field.name, said["column"] or field.name, kind, kind != field.type,
        field.default is MISSING and field.default_factory is MISSING, scale, words, said["within"], kept,
        said["label"], said["meaning"], said["example"],
    )  # fmt: skip
