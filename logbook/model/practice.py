"""The constants of the model, read from the text of `practice.toml` into frozen values.

Reading the file itself is left to the floor above.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

from logbook.errors import BadInput
from logbook.model.practice_check import ROWS, check_tables, fail
from logbook.model.values import Basis, Water

# Raised whenever the same constants charge an exposure differently, so that ledgers are made anew.
ARITHMETIC = 1
# What the same constants were called before, with the same arithmetic: such a ledger stands as it is.
FORMERLY: Mapping[str, tuple[str, ...]] = {"dc40a37d84718472": ("b517cb216f2f514b",)}


class Constant(NamedTuple):
    """One constant with its 10 % and 90 % points and where it comes from."""

    value: float
    unit: str
    low: float
    high: float
    kind: str
    source: str


class SealFactors(NamedTuple):
    """How much of each channel reaches a seal, dimensionless."""

    m_p: float
    m_t: float
    m_s: float
    m_c: float
    m_h: float
    kind: str
    source: str


class Material(NamedTuple):
    """A gasket material: years of one interval, cap by storage age, linear expansion in 1e-6 per K."""

    years: float
    low: float
    high: float
    cap_years: float
    storage_class: str
    alpha_low: float
    alpha_high: float
    kind: str
    source: str


class CaseMaterial(NamedTuple):
    """A case or crystal material: linear expansion in 1e-6 per K."""

    alpha_low: float
    alpha_high: float
    kind: str
    source: str


class Activity(NamedTuple):
    """What an activity implies where an entry is silent; None: it must be given, or the home water counts."""

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
    most_depth_m: float | None = None  # a question follows above it; None: never
    most_minutes: float | None = None


class MarkRow(NamedTuple):
    """What common practice takes a mark to allow, by activity class: yes, light or no."""

    name: str
    marks: tuple[str, ...]
    at_least_bar: float
    allows: Mapping[str, str]


class Interval(NamedTuple):
    """A service interval in months, and how far from its date a visit may draw the service."""

    months: int
    earliest: int
    latest: int
    kind: str
    source: str


class StatedUse(NamedTuple):
    """One kind of water charged for the time before the log began, with its times a year."""

    use: str
    activity: str
    per_year: float
    rinsed: bool
    depth_m: float | None
    minutes: float | None
    water_c: float | None


@dataclass(frozen=True, eq=False)  # compared by identity, so that results can be cached by it
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

    def reckoned(self, fingerprint: str) -> bool:
        """True for a ledger with this fingerprint: it holds what these constants make of every exposure."""
        return fingerprint in (self.fingerprint, *FORMERLY.get(self.fingerprint, ()))

    def material(self, name: str) -> Material:
        """A material's row; one that an override no longer names gets the worst row, `unknown`."""
        return self.materials.get(name, self.materials["unknown"])

    @cached_property
    def activity_words(self) -> Mapping[str, str]:
        """Every word for an activity, its own name included -> its name."""
        return {word: a.name for a in self.activities.values() for word in (a.name, *a.also)}


def parse(text: str, *, name: str = "practice.toml", override: str | None = None,
          override_name: str = "your practice.toml") -> Practice:  # fmt: skip
    """The constants in `text`, with the owner's `override` laid over them.

    Raises BadInput naming file, key and line when a key is missing, unknown, of the wrong type or out of
    range.
    """
    data = _load(text, name)
    check_tables(data, text, name, complete=True)
    overridden: tuple[str, ...] = ()
    if override is not None:
        extra = _load(override, override_name)
        check_tables(extra, override, override_name, complete=False)
        overridden = _lay_over(data, extra, override, override_name)
        check_tables(data, override, override_name, complete=True)
    canonical = json.dumps([ARITHMETIC, _without_sources(data)], sort_keys=True)
    return _build(data, hashlib.sha256(canonical.encode()).hexdigest()[:16], overridden)


def _without_sources(data: Any) -> Any:
    """The constants without what is said of where they come from: other words cost no exposure more."""
    if isinstance(data, dict):
        return {key: _without_sources(value) for key, value in data.items() if key != "source"}
    return [_without_sources(each) for each in data] if isinstance(data, list) else data


def _load(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"{name} is not valid TOML: {error}.", where=name) from None


def _lay_over(data: dict[str, Any], extra: dict[str, Any], text: str, name: str) -> tuple[str, ...]:
    """Writes the override into `data`; returns the dotted keys that changed."""
    changed = []
    for table in ROWS:
        for row, values in extra.get(table, {}).items():
            if row not in data[table] and table not in ("materials", "cases", "activities"):
                raise fail(text, name, (table, row), "there is no such row to override.")
            target = data[table].setdefault(row, {})
            for key, value in values.items():
                if target.get(key) != value:
                    changed.append(f"{table}.{row}.{key}")
                target[key] = value
    # Lists are replaced whole: all marks at once, the stated use by its use.
    if "marks" in extra and extra["marks"] != data["marks"]:
        data["marks"] = extra["marks"]
        changed.append("marks")
    for use, rows in extra.get("stated_use", {}).items():
        if data["stated_use"].get(use) != rows:
            data["stated_use"][use] = rows
            changed.append(f"stated_use.{use}")
    return tuple(changed)


def _build(data: dict[str, Any], fingerprint: str, overridden: tuple[str, ...]) -> Practice:
    constants = {k: Constant(**_floats(v)) for k, v in data["constants"].items()}
    activities = {}
    for word, row in data["activities"].items():
        activities[word] = Activity(
            name=word, also=tuple(row["also"]), water=row["water"], depth_m=row.get("depth_m"),
            minutes=row.get("minutes"), water_c=row.get("water_c"), dips=row["dips"], mark_class=row["class"],
            basis=row["basis"], arm_m_s=float(row["arm_m_s"]), most_depth_m=row.get("most_depth_m"),
            most_minutes=row.get("most_minutes"),
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
