"""Reads the scenario into plain values for one day: settings, watches, the story of each; writes nothing."""

from __future__ import annotations

import tomllib
from calendar import monthrange
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random
from typing import Any

from logbook.demo.blocks import (
    DAYS,
    FLAG,
    MATERIALS,
    NUMBER,
    NUMBERS,
    SEAL_TABLES,
    SPAN,
    TABLE,
    TABLES,
    TASK_DAYS,
    TASK_MONTHS,
    TEXT,
    WHOLE,
    Block,
    Kind,
)
from logbook.demo.profiles import Shape, shape_of
from logbook.demo.waters import Pool, exposures_of, habits_of, plans_of, spread_days
from logbook.errors import BadInput
from logbook.model.due.tasks import TASKS
from logbook.model.fitting import Fitted, initial_seals, last_pass_on, places
from logbook.model.practice import Practice
from logbook.model.validate.exposure import check_seal, check_settings, check_stretch, check_watch
from logbook.model.validate.make_event import make_event
from logbook.model.values import (
    Event,
    Exposure,
    Habit,
    HomeWater,
    Position,
    Seal,
    Settings,
    Watch,
    WornStretch,
)

PA_PER_BAR = 1e5  # exact: definition of the bar
WORE_H = 12.0  # of a day on which a watch in a rotation was on the wrist

_TOP: Mapping[str, Kind] = {"seed": TEXT, "home": TABLE, "profiles": TABLE, "watches": TABLES}
_HOME: Mapping[str, Kind] = {
    "salinity": NUMBER, "latitude_deg": NUMBER, "altitude_m": NUMBER, "monthly_c": NUMBERS, "zone": TEXT,
    "units": TEXT,
}  # fmt: skip
_WATCH: Mapping[str, Kind] = {
    "name": TEXT, "mark": TEXT, "bar": NUMBER, "marked_in": TEXT, "crown": TEXT, "pushers": FLAG,
    "gas_valve": FLAG, "seals": TEXT, "seal": SEAL_TABLES, "case": TEXT, "movement": TEXT, "use": TEXT,
    "fitted": SPAN, "made_from": WHOLE, "made_to": WHOLE, "new_on": DAYS, "bought": DAYS, "added": DAYS,
    "recorded_from": DAYS, "worn": NUMBER, "winds": NUMBER, "presses": NUMBER, "reference": TEXT,
    "note": TEXT, "group": TEXT, "retired": DAYS, "confirmed": DAYS, "intervals": TASK_MONTHS,
    "snoozed": TASK_DAYS, "wore": TABLE, "routine": TABLES, "single": TABLES, "plan": TABLES,
    "habit": TABLES, "worn_stretch": TABLES, "event": TABLES,
}  # fmt: skip
_SEAL: Mapping[str, Kind] = {"material": TEXT, "fitted": SPAN}
_STRETCH: Mapping[str, Kind] = {"from": DAYS, "to": DAYS, "hours": NUMBER}
_WORE: Mapping[str, Kind] = {"from": DAYS, "to": DAYS, "times": WHOLE}
_EVENT: Mapping[str, Kind] = {
    "kind": TEXT, "on": DAYS, "in_month": DAYS, "passed": FLAG, "bar": NUMBER, "to_mark": FLAG,
    "pressure_unknown": FLAG, "medium": TEXT, "minutes": NUMBER, "deflection_um": NUMBER, "repaired": TEXT,
    "moved": FLAG, "crystal_c": NUMBER, "case_air_c": NUMBER, "workshop": TEXT, "note": TEXT,
    "seals": MATERIALS,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Story:
    """One watch with everything that ever happened to it; the record gives the ids."""

    watch: Watch
    seals: tuple[Seal, ...]  # those it came with
    events: tuple[Event, ...]  # oldest first
    exposures: tuple[Exposure, ...]  # oldest first
    plans: tuple[Exposure, ...]
    habits: tuple[Habit, ...]
    stretches: tuple[WornStretch, ...]
    snoozed: Mapping[str, date]  # task -> silent until


@dataclass(frozen=True, slots=True)
class Scenario:
    """The whole collection as of one day."""

    settings: Settings
    stories: tuple[Story, ...]


def read_scenario(text: str, today: date, practice: Practice) -> Scenario:
    """The scenario in `text` with its days counted back from `today`.

    The same text and day give equal values. Raises BadInput naming the watch and the key at fault.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"The scenario is not valid TOML: {error}.", where="scenario") from None
    top = Block(data, "the file", today).checked(_TOP, "seed", "home", "watches")
    settings = _settings(Block(top.get("home"), "home", today).checked(_HOME))
    shapes = {
        name: shape_of(Block(points, f"profile {name!r}", today))
        for name, points in top.get("profiles", {}).items()
    }
    stories = [_story(block, top.get("seed"), settings, shapes, practice) for block in _watches(top)]
    return Scenario(settings, tuple(stories))


def _watches(top: Block) -> list[Block]:
    blocks = []
    for n, values in enumerate(top.get("watches"), 1):
        name = values.get("name")
        place = f"watch {name!r}" if isinstance(name, str) else f"watch {n}"
        blocks.append(Block(values, place, top.today).checked(_WATCH, "name", "mark", "added", "seals"))
    return blocks


def _settings(block: Block) -> Settings:
    home = block.given("salinity", "latitude_deg", "altitude_m", "monthly_c")
    if "monthly_c" in home:
        home["monthly_c"] = tuple(home["monthly_c"])
    with block.blamed("monthly_c"):
        return check_settings(Settings(home=HomeWater(**home), **block.given("zone", "units")))


def _story(
    block: Block, seed: str, settings: Settings, shapes: Mapping[str, Shape], practice: Practice
) -> Story:
    watch = _watch(block, practice)
    pool = Pool(watch, settings, practice, shapes, seed)
    events = sorted(_events(block, watch, practice), key=lambda e: (e.on, e.order))
    return Story(
        watch=watch,
        seals=_seals(block, watch, events, practice),
        events=tuple(events),
        exposures=tuple(exposures_of(block, pool)),
        plans=tuple(plans_of(block, pool)),
        habits=tuple(habits_of(block, pool)),
        stretches=(*_stretches(block, watch), *_wore(block, seed)),
        snoozed=_snoozed(block),
    )


def _watch(block: Block, practice: Practice) -> Watch:
    renamed = {"case": "case_material", "worn": "worn_h"}
    plain = block.given(
        "name", "mark", "crown", "pushers", "gas_valve", "case", "movement", "use", "worn", "winds",
        "presses", "reference", "note", "group", "marked_in", "made_from", "made_to",
    )  # fmt: skip
    values: dict[str, Any] = {renamed.get(key, key): value for key, value in plain.items()}
    added = block.ago("added")
    bar = block.get("bar")
    with block.blamed("name"):
        watch = Watch(
            marked_pa=None if bar is None else bar * PA_PER_BAR,
            added_on=added,
            recorded_from=block.day("recorded_from") or added,
            bought_on=block.day("bought"),
            new_on=block.day("new_on"),
            retired_on=block.day("retired"),
            confirmed_on=block.day("confirmed"),
            intervals_months=block.get("intervals", {}),
            **values,
        )
        return check_watch(watch, practice, block.today)


def _seals(block: Block, watch: Watch, events: Sequence[Event], practice: Practice) -> tuple[Seal, ...]:
    """The seals that the watch came with, including those listed one by one."""
    single: dict[Position, Fitted] = {}
    for place, told in block.get("seal", {}).items():
        if place not in places(watch):
            raise block.fault(
                f"seal.{place}", f"there is no such place; there are {', '.join(places(watch))}."
            )
        inner = Block(told, f"{block.place}, seal.{place}", block.today).checked(_SEAL)
        single[place] = Fitted(inner.get("material"), *inner.days("fitted"))
    materials = {block.get("seals"), *(f.material for f in single.values() if f.material)}
    for material in sorted(materials - set(practice.materials)):
        raise block.fault("seals", f"{material!r} is no material; there are {', '.join(practice.materials)}.")
    with block.blamed("seals"):
        told_all = Fitted(block.get("seals"), *block.days("fitted"))
        made = initial_seals(watch, block.get("seals"), told_all, single, last_pass=last_pass_on(events))
        return tuple(check_seal(seal, watch, practice, block.today) for seal in made)


def _events(block: Block, watch: Watch, practice: Practice) -> list[Event]:
    found = []
    for inner in block.inner("event", _EVENT, "kind"):
        bar, days = inner.get("bar"), _event_days(inner)
        with inner.blamed("kind"):
            event = make_event(
                inner.get("kind"), watch, block.today, practice, **days,
                test_pa=None if bar is None else bar * PA_PER_BAR,
                seals=_new_seals(inner.get("seals", {}), watch),
                **inner.given("passed", "to_mark", "pressure_unknown", "medium", "moved", "minutes",
                              "deflection_um", "repaired", "crystal_c", "case_air_c", "workshop", "note"),
            )  # fmt: skip
            found.append(event)
    return found


def _event_days(block: Block) -> dict[str, Any]:
    """The day of an event, or its calendar month where no more is known."""
    if ("on" in block.values) == ("in_month" in block.values):
        raise block.fault("on", "give the day, or else the month that in_month falls in.")
    if "on" in block.values:
        return {"on": block.ago("on")}
    day = block.ago("in_month")
    last = day.replace(day=monthrange(day.year, day.month)[1])
    return {"span": (day.replace(day=1), min(last, block.today))}


def _new_seals(told: str | Mapping[Position, str], watch: Watch) -> tuple[tuple[Position, str], ...]:
    """One material for all places, or place by place."""
    if isinstance(told, str):
        return tuple((position, told) for position in places(watch))
    return tuple(told.items())


def _stretches(block: Block, watch: Watch) -> list[WornStretch]:
    found = []
    for inner in block.inner("worn_stretch", _STRETCH, "from", "to", "hours"):
        first, last = inner.ago("from"), inner.ago("to")
        with inner.blamed("from"):
            stretch = WornStretch(first, last, float(inner.get("hours")))
            found.append(check_stretch(stretch, watch, block.today))
    return found


def _wore(block: Block, seed: str) -> list[WornStretch]:
    """The single days on which a watch in a rotation was worn, no day twice."""
    if "wore" not in block.values:
        return []
    inner = Block(block.get("wore"), f"{block.place}, wore", block.today).checked(
        _WORE, "from", "to", "times"
    )
    first, last, times = inner.get("from"), inner.get("to"), inner.get("times")
    if not 1 <= times <= first - last + 1:
        raise inner.fault("times", f"{times} days do not fit between {first} and {last} days ago.")
    agos = dict.fromkeys(spread_days(first, last, times, Random(f"{seed}, {inner.place}")))
    days = [block.today - timedelta(days=ago) for ago in agos]
    return [WornStretch(day, day, WORE_H) for day in days]


def _snoozed(block: Block) -> dict[str, date]:
    """Task -> the day until which its due item is snoozed."""
    found = {}
    for task, ahead in block.get("snoozed", {}).items():
        if task not in TASKS:
            raise block.fault(f"snoozed.{task}", f"there is no such task; there are {', '.join(TASKS)}.")
        found[task] = block.today + timedelta(days=ahead)
    return found
