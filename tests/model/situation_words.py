"""Reads the tables of situations: a watch, what happened to it and what is asked of it, each in a few words.

The grammar, for those who correct the tables:

- a watch is its mark, its use, and what is special about it, with commas between:
  "diver's 20 bar, diving", "10 bar, swimming, tests every 24 months", "unknown mark, dry"
- a history is a list of lines "date: what happened"; a date is a day ("1 Mar", "1 Mar 2025"), a month
  ("Mar"), a year ("2025") or a range ("1 Mar to 5 Apr"), of 2026 where no year is said; "1 Mar, order 70"
  puts a thing at its own place inside the day, and "1 Mar, one visit: water inside; gaskets; passed 25 bar in
  water" keeps the order in which it is told
- a plan is an activity, a depth and what is special about it: "dive 18 m, water 4 °C, case 40 °C"; "shelf"
  asks for the stated use; water is 25 °C and the case 30 °C unless something else is said; 10 m are 1 bar

Unless a situation is bare its watch was fitted with NBR gaskets and passed a test in water at 1.25 × its mark
(of an unknown mark 25 bar) on 5 January 2026, all its water is on record since, and it last saw water on
31 May. A bare one has the gaskets alone. Today is 1 June 2026.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from logbook.model.fitting import UNKNOWN_YEARS
from logbook.model.judge import history, rules
from logbook.model.judge.case import Case as Judged
from logbook.model.judge.case import reasons_of
from logbook.model.judge.rules import NO_OBJECTION, Reason
from logbook.model.predict.chance import Chance
from logbook.model.values import DAY_ORDER, Event, Exposure, Habit, Seal, Shares, WatchRecord
from logbook.model.wear.account import later_by_years
from tests.model.builders import BAR, PRACTICE, exposure, seals, watch

NOW = date(2026, 6, 1)
FITTED_ON = date(2026, 1, 5)
LAST_WATER_ON = date(2026, 5, 31)
ADDED_ON = date(2026, 5, 15)
DIVERS_20 = "diver's 20 bar, diving"
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

# ---------------------------------------------------------------- dates


def day_of(words: str) -> date:
    """`1 Mar` of 2026, or `1 Mar 2025`."""
    first, last = span_of(words)
    if first != last:
        raise ValueError(f"{words!r} is not one day")
    return first


def span_of(words: str) -> tuple[date, date]:
    """First and last day of a day, a month, a year or a range."""
    if " to " in words:
        start, end = words.split(" to ")
        return day_of(start), day_of(end)
    found = re.fullmatch(r"(?:(?:(\d{1,2}) )?([A-Z][a-z]{2}) ?)?(\d{4})?", words.strip())
    if not found or not words.strip():
        raise ValueError(f"{words!r} is no date")
    day, month, year = found[1], found[2], int(found[3] or 2026)
    if month is None:
        return date(year, 1, 1), date(year, 12, 31)
    number = MONTHS.index(month) + 1
    if day is None:
        return date(year, number, 1), date(year, number, monthrange(year, number)[1])
    return date(year, number, int(day)), date(year, number, int(day))


# ---------------------------------------------------------------- water

ACTIVITIES = {
    # words: name, depth in m
    "dive": ("dive", 18.0), "mixed gas": ("mixed-gas", 18.0), "free dive": ("freedive", 15.0),
    "snorkel": ("snorkel", 3.0), "swim": ("swim", 1.5), "pool": ("pool", 1.5), "shower": ("shower", 0.1),
    "bath": ("bath", 0.3), "hot tub": ("hot tub", 0.5), "rain": ("rain", 0.05), "hands": ("hands", 0.05),
    "boat": ("boat", 0.05), "sauna": ("sauna", 0.0),
}  # fmt: skip
FLAGS: dict[str, dict[str, Any]] = {
    "crown open": {"crown_open": True},
    "pushers open": {"pushers_open": True},
    "crown used under water": {"crown_under": 1},
    "pushers used under water": {"pusher_under": 1},
}


_WATER = re.compile(rf"({'|'.join(ACTIVITIES)})(?: ([\d.]+) m)?")


def water_of(words: str, on: date) -> Exposure:
    """`dive 18 m, water 4 °C, jump 4 m, crown open`, on a day unless the words name another."""
    head, *special = words.split(", ")
    found = _WATER.fullmatch(head)
    if not found:
        raise ValueError(f"{head!r} is no activity")
    name, usual_m = ACTIVITIES[found[1]]
    depth_m = float(found[2]) if found[2] else usual_m
    given: dict[str, Any] = {
        "activity": name, "water": PRACTICE.activities[name].water, "depth_m": depth_m, "duration_s": 1800,
        "water_c": 80.0 if name == "sauna" else 25.0, "from_c": 30.0, "starts_on": on,
    }  # fmt: skip
    for phrase in special:
        given |= FLAGS.get(phrase) or _number_or_day(phrase)
    return exposure(**given)


def _number_or_day(phrase: str) -> dict[str, Any]:
    if found := re.fullmatch(r"(water|case) (-?[\d.]+) °C", phrase):
        return {"water_c" if found[1] == "water" else "from_c": float(found[2])}
    if found := re.fullmatch(r"jump ([\d.]+) m", phrase):
        return {"jump_m": float(found[1])}
    if found := re.fullmatch(r"(?:on|from) (.+)", phrase):
        first, last = span_of(found[1])
        return {"starts_on": first, "planned": True, "planned_to": None if first == last else last}
    raise ValueError(f"{phrase!r} says nothing of water")


# ---------------------------------------------------------------- what happened

KINDS: dict[str, dict[str, Any]] = {
    "water inside": {"kind": "water-inside"},
    "fog": {"kind": "fog"},
    "fog that sealed air explains": {"kind": "fog", "crystal_c": 5.0, "case_air_c": 21.0},
    "fog that sealed air does not explain": {"kind": "fog", "crystal_c": 18.0, "case_air_c": 21.0},
    "fog, only the crystal's temperature known": {"kind": "fog", "crystal_c": 5.0},
    "fog, only the air's temperature known": {"kind": "fog", "case_air_c": 21.0},
    "crown damaged": {"kind": "crown-damaged"},
    "crystal damaged": {"kind": "crystal-damaged"},
    "pushers damaged": {"kind": "pushers-damaged"},
    "gas valve damaged": {"kind": "gas-valve-damaged"},
    "crown repaired": {"kind": "repaired", "repaired": "crown-damaged"},
    "crystal repaired": {"kind": "repaired", "repaired": "crystal-damaged"},
    "pushers repaired": {"kind": "repaired", "repaired": "pushers-damaged"},
    "gas valve repaired": {"kind": "repaired", "repaired": "gas-valve-damaged"},
    "opened": {"kind": "opened"},
    "battery": {"kind": "battery"},
    "movement": {"kind": "movement"},
    "gaskets": {"kind": "gaskets"},
    "strap": {"kind": "strap"},
    "knock": {"kind": "knock"},
    "knock that moved something": {"kind": "knock", "moved": True},
    "condensation test passed": {"kind": "condensation-test", "passed": True},
    "condensation test failed": {"kind": "condensation-test", "passed": False},
}
_TEST = re.compile(
    r"(passed|failed)(?: (?:([\d.]+) bar|(to its mark)|(pressure not known)))? in (water|air|vacuum)"
)


@dataclass
class Told:
    """What a history amounts to, in the order in which it was told."""

    events: list[Event] = field(default_factory=list)
    exposures: list[Exposure] = field(default_factory=list)
    habits: list[Habit] = field(default_factory=list)
    plans: list[Exposure] = field(default_factory=list)


def history_of(lines: Sequence[str], marked_pa: float | None) -> Told:
    """Everything that the lines tell; entries are numbered as they come."""
    told = Told()
    for line in lines:
        when, what = line.split(": ", 1)
        numbered = 1 + len(told.events) + len(told.exposures)
        if when.startswith("from "):
            first, _, last = when.removeprefix("from ").partition(" to ")
            from_on, to_on = day_of(first), day_of(last) if last else None
            told.habits.append(
                Habit(water_of(what.removeprefix("daily "), from_on), 1.0, from_on, to_on, id=numbered)
            )
        elif when.startswith("planned "):
            first_on, last_on = span_of(when.removeprefix("planned "))
            plan = replace(water_of(what, first_on), planned=True, planned_to=last_on, id=900 + numbered)
            told.plans.append(plan)
        elif ", one visit" in when:
            on = when.split(",")[0]
            for place, one in enumerate(what.split("; ")):
                event = _event(on, one, marked_pa)
                told.events.append(replace(event, order=71 + place, id=numbered + place))
        elif (
            what.split(",")[0].rpartition(" m")[0].rsplit(" ", 1)[0] in ACTIVITIES
            or what.split(",")[0] in ACTIVITIES
        ):
            told.exposures.append(replace(water_of(what, day_of(when)), id=numbered))
        else:
            told.events.append(replace(_event(when, what, marked_pa), id=numbered))
    return told


def _event(when: str, what: str, marked_pa: float | None) -> Event:
    days, _, place = when.partition(", order ")
    given = _test_of(what, marked_pa) if _TEST.fullmatch(what) else KINDS[what]
    first, last = span_of(days)
    passed = given.get("passed") is True  # a pass counts on the first day, all else on the last
    order = int(place) if place else DAY_ORDER[given["kind"]]
    span = None if first == last else (first, last)
    return Event(**given, on=first if passed else last, order=order, span=span)


def _test_of(words: str, marked_pa: float | None) -> dict[str, Any]:
    found = _TEST.fullmatch(words)
    assert found
    outcome, bar, to_mark, _, medium = found.groups()
    pressure = marked_pa if to_mark else float(bar) * BAR if bar else None
    return {
        "kind": "pressure-test", "passed": outcome == "passed", "test_pa": pressure, "medium": medium,
        "to_mark": bool(to_mark),
    }  # fmt: skip


# ---------------------------------------------------------------- the watch


@dataclass(frozen=True)
class Case:
    """One row of a table, ready to be asked."""

    record: WatchRecord
    foretold: Any = None


def case_of(row: dict[str, Any], *, reverse: bool = False) -> Case:
    """The record that a row describes; `reverse`: its lines typed in the other order."""
    mark, use, *special = row.get("watch", DIVERS_20).split(", ")
    kind, marked_pa = _mark_of(mark)
    told_of_watch: dict[str, Any] = {"name": "It", "mark": kind, "marked_pa": marked_pa, "use": use, "id": 1}
    told_of_watch |= {"added_on": ADDED_ON, "confirmed_on": None}
    whole: dict[str, Any] = {}
    fitted, material, foretold = (FITTED_ON, FITTED_ON), "NBR", None
    for phrase in special:
        if found := re.fullmatch(r"gaskets (?:of )?(.+)", phrase):
            fitted = (
                (later_by_years(ADDED_ON, -UNKNOWN_YEARS), ADDED_ON)
                if found[1] == "unknown date"
                else span_of(found[1])
            )
        elif phrase in PRACTICE.materials:
            material = phrase
        elif found := re.fullmatch(r"chance ([\d.]+) low ([\d.]+)", phrase):
            foretold = _Foretold(float(found[1]), float(found[2]))
        else:
            _tell(phrase, told_of_watch, whole)
    told_of_watch.setdefault("recorded_from", fitted[0])
    lines = list(row.get("history", ()))
    told = history_of(lines[::-1] if reverse else lines, marked_pa)
    made = watch(**told_of_watch)
    events = list(told.events) if row.get("bare") else [_base_pass(made, kind), *told.events]
    events.sort(key=lambda e: (e.on, e.order, e.id or 0))
    logged = [e.starts_on for e in told.exposures]
    record = WatchRecord(
        watch=made,
        seals=(*seals(material, *fitted), *_fitted_by(told.events, material)),
        totals=whole.get("totals", {}),
        events=tuple(events),
        habits=tuple(told.habits),
        plans=tuple(told.plans),
        last_exposure_on=max([whole.get("last_exposure_on", LAST_WATER_ON), *logged]),
        changed_on=whole.get("changed_on"),
        clock_right_to=whole.get("clock_right_to"),
    )
    raised = history.raised_by_exposures(record, told.exposures, PRACTICE)
    return Case(replace(record, raised=tuple(raised)), foretold)


def _mark_of(words: str) -> tuple[str, float | None]:
    if words in ("unmarked", "unknown mark", "water-resistant"):
        return words.removesuffix(" mark"), None
    found = re.fullmatch(r"(diver's |mixed-gas diver's )?([\d.]+) bar", words)
    if not found:
        raise ValueError(f"{words!r} is no mark")
    kinds = {"diver's ": "divers", "mixed-gas diver's ": "divers-mixed-gas", None: "water-resistant"}
    return kinds[found[1]], float(found[2]) * BAR


def _tell(phrase: str, of_watch: dict[str, Any], of_record: dict[str, Any]) -> None:
    days = {
        "new": "new_on", "bought": "bought_on", "added": "added_on", "record from": "recorded_from",
        "confirmed": "confirmed_on", "retired": "retired_on",
    }  # fmt: skip
    of_days = {"last water": "last_exposure_on", "changed": "changed_on", "clock right to": "clock_right_to"}
    if phrase == "pushers allowed in water":
        of_watch |= {"pushers": True, "pushers_wet": True}
    elif found := re.fullmatch(r"tests every (\d+) months", phrase):
        of_watch["intervals_months"] = {"pressure-test": int(found[1])}
    elif found := re.fullmatch(r"worn ([\d.]+) h", phrase):
        of_watch |= {"worn_h": float(found[1]), "winds": 0.0}
    elif found := re.fullmatch(r"wear ([\d.]+)", phrase):
        of_record["totals"] = {3: Shares(salt=float(found[1]))}
    elif (found := re.fullmatch(r"(.+?) (\d.*)", phrase)) and found[1] in days:
        of_watch[days[found[1]]] = day_of(found[2])
    elif found and found[1] in of_days:
        of_record[of_days[found[1]]] = day_of(found[2])
    else:
        raise ValueError(f"{phrase!r} says nothing of a watch")


def _base_pass(made: Any, kind: str) -> Event:
    marked_bar = {"unmarked": 1.0, "unknown": 20.0, "water-resistant": 2.0}.get(kind, 0.0)
    pressure = 1.25 * (made.marked_pa or marked_bar * BAR)
    order = DAY_ORDER["pressure-test"]
    return Event("pressure-test", FITTED_ON, order, passed=True, test_pa=pressure, medium="water", id=500)


def _fitted_by(events: Iterable[Event], material: str) -> list[Seal]:
    found = []
    for event in (e for e in events if e.kind == "gaskets"):
        for seal in seals(material, *event.days):
            number = 100 * (event.id or 0) + (seal.id or 0)
            found.append(replace(seal, order=event.order, event_id=event.id, id=number))
    return found


class _Foretold:
    """A foresight that always says the same."""

    def __init__(self, mean: float, low: float) -> None:
        self.said = Chance(mean, low, 0.99, to_pa=10e5, tests_used=0)

    def chance_of(self, *_: object) -> Any:
        return self.said


# ---------------------------------------------------------------- what is asked, and what is said


def grave(reasons: Sequence[Reason]) -> str:
    """The verdict of reasons."""
    return max((r.verdict for r in reasons), key=rules.VERDICTS.index, default=NO_OBJECTION)


def reasons_for(whole: WatchRecord, plan: Exposure, today: date = NOW) -> list[Reason]:
    """What speaks against a plan on its last day, or today."""
    case = Judged(PRACTICE, today, None, None)
    return reasons_of(case.of(whole, plan, max(today, plan.last_day)))


def expected(verdict: str, codes: str) -> dict[str, str]:
    """`a, b: think twice` under a verdict: code to how it speaks."""
    found = {}
    for part in filter(None, codes.split(", ")):
        code, _, speaks = part.partition(": ")
        found[code] = speaks or verdict
    return found
