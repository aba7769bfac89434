"""Checks a file of constants: every table, row and key, its type and its range.

The first fault is raised as one sentence that names the file, the line and the key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from math import isfinite
from typing import Any

from logbook.errors import BadInput
from logbook.model.values import BASES, MARK_KINDS, USES, WATERS

VERSION = 1
KINDS = ("standard", "paper", "handbook", "common practice", "assumption", "from memory")
CLASSES = ("rain, hands", "swim", "snorkel", "free dive", "scuba", "mixed gas")
CONSTANTS = (
    "Ea", "reference_c", "worn_c", "storage_c", "interval_worn_c", "interval_storage_c",
    "n_p", "N_p", "n_t", "N_t", "swing_k",
    "p_mark_unknown_bar", "p_mark_unnumbered_bar", "p_mark_unmarked_bar", "lag_water_min", "lag_wrist_min",
    "H_salt", "unrinsed", "salt_reference", "H_pool", "H_soap", "H_hot_tub", "U_dry", "U_wet", "U_under",
    "m_spread", "assumed_spread", "from_c", "home_c", "splash_depth_m", "swim_depth_m",
    "test_margin", "least_test_splash_bar", "least_test_swim_bar", "least_test_dive_bar",
    "vacuum_covers_bar", "unknown_pass_bar", "over_share", "own_most_diving", "own_most_swimming",
    "own_most_dry", "near_mark", "near_mark_divers", "big_swing_k", "big_swing_other_k",
    "hot_soap_c", "hot_water_c", "jump_m", "low_score", "dive_overdue_months", "silent_days",
    "coming_up_days", "named_reach_days",
    "overdue_days", "profile_gate_m", "chance_scale", "chance_shape", "chance_hazard",
    "chance_opening_a", "chance_opening_b", "chance_miss_a", "chance_miss_b",
    "chance_alarm_a", "chance_alarm_b",
    "chance_mean_dive", "chance_low_dive", "chance_mean_else", "chance_low_else",
)  # fmt: skip
_NUMBER = (int, float)
_ONE_OF = {"kind": KINDS, "class": CLASSES, "water": WATERS, "basis": BASES}
_WORDS = {str: "text", int: "a whole number", list: "a list", dict: "a table", bool: "true or false"}

# What each row of each table must hold; a name with "?" may be absent.
ROWS: Mapping[str, Mapping[str, Any]] = {
    "constants": {"value": _NUMBER, "unit": str, "low": _NUMBER, "high": _NUMBER, "kind": str, "source": str},
    "seals": {"m_p": _NUMBER, "m_t": _NUMBER, "m_s": _NUMBER, "m_c": _NUMBER, "m_h": _NUMBER, "kind": str,
              "source": str},
    "materials": {"years": _NUMBER, "low": _NUMBER, "high": _NUMBER, "cap_years": _NUMBER,
                  "storage_class": str, "alpha_low": _NUMBER, "alpha_high": _NUMBER, "kind": str,
                  "source": str},
    "cases": {"alpha_low": _NUMBER, "alpha_high": _NUMBER, "kind": str, "source": str},
    "activities": {"also": list, "water": str, "depth_m?": _NUMBER, "minutes?": _NUMBER, "water_c?": _NUMBER,
                   "most_depth_m?": _NUMBER, "most_minutes?": _NUMBER, "dips": int, "class": str,
                   "basis": str, "arm_m_s": _NUMBER},
    "intervals": {"months": int, "earliest": int, "latest": int, "kind": str, "source": str},
}  # fmt: skip
LISTED: Mapping[str, Mapping[str, Any]] = {
    "marks": {"name": str, "marks": list, "at_least_bar": _NUMBER, "allows": dict},
    "stated_use": {"activity": str, "per_year": _NUMBER, "rinsed": bool, "depth_m?": _NUMBER,
                   "minutes?": _NUMBER, "water_c?": _NUMBER},
}  # fmt: skip

# Numbers that may be zero, and numbers that may be below zero; every other number is above zero.
_FROM_ZERO = frozenset(
    {"low_score", "m_p", "m_t", "m_s", "m_c", "m_h", "depth_m", "most_depth_m", "arm_m_s", "at_least_bar"}
)
_SIGNED = frozenset(
    {"reference_c", "worn_c", "storage_c", "interval_worn_c", "interval_storage_c", "from_c", "home_c",
     "hot_soap_c", "hot_water_c", "earliest", "latest", "water_c"}
)  # fmt: skip
_LEAST_SIGNED = -100  # no temperature and no shift of a visit lies lower
# Far beyond sense, near enough that no power overflows and no date runs off the calendar.
_LEAST, _MOST = 1e-6, 1e9
_MOST_OF = {
    "Ea": 300, "n_p": 20, "n_t": 20, "cap_years": 200, "years": 1000, "months": 1200, "earliest": 1200,
    "latest": 1200,
    "dive_overdue_months": 1200, "silent_days": 36_500, "coming_up_days": 36_500,
    "overdue_days": 36_500, "named_reach_days": 36_500, "worn_c": 200, "storage_c": 200,
    # A chance, a share of the mark and a score are never more than the whole.
    "chance_mean_dive": 1, "chance_low_dive": 1, "chance_mean_else": 1, "chance_low_else": 1,
    "near_mark": 1, "near_mark_divers": 1, "test_margin": 10, "over_share": 2,
    "own_most_diving": 1200, "own_most_swimming": 1200, "own_most_dry": 1200, "low_score": 100,
    # Beyond these the law of the chance makes no sense; a chance leak every day is too many already.
    "chance_scale": 100, "chance_shape": 20, "chance_hazard": 365,
    "chance_opening_a": 50, "chance_opening_b": 200, "chance_miss_a": 50, "chance_miss_b": 200,
    "chance_alarm_a": 50, "chance_alarm_b": 200,
}  # fmt: skip
# A spread divides and multiplies: below 1 it would turn its range upside down.
_LEAST_OF = {
    "test_margin": 1, "over_share": 1, "m_spread": 1, "assumed_spread": 1, "chance_scale": 0.01,
    "chance_shape": 0.1,
}  # fmt: skip
_ORDERED = (("low", "high"), ("alpha_low", "alpha_high"), ("earliest", "latest"), ("depth_m", "most_depth_m"),
            ("minutes", "most_minutes"))  # fmt: skip


def line_of(text: str, table: str, row: str | None = None, key: str | None = None, nth: int = 0) -> int:
    """The line, counted from 1, on which a table, one of its rows or a key of that row begins.

    `nth` counts from 0 through the entries of a table that is a list.
    """
    header = re.compile(
        rf"^\s*\[+\s*{re.escape(table)}"
        + (rf"\s*\.\s*[\"']?{re.escape(row)}[\"']?" if row else "")
        + r"\s*\]+"
    )
    lines = text.splitlines()
    starts = [n for n, line in enumerate(lines) if header.match(line)]
    if not starts:
        return _loose_line(lines, [part for part in (table, row, key) if part])
    start = starts[min(nth, len(starts) - 1)]
    if key is not None:
        for n in range(start + 1, len(lines)):
            if lines[n].lstrip().startswith("["):
                break
            if re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", lines[n]):
                return n + 1
    return start + 1


def _loose_line(lines: list[str], parts: list[str]) -> int:
    """The line that names the most of `parts`, where keys are dotted or a table stands in one line."""
    named = [sum(part in line for part in parts) if parts[0] in line.split("=")[0] else 0 for line in lines]
    return named.index(max(named)) + 1 if any(named) else 1


def fail(text: str, name: str, path: tuple[str, ...], sentence: str, nth: int = 0) -> BadInput:
    """The error for a fault at table, row and key `path`, with its line in `text`."""
    from logbook.model.text import printable

    # Rows of the list of marks have no names: what follows the table is a key.
    below = [*path[1:], None, None]
    row, key = (None, below[0]) if path[0] == "marks" else below[:2]
    line = line_of(text, path[0], row, key, nth)
    at = printable(".".join(path))
    return BadInput(f"{name}, line {line}, {at}: {sentence}", where=f"{name}:{line}")


def check_tables(data: dict[str, Any], text: str, name: str, *, complete: bool) -> None:
    """Raises BadInput at the first fault; with `complete` also for anything that is missing."""
    known = ("version", *ROWS, *LISTED)
    for table in data:
        if table not in known:
            raise fail(text, name, (table,), f"no such table; there are {', '.join(sorted(known))}.")
    if data.get("version", VERSION) != VERSION:
        raise fail(text, name, ("version",), f"{data['version']!r} is not known; {VERSION} is.")
    for table, fields in ROWS.items():
        rows = data.get(table, {})
        if not isinstance(rows, dict):
            raise fail(text, name, (table,), "must be a table.")
        if complete and not rows:
            raise fail(text, name, (table,), "this table is missing.")
        for row, values in rows.items():
            _check_row(values, fields, text, name, (table, row), complete=complete)
    _check_constants(data.get("constants", {}), text, name, complete=complete)
    for table, fields in LISTED.items():
        for path, nth, values in _listed_rows(data, table, text, name):
            _check_row(values, fields, text, name, path, complete=True, nth=nth)
    if complete:
        _check_references(data, text, name)


def _check_constants(constants: Mapping[str, Any], text: str, name: str, *, complete: bool) -> None:
    for row in constants:
        if row not in CONSTANTS:
            raise fail(text, name, ("constants", row), "no such constant.")
    for row in CONSTANTS if complete else ():
        if row not in constants:
            raise fail(text, name, ("constants",), f"the constant {row} is missing.")


def _listed_rows(
    data: dict[str, Any], table: str, text: str, name: str
) -> Iterator[tuple[tuple[str, ...], int, Any]]:
    """Path, place in its list and values of every row in a table of lists; stated use has a list per use."""
    found = data.get(table, {})
    lists: dict[tuple[str, ...], Any]
    if table == "marks":
        lists = {("marks",): found} if "marks" in data else {}
    elif isinstance(found, dict):
        lists = {(table, use): rows for use, rows in found.items()}
    else:
        raise fail(text, name, (table,), f"must hold a list for each of {', '.join(USES)}.")
    for path, rows in lists.items():
        if path[-1] not in ("marks", *USES):
            raise fail(text, name, path, f"no such use; there are {', '.join(USES)}.")
        if not isinstance(rows, list):
            raise fail(text, name, path, f"must be a list: write [[{'.'.join(path)}]].")
        for nth, values in enumerate(rows):
            yield path, nth, values


def _check_row(values: Any, fields: Mapping[str, Any], text: str, name: str, path: tuple[str, ...], *,
               complete: bool, nth: int = 0) -> None:  # fmt: skip
    if not isinstance(values, dict):
        raise fail(text, name, path, "must be a table of its own.", nth)
    types = {field.rstrip("?"): kind for field, kind in fields.items()}
    row = path[-1]
    for key, value in values.items():
        if key not in types:
            raise fail(text, name, (*path, key), f"no such key; there are {', '.join(types)}.", nth)
        trouble = _type_trouble(value, types[key]) or _sense_trouble(row, key, value)
        if trouble:
            raise fail(text, name, (*path, key), trouble, nth)
    trouble = _order_trouble(values)
    if trouble:
        raise fail(text, name, path, trouble, nth)
    for field in fields if complete else ():
        if not field.endswith("?") and field not in values:
            raise fail(text, name, path, f"the key {field} is missing.", nth)


def _type_trouble(value: Any, wanted: Any) -> str | None:
    if isinstance(value, wanted) and (wanted is bool or not isinstance(value, bool)):
        if wanted is list and not all(isinstance(word, str) for word in value):
            return f"{value!r} found where a list of words belongs."
        return None
    return f"{value!r} found where {_WORDS.get(wanted, 'a number')} belongs."


def _sense_trouble(row: str, key: str, value: Any) -> str | None:
    if key in _ONE_OF and value not in _ONE_OF[key]:
        return f"{value!r} is not one of {', '.join(_ONE_OF[key])}."
    if isinstance(value, bool) or not isinstance(value, _NUMBER):
        return None
    most = _MOST_OF.get(row, _MOST_OF.get(key, _MOST))
    if not isfinite(value):
        return f"{value!r} is out of range; a finite number belongs here."
    if value > most:
        return f"{value!r} is out of range; the most is {most:g}."
    if value < _LEAST_OF.get(row, value):
        return f"{value!r} is out of range; the least is {_LEAST_OF[row]:g}."
    if row in _SIGNED or key in _SIGNED:
        return None if value >= _LEAST_SIGNED else f"{value!r} is out of range; the least is {_LEAST_SIGNED}."
    if row in _FROM_ZERO or key in _FROM_ZERO:
        return None if value >= 0 else f"{value!r} is out of range; zero or more belongs here."
    return None if value >= _LEAST else f"{value!r} is out of range; a positive number belongs here."


def _order_trouble(values: Mapping[str, Any]) -> str | None:
    """What is out of order in a row: a low above its high, or a value outside the two."""
    middle = values.get("value", values.get("years"))
    if middle is not None and "low" in values and "high" in values:
        low, high = values["low"], values["high"]
        if not low <= middle <= high:
            return f"the value must lie from low to high; {middle:g} is not from {low:g} to {high:g}."
    for lower, upper in _ORDERED:
        if lower in values and upper in values and values[lower] > values[upper]:
            return f"{lower} must not be above {upper}."
    return None


def _check_references(data: dict[str, Any], text: str, name: str) -> None:
    """Raises where a table names a row that another does not have, or where no row covers a mark."""
    for path, nth, row in _listed_rows(data, "stated_use", text, name):
        if row["activity"] not in data["activities"]:
            raise fail(text, name, path, f"{row['activity']!r} is not a row of activities.", nth)
    for nth, row in enumerate(data.get("marks", [])):
        for activity_class in CLASSES:
            if row["allows"].get(activity_class) not in ("yes", "light", "no"):
                sentence = f"{activity_class!r} of {row['name']} must be yes, light or no."
                raise fail(text, name, ("marks",), sentence, nth)
        for mark in row["marks"]:
            if mark not in MARK_KINDS:
                raise fail(text, name, ("marks",), f"{mark!r} is not one of {', '.join(MARK_KINDS)}.", nth)
    for mark in MARK_KINDS:
        if not any(mark in row["marks"] and row["at_least_bar"] == 0 for row in data.get("marks", [])):
            raise fail(text, name, ("marks",), f"no row from 0 bar up covers the mark {mark!r}.")
