"""Which field of each value is which key of the export, and what may stand there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import MISSING, fields
from types import MappingProxyType
from typing import Any

from logbook.errors import BadInput
from logbook.files.json.tree import DAY, FLAG, ID, NUMBER, TEXT, TIME, WHOLE, Kind, Node
from logbook.files.json.writing import RENAMED
from logbook.model.values import (
    Event,
    Exposure,
    Habit,
    HomeWater,
    ProfilePoint,
    Seal,
    Settings,
    Watch,
    WornStretch,
)

Kinds = Mapping[str, Kind]

CONTACT: dict[str, Kind] = {
    "activity": TEXT, "water": TEXT, "depth_m": NUMBER, "basis": TEXT, "gauge_pa": NUMBER,
    "duration_s": WHOLE, "water_c": NUMBER, "water_c_assumed": FLAG, "from_c": NUMBER,
    "salinity": NUMBER.or_null(), "density_kg_m3": NUMBER.or_null(), "dips": WHOLE, "rinsed": FLAG,
    "crown_wet": WHOLE, "crown_under": WHOLE, "pusher_wet": WHOLE, "pusher_under": WHOLE,
    "crown_open": FLAG, "pushers_open": FLAG, "jump_m": NUMBER, "note": TEXT,
}  # fmt: skip
# The fields of each value that stand in the file as they are; what is made of several is read beside them.
_FIELDS: Mapping[type, Kinds] = MappingProxyType({
    Watch: {
        "id": ID, "name": TEXT, "mark": TEXT, "marked_pa": NUMBER.or_null(), "added_on": DAY,
        "recorded_from": DAY, "crown": TEXT, "pushers": FLAG, "gas_valve": FLAG, "case_material": TEXT,
        "movement": TEXT, "use": TEXT, "bought_on": DAY.or_null(), "new_on": DAY.or_null(), "worn_h": NUMBER,
        "winds": NUMBER, "presses": NUMBER, "reference": TEXT, "note": TEXT, "group": TEXT,
        "retired_on": DAY.or_null(), "confirmed_on": DAY.or_null(), "pushers_wet": FLAG,
        "made_from": WHOLE.or_null(), "made_to": WHOLE.or_null(), "marked_in": TEXT,
    },
    Seal: {
        "id": ID, "position": TEXT, "material": TEXT, "fitted_earliest": DAY, "fitted_latest": DAY,
        "order": WHOLE, "event_id": ID.or_null(),
    },
    Exposure: {
        "id": ID, "watch_id": ID, **CONTACT, "starts_on": DAY, "starts_at": TIME.or_null(), "zone": TEXT,
        "utc_offset_s": WHOLE.or_null(), "planned": FLAG, "planned_to": DAY.or_null(),
    },
    ProfilePoint: {"time_s": NUMBER, "depth_m": NUMBER, "water_c": NUMBER.or_null()},
    Event: {
        "id": ID, "watch_id": ID, "kind": TEXT, "on": DAY, "order": WHOLE, "passed": FLAG.or_null(),
        "test_pa": NUMBER.or_null(), "medium": TEXT.or_null(), "minutes": NUMBER.or_null(),
        "deflection_um": NUMBER.or_null(), "repaired": TEXT.or_null(), "crystal_c": NUMBER.or_null(),
        "case_air_c": NUMBER.or_null(), "workshop": TEXT, "note": TEXT, "to_mark": FLAG, "moved": FLAG,
    },
    WornStretch: {"id": ID, "watch_id": ID, "from_on": DAY, "to_on": DAY, "hours": NUMBER},
    Habit: {"id": ID, "watch_id": ID, "per_day": NUMBER, "from_on": DAY, "to_on": DAY.or_null()},
    HomeWater: {"salinity": NUMBER, "latitude_deg": NUMBER, "altitude_m": NUMBER},
    Settings: {"zone": TEXT, "units": TEXT},
})  # fmt: skip
_NEEDED = ("id", "watch_id")  # they have a default in the values, but no entry of a file is without them
_HOME = (*_FIELDS[HomeWater], "monthly_c")


def given(node: Node, cls: type) -> dict[str, Any]:
    """The fields of a value that stand in the file as they are."""
    return read(node, cls, _FIELDS[cls])


def read(node: Node, cls: type, kinds: Kinds) -> dict[str, Any]:
    """Field -> value; a key that is missing is silent where the value has a default."""
    silent = {f.name for f in fields(cls) if f.default is not MISSING and f.name not in _NEEDED}
    there = node.members()
    found = {}
    for name, kind in kinds.items():
        key = RENAMED.get(name, name)
        if key in there or name not in silent:
            found[name] = node.at(key).read(kind)
    return found


@contextmanager
def judged(node: Node, cls: type) -> Iterator[None]:
    """Turns what a validator refuses into a sentence about the place in the file."""
    try:
        yield
    except BadInput as error:
        where = error.where or ""
        if cls is Settings and where in _HOME:
            where = f"home.{where}"
        elif where not in {each.name for each in fields(cls)}:
            where = ""
        key = RENAMED.get(where, where)
        path = f"{node.path}.{key}" if key else node.path
        Node(None, path, node.file).wrong(error.message)


@contextmanager
def judged_at(node: Node) -> Iterator[None]:
    """The same, for a value that stands at one place."""
    try:
        yield
    except BadInput as error:
        node.wrong(error.message)
