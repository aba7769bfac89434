"""The constants of the model: what `practice.toml` must hold, and the values as the reckoning reads them.

Text in, frozen values out; reading the file itself is the business of the floor above.
"""

from __future__ import annotations

import hashlib
import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from logbook import __version__
from logbook.errors import BadInput
from logbook.reckoning.values import BASES, WATERS, Basis, Water

KINDS = ("standard", "handbook", "common practice", "assumption", "from memory")
CLASSES = ("rain, hands", "swim", "snorkel", "free dive", "scuba", "mixed gas")
CONSTANTS = (
    "Ea", "reference_c", "worn_c", "storage_c", "interval_worn_c", "interval_storage_c", "n_p", "N_p", "n_t", "N_t", "swing_k",
    "p_mark_unnumbered_bar", "p_mark_unmarked_bar", "lag_water_min", "lag_wrist_min",
    "H_salt", "unrinsed", "brackish_reference", "H_pool", "H_soap", "H_hot_tub", "U_dry", "U_wet", "U_under",
    "m_spread", "assumed_spread", "from_c", "home_c", "near_mark", "near_mark_divers", "big_swing_k",
    "hot_soap_c", "jump_m", "low_score", "dive_overdue_months", "silent_days", "coming_up_days", "overdue_days",
)  # fmt: skip
# Stated in degrees, so that zero and below are allowed; every other number is above zero.
_SIGNED = frozenset(
    {"reference_c", "worn_c", "storage_c", "interval_worn_c", "interval_storage_c", "from_c", "home_c",
     "hot_soap_c", "low_score"}
)  # fmt: skip
_NUMBER = (int, float)
_ONE_OF = {"kind": KINDS, "class": CLASSES, "water": WATERS, "basis": BASES}

# What each row of each table must hold; a name with "?" may be absent.
_ROWS: Mapping[str, Mapping[str, Any]] = {
    "constants": {"value": _NUMBER, "unit": str, "low": _NUMBER, "high": _NUMBER, "kind": str, "source": str},
    "seals": {"m_p": _NUMBER, "m_t": _NUMBER, "m_s": _NUMBER, "m_c": _NUMBER, "m_h": _NUMBER, "kind": str,
              "source": str},
    "materials": {"years": _NUMBER, "low": _NUMBER, "high": _NUMBER, "cap_years": _NUMBER, "storage_class": str,
                  "alpha_low": _NUMBER, "alpha_high": _NUMBER, "kind": str, "source": str},
    "cases": {"alpha_low": _NUMBER, "alpha_high": _NUMBER, "kind": str, "source": str},
    "activities": {"also": list, "water": str, "depth_m?": _NUMBER, "minutes?": _NUMBER, "water_c?": _NUMBER,
                   "dips": int, "class": str, "basis": str, "arm_m_s": _NUMBER},
    "intervals": {"months": int, "earliest": int, "latest": int, "kind": str, "source": str},
}  # fmt: skip
_LISTED: Mapping[str, Mapping[str, Any]] = {
    "marks": {"name": str, "marks": list, "at_least_bar": _NUMBER, "allows": dict},
    "stated_use": {"activity": str, "per_year": _NUMBER, "rinsed": bool, "depth_m?": _NUMBER,
                   "minutes?": _NUMBER, "water_c?": _NUMBER},
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Constant:
    """One constant with its 10 % and 90 % points and where it comes from."""

    value: float
    unit: str
    low: float
    high: float
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class SealFactors:
    """How much of each channel reaches a seal, dimensionless."""

    m_p: float
    m_t: float
    m_s: float
    m_c: float
    m_h: float
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class Material:
    """A gasket material: years of one interval, cap by storage class, linear expansion in 1e-6 per K."""

    years: float
    low: float
    high: float
    cap_years: float
    storage_class: str
    alpha_low: float
    alpha_high: float
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class CaseMaterial:
    """A case or crystal material: linear expansion in 1e-6 per K."""

    alpha_low: float
    alpha_high: float
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class Activity:
    """What an activity means where an entry is silent; None: must be given, or the home water for `water_c`."""

    name: str
    also: tuple[str, ...]
    water: Water
    depth_m: float | None
    minutes: float | None
    water_c: float | None
    dips: int
    mark_class: str
    basis: Basis
    arm_m_s: float


@dataclass(frozen=True, slots=True)
class MarkRow:
    """What common practice takes a mark to allow, by activity class: yes, light or no."""

    name: str
    marks: tuple[str, ...]
    at_least_bar: float
    allows: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Interval:
    """A service interval in months and how far from its date a visit may draw it."""

    months: int
    earliest: int
    latest: int
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class StatedUse:
    """One line of the water charged for the time before the log began, times a year."""

    use: str
    activity: str
    per_year: float
    rinsed: bool
    depth_m: float | None
    minutes: float | None
    water_c: float | None


@dataclass(frozen=True, eq=False)  # compared by identity, so that results can be remembered by it
class Practice:
    """Every constant in force, from the shipped file and the owner's override."""

    constants: Mapping[str, Constant]
    seals: Mapping[str, SealFactors]
    materials: Mapping[str, Material]
    cases: Mapping[str, CaseMaterial]
    activities: Mapping[str, Activity]
    intervals: Mapping[str, Interval]
    marks: tuple[MarkRow, ...]
    stated_use: tuple[StatedUse, ...]
    fingerprint: str
    overridden: tuple[str, ...] = ()

    def __getitem__(self, name: str) -> float:
        """The value of one constant in its own unit."""
        return self.constants[name].value

    @cached_property
    def activity_words(self) -> Mapping[str, str]:
        """Every word for an activity, its own name included, to its name."""
        return {word: a.name for a in self.activities.values() for word in (a.name, *a.also)}


def parse(text: str, *, name: str = "practice.toml", override: str | None = None,
          override_name: str = "your practice.toml") -> Practice:  # fmt: skip
    """The constants in `text`, with the owner's `override` laid over them.

    Raises BadInput naming file, key and line when a key is missing, unknown, of the wrong type or out of range.
    """
    data = _load(text, name)
    _check(data, text, name, complete=True)
    overridden: tuple[str, ...] = ()
    if override is not None:
        extra = _load(override, override_name)
        _check(extra, override, override_name, complete=False)
        overridden = _lay_over(data, extra, override, override_name)
        _check(data, override, override_name, complete=True)
    canonical = json.dumps([__version__, data], sort_keys=True)
    return _build(data, hashlib.sha256(canonical.encode()).hexdigest()[:16], overridden)


def line_of(text: str, table: str, row: str | None = None, key: str | None = None) -> int:
    """The line, from 1, on which a table, a row of it or a key of that row begins."""
    header = re.compile(
        rf"^\s*\[+\s*{re.escape(table)}"
        + (rf"\s*\.\s*[\"']?{re.escape(row)}[\"']?" if row else "")
        + r"\s*\]+"
    )
    lines = text.splitlines()
    start = next((n for n, line in enumerate(lines) if header.match(line)), 0)
    if key is not None:
        for n in range(start + 1, len(lines)):
            if lines[n].lstrip().startswith("["):
                break
            if re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", lines[n]):
                return n + 1
    return start + 1


def _load(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"{name} is not valid TOML: {error}.", where=name) from None


def _fail(text: str, name: str, path: tuple[str, ...], sentence: str) -> BadInput:
    line = line_of(text, *path)
    return BadInput(f"{name}, line {line}, {'.'.join(path)}: {sentence}", where=f"{name}:{line}")


def _check(data: dict[str, Any], text: str, name: str, *, complete: bool) -> None:
    """Raises at the first fault; `complete` also asks for everything that must be there."""
    known = {"version", *_ROWS, *_LISTED}
    for table in data:
        if table not in known:
            raise _fail(text, name, (table,), f"no such table; there are {', '.join(sorted(known))}.")
    for table, fields in _ROWS.items():
        rows = data.get(table, {})
        if complete and not rows:
            raise _fail(text, name, (table,), "this table is missing.")
        for row, values in rows.items():
            if not isinstance(values, dict):
                raise _fail(text, name, (table, row), "must be a table of its own.")
            _check_fields(values, fields, text, name, (table, row), complete)
            _check_sense(table, row, values, text, name)
    for row in data.get("constants", {}):
        if row not in CONSTANTS:
            raise _fail(text, name, ("constants", row), "no such constant.")
    if complete:
        for row in CONSTANTS:
            if row not in data["constants"]:
                raise _fail(text, name, ("constants",), f"the constant {row} is missing.")
    for table, fields in _LISTED.items():
        for values in _listed_rows(data, table):
            _check_fields(values, fields, text, name, (table,), complete=True)
    _check_marks(data, text, name)


def _listed_rows(data: dict[str, Any], table: str) -> list[dict[str, Any]]:
    found = data.get(table, [])
    if isinstance(found, dict):
        return [row for rows in found.values() for row in rows]
    return list(found)


def _check_fields(values: dict[str, Any], fields: Mapping[str, Any], text: str, name: str,
                  path: tuple[str, ...], complete: bool) -> None:  # fmt: skip
    types = {field.rstrip("?"): kind for field, kind in fields.items()}
    for key, value in values.items():
        if key not in types:
            raise _fail(text, name, (*path, key), f"no such key; there are {', '.join(types)}.")
        wanted = types[key]
        if not isinstance(value, wanted) or (isinstance(value, bool) and wanted is not bool):
            word = {
                str: "text",
                int: "a whole number",
                list: "a list",
                dict: "a table",
                bool: "true or false",
            }
            raise _fail(
                text, name, (*path, key), f"{value!r} found where {word.get(wanted, 'a number')} belongs."
            )
    if complete:
        for field in fields:
            if not field.endswith("?") and field not in values:
                raise _fail(text, name, path, f"the key {field} is missing.")


def _check_sense(table: str, row: str, values: dict[str, Any], text: str, name: str) -> None:
    for key, value in values.items():
        if not isinstance(value, _NUMBER) or isinstance(value, bool):
            continue
        signed = row in _SIGNED or key in ("earliest", "latest", "depth_m", "water_c", "arm_m_s")
        if table == "seals" or signed:
            bound_ok = value >= (-100 if signed else 0)
        else:
            bound_ok = value > 0
        if not bound_ok or value != value or abs(value) == float("inf"):
            raise _fail(
                text, name, (table, row, key), f"{value!r} is out of range; a positive number belongs here."
            )
    middle = values.get("value", values.get("years"))
    if middle is not None and "low" in values and "high" in values:
        if not values["low"] <= middle <= values["high"]:
            raise _fail(text, name, (table, row), "the value must lie from low to high.")
    for key, allowed in _ONE_OF.items():
        if key in values and values[key] not in allowed:
            raise _fail(text, name, (table, row, key), f"{values[key]!r} is none of {', '.join(allowed)}.")


def _check_marks(data: dict[str, Any], text: str, name: str) -> None:
    for row in data.get("marks", []):
        for activity_class in CLASSES:
            if row["allows"].get(activity_class) not in ("yes", "light", "no"):
                sentence = f"{activity_class!r} of {row['name']} must be yes, light or no."
                raise _fail(text, name, ("marks",), sentence)


def _lay_over(data: dict[str, Any], extra: dict[str, Any], text: str, name: str) -> tuple[str, ...]:
    """Writes the override into `data`; returns the dotted keys that changed."""
    changed = []
    for table in _ROWS:
        for row, values in extra.get(table, {}).items():
            if row not in data[table] and table not in ("materials", "cases", "activities"):
                raise _fail(text, name, (table, row), "there is no such row to override.")
            target = data[table].setdefault(row, {})
            for key, value in values.items():
                if target.get(key) != value:
                    changed.append(f"{table}.{row}.{key}")
                target[key] = value
    for table in _LISTED:
        if table in extra:
            data[table] = extra[table]
            changed.append(table)
    return tuple(changed)


def _build(data: dict[str, Any], fingerprint: str, overridden: tuple[str, ...]) -> Practice:
    constants = {k: Constant(**_floats(v)) for k, v in data["constants"].items()}
    activities = {}
    for word, row in data["activities"].items():
        activities[word] = Activity(
            name=word, also=tuple(row["also"]), water=row["water"], depth_m=row.get("depth_m"),
            minutes=row.get("minutes"), water_c=row.get("water_c"), dips=row["dips"], mark_class=row["class"],
            basis=row["basis"], arm_m_s=float(row["arm_m_s"]),
        )  # fmt: skip
    stated = tuple(
        StatedUse(
            use=use, activity=row["activity"], per_year=float(row["per_year"]), rinsed=row["rinsed"],
            depth_m=row.get("depth_m"), minutes=row.get("minutes"), water_c=row.get("water_c"),
        )
        for use, rows in data["stated_use"].items()
        for row in rows
    )  # fmt: skip
    return Practice(
        constants=constants,
        seals={k: SealFactors(**_floats(v)) for k, v in data["seals"].items()},
        materials={k: Material(**_floats(v)) for k, v in data["materials"].items()},
        cases={k: CaseMaterial(**_floats(v)) for k, v in data["cases"].items()},
        activities=activities,
        intervals={k: Interval(**v) for k, v in data["intervals"].items()},
        marks=tuple(
            MarkRow(r["name"], tuple(r["marks"]), float(r["at_least_bar"]), dict(r["allows"]))
            for r in data["marks"]
        ),
        stated_use=stated,
        fingerprint=fingerprint,
        overridden=overridden,
    )


def _floats(row: Mapping[str, Any]) -> dict[str, Any]:
    return {k: float(v) if isinstance(v, int) and not isinstance(v, bool) else v for k, v in row.items()}
