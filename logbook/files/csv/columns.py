"""The columns of the two tables that can be read: their names, what may stand in them, and what it means.

The tables below are all there is to know of a column; docs/csv-and-json.md is checked against them. A name is
compared without case, and `Depth (ft)` is `depth_ft`.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from logbook.model.fields import stored_fields
from logbook.model.values import Exposure, Watch

Reads = Literal[
    "text", "word", "length", "time", "temperature", "pressure", "number", "whole", "flag", "day", "span",
    "clock", "offset", "ignored",
]  # fmt: skip

_LENGTH = {"m": "m", "ft": "ft", "cm": "cm"}
_HEAT = {"c": "C", "f": "F"}
_TIME = {"s": "s", "min": "min", "h": "h"}


@dataclass(frozen=True, slots=True)
class Column:
    """A column: the field that it fills, the names that it goes by, and what its cells are."""

    field: str
    names: tuple[str, ...]
    reads: Reads
    meaning: str
    units: Mapping[str, str] = dataclasses.field(default_factory=dict)  # ending of name -> unit of its cells
    named: Mapping[str, str] = dataclasses.field(default_factory=dict)  # whole name -> unit of its cells
    example: str = ""

    def headers(self) -> dict[str, str | None]:
        """Every name -> the unit that it says, None where it says none."""
        bare: dict[str, str | None] = dict.fromkeys(self.names)
        with_unit = {f"{name}_{end}": unit for name in self.names for end, unit in self.units.items()}
        return bare | with_unit | dict(self.named)


_BY_ENDING: Mapping[str, tuple[Reads, Mapping[str, str]]] = MappingProxyType({
    "m": ("length", _LENGTH), "c": ("temperature", _HEAT), "s": ("time", _TIME), "h": ("time", _TIME),
})  # fmt: skip
_BY_TYPE: Mapping[str, Reads] = MappingProxyType({
    "bool": "flag", "int": "whole", "float": "number", "date": "day", "time": "clock", "str": "text",
})  # fmt: skip
_OTHER_NAMES = {
    "crown_under": "crown_under_water", "pusher_under": "pusher_under_water", "jump": "jump_height",
}  # fmt: skip


def _rest(cls: type, said: Iterable[Column]) -> Iterator[Column]:
    """Columns of the fields that have no row of their own below: of that name, with units by its ending."""
    there = {column.field for column in said}
    for one in stored_fields(cls):
        if one.name in there or one.name in ("id", "watch_id"):
            continue
        stem, _, ending = one.name.rpartition("_")
        reads, units = _BY_ENDING.get(ending, (_BY_TYPE.get(one.type, "word"), {}))
        name = stem if units else one.name
        names = (name, _OTHER_NAMES[name]) if name in _OTHER_NAMES else (name,)
        yield Column(one.name, names, reads, one.meaning, units, example=one.example)


_EXPOSURES = (
    Column("id", ("id",), "ignored", "the record's own number; not read, every row gets a new one"),
    Column("watch", ("watch", "nickname"), "text", "which watch; absent: the one given with --watch"),
    Column("activity", ("activity",), "word", "dive, snorkel, pool, … as in a one-line entry"),
    Column("starts_on", ("starts_on", "date", "day"), "day",
           "the day, with or without the time after it", example="2026-07-03"),
    Column("starts_at", ("starts_at", "time", "time_of_day", "at", "start_time"), "clock",
           "civil time of day", example="10:40"),
    Column("zone", ("zone", "time_zone", "timezone"), "text", "IANA zone; absent: that of the settings"),
    Column("utc_offset_s", ("utc_offset_s",), "offset",
           "offset from UTC in s, which tells the two readings of a repeated hour apart", example="7200"),
    Column("planned", ("planned",), "flag", "yes for what is only planned; absent: no"),
    Column("planned_to", ("planned_to",), "day", "last day of a planned trip", example="2026-07-10"),
    Column("depth_m", ("depth", "max_depth", "maximum_depth", "greatest_depth"), "length",
           "the greatest depth", _LENGTH, example="21m"),
    Column("basis", ("basis", "depth_basis"), "word", "how the depth was measured: EN 13319, fresh or true"),
    Column("gauge_pa", ("gauge_pa",), "number", "the pressure that was worked out for it, in Pa, gauge"),
    Column("duration_s", ("duration", "dive_time"), "time", "how long it lasted", _TIME,
           {"minutes": "min", "seconds": "s", "hours": "h"}, example="38min"),
    Column("water", ("water",), "word", "sea, brackish, fresh, pool, soap, hot tub or air"),
    Column("salinity", ("salinity", "practical_salinity"), "number", "practical salinity; brackish needs it",
           example="38"),
    Column("density_kg_m3", ("density", "density_kg_m3"), "number",
           "density of the water in kg/m³, which a salinity above 42 needs", example="1180"),
    Column("water_c", ("temp", "temperature", "water_temp", "water_temperature"), "temperature",
           "temperature of the water, of the air for a sauna", _HEAT, {"water_c": "C", "water_f": "F"},
           example="17C"),
    Column("water_c_assumed", ("water_c_assumed", "temperature_assumed"), "flag",
           "yes where the temperature was not measured"),
    Column("from_c", ("from", "from_temp", "case_temp"), "temperature",
           "temperature of the case before; absent: the wrist's", _HEAT, example="32C"),
)  # fmt: skip
_NOTE = Column("note", ("note", "notes", "comment", "remarks"), "text", "anything")
EXPOSURES: tuple[Column, ...] = (*_EXPOSURES, *_rest(Exposure, (*_EXPOSURES, _NOTE)), _NOTE)

# The years in which a watch was made stand in one column.
_MADE = (Column("made_from", (), "ignored", ""), Column("made_to", (), "ignored", ""))
_PLACES = ("case-back", "crystal", "crown", "pushers", "gas-valve")
_WATCHES = (
    Column("id", ("id",), "ignored", "the record's own number; not read"),
    Column("name", ("name", "nickname", "watch"), "text", "what you call it"),
    Column("mark", ("mark",), "word",
           "unmarked, unknown, water-resistant, divers or divers-mixed-gas; absent: by the number beside it"),
    Column("marked_pa", ("marked", "marked_pressure"), "pressure",
           "the marked pressure in bar or Pa, or the marked metres or feet (10 m count as 1 bar)",
           {"bar": "bar", "m": "m", "ft": "ft", "pa": "Pa"}, example="200m"),
    Column("marked_in", ("marked_in",), "word",
           "bar or m, as the dial states it; absent: as the marked pressure is written"),
    Column("crown", ("crown",), "word", "screwed or pushed; absent: pushed"),
    Column("pushers", ("pushers",), "flag", "yes where it has pushers"),
    Column("pushers_wet", ("pushers_wet",), "flag", "yes where its maker allows them to be used in water"),
    Column("gas_valve", ("gas_valve",), "flag", "yes where it has a gas valve"),
    Column("seals", ("seals", "seals_material", "material"), "word",
           "what all its seals are made of, such as NBR; absent: unknown"),
    *(Column(f"seal {place}", (f"seal_{place.replace('-', '_')}",), "text",
             f"the {place} seal apart, as MATERIAL or MATERIAL@DATE or MATERIAL@DATE..DATE")
      for place in _PLACES),
    Column("case_material", ("case", "case_material"), "word", "steel, titanium, …; absent: steel"),
    Column("movement", ("movement",), "word", "mechanical or quartz; absent: mechanical"),
    Column("use", ("use",), "word", "diving, swimming or dry, also before the log began; absent: dry"),
    Column("bought_on", ("bought", "bought_on"), "day", "when you bought it, new or not",
           example="2024-05-01"),
    Column("new_on", ("new_on", "bought_new"), "day", "bought new on that day", example="2024-05-01"),
    Column("made", ("made", "made_in"), "text", "the year it was made, or YEAR..YEAR", example="1968..1972"),
    Column("fitted", ("fitted",), "span", "when its seals were fitted, as DATE or DATE..DATE",
           example="2025-03-01"),
    Column("tested", ("tested", "tested_on"), "day", "when it last passed a pressure test",
           example="2025-06-10"),
    Column("tested_pa", ("tested_to", "test_pressure"), "pressure", "the pressure of that test",
           {"bar": "bar", "pa": "Pa"}, {"tested_bar": "bar", "tested_pa": "Pa"}, example="10bar"),
    Column("tested_medium", ("tested_medium", "tested_in"), "word", "air, vacuum or water; absent: air"),
    Column("worn_h", ("worn", "worn_per_day"), "time", "time a day on the wrist where nothing else is said",
           {"h": "h"}, {"worn_hours": "h"}, example="12h"),
    Column("winds", ("winds", "winds_per_week"), "number", "dry uses of the crown a week", example="1"),
    Column("presses", ("presses", "presses_per_week"), "number", "dry uses of the pushers a week",
           example="0"),
    Column("added_on", ("added_on",), "day", "the day it was put into the logbook; absent: today"),
    Column("recorded_from", ("recorded_from",), "day",
           "from this day all its water is in the log; absent: the day it is added", example="2025-03-01"),
    Column("reference", ("reference", "serial"), "text", "a reference or serial number"),
    _NOTE,
    Column("group", ("group",), "text", "a group of the shelf"),
    Column("retired_on", ("retired_on",), "day", "the day it left the shelf"),
    Column("confirmed_on", ("confirmed_on",), "day", "nothing else happened up to this day"),
)  # fmt: skip
WATCHES: tuple[Column, ...] = (*_WATCHES, *_rest(Watch, (*_WATCHES, *_MADE)))


def headers_of(columns: tuple[Column, ...]) -> Mapping[str, tuple[Column, str | None]]:
    """Every name that a table knows -> its column, and the unit of the cells."""
    return MappingProxyType({
        name: (column, unit) for column in columns for name, unit in column.headers().items()
    })  # fmt: skip


EXPOSURE_HEADERS = headers_of(EXPOSURES)
WATCH_HEADERS = headers_of(WATCHES)
