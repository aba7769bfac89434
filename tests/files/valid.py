"""Values as the validators let them pass, drawn by hypothesis, and whole records made of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from logbook.errors import BadInput
from logbook.model import values as v
from logbook.model.fitting import Fitted, initial_seals, places
from logbook.model.practice import Practice
from logbook.model.text import NAME_LENGTH, clean
from logbook.model.validate.exposure import make_exposure
from logbook.model.validate.watch import check_event, check_habit, check_settings, check_stretch, check_watch
from logbook.record.file.store import Store
from logbook.record.writing import events, exposures, habits, settings, snoozes, watches
from tests.hostile import HOSTILE
from tests.record.making import all_settings, profiles, stretches, thousandths, times

TODAY = date(2024, 6, 1)
days = st.dates(date(2022, 1, 1), date(2024, 5, 31))
ZONES = ["UTC", "Europe/Berlin", "Pacific/Apia", "Asia/Kathmandu"]


def _passes(text: str, limit: int) -> bool:
    try:
        clean(text, "text", "text", limit)
    except BadInput:
        return False
    return True


def texts(limit: int = 60) -> st.SearchStrategy[str]:
    """Whatever a person may have typed, hostile or not, as it is kept."""
    hostile = [text for text in HOSTILE if _passes(text, limit)]
    typed = st.text(max_size=20).filter(lambda text: _passes(text, limit))
    return (st.sampled_from(hostile) | typed | st.just("")).map(
        lambda text: clean(text, "text", "text", limit)
    )


names = texts(NAME_LENGTH).filter(lambda name: bool(name) and ":" not in name)


@st.composite
def a_watch(draw: Any, practice: Practice) -> v.Watch:
    mark = draw(st.sampled_from(v.MARK_KINDS))
    low, high = (100, 2000) if mark.startswith("divers") else (1, 2000)
    marked = st.integers(low, high).map(lambda tenth: tenth * 1e4 * (10 if low == 100 else 1))
    numberless = mark in ("unmarked", "unknown")
    maybe_day = st.none() | days
    has_pushers = draw(st.booleans())
    made = sorted(draw(st.tuples(st.integers(1900, 2021), st.integers(1900, 2021))))
    made_from, made_to = made if draw(st.booleans()) else (None, None)
    return check_watch(v.Watch(
        name=draw(names), mark=mark,
        marked_pa=None if numberless else draw(marked if mark.startswith("divers") else st.none() | marked),
        added_on=draw(days), recorded_from=draw(days), crown=draw(st.sampled_from(v.CROWNS)),
        pushers=has_pushers, pushers_wet=has_pushers and draw(st.booleans()), gas_valve=draw(st.booleans()),
        made_from=made_from, made_to=made_to, marked_in=draw(st.sampled_from(v.MARK_UNITS)),
        case_material=draw(st.sampled_from(sorted(practice.cases))),
        movement=draw(st.sampled_from(v.MOVEMENTS)), use=draw(st.sampled_from(v.USES)),
        bought_on=draw(st.none() | st.just(date(2021, 5, 1))),
        worn_h=draw(st.integers(0, 1440)) / 60, winds=draw(thousandths(0, 1000)),
        presses=draw(thousandths(0, 1000)), reference=draw(texts(NAME_LENGTH)), note=draw(texts()),
        group=draw(texts(NAME_LENGTH)), retired_on=draw(maybe_day), confirmed_on=draw(maybe_day),
        intervals_months=draw(st.dictionaries(st.sampled_from(["battery", "strap"]), st.integers(1, 600))),
    ), practice, TODAY)  # fmt: skip


@st.composite
def an_exposure(draw: Any, practice: Practice, watch: v.Watch, *, profile: bool = True) -> v.Exposure:
    """An exposure as any entry makes it, under whatever home water its owner had on that day."""
    home = draw(all_settings())
    row = practice.activities[draw(st.sampled_from(sorted(practice.activities)))]
    air = row.water == "air"
    points = draw(profiles()) if profile and not air else ()
    starts_at = draw(st.none() | times)
    depth_m = 0.0 if air else draw(thousandths(max((p.depth_m for p in points), default=0), 400))
    waters = [water for water in v.WATERS if (water == "air") == air]
    water = draw(st.sampled_from(waters))
    planned = draw(st.booleans()) if draw(st.booleans()) else False
    starts_on = draw(days)
    wet = not air and depth_m > 0
    uses = st.integers(0, 100)
    salinity = draw(thousandths(0, 360)) if water in ("sea", "brackish") else None
    try:
        return make_exposure(
            practice, home, activity=row.name, starts_on=starts_on, today=TODAY, water=water,
            depth_m=depth_m, basis=draw(st.sampled_from(v.BASES)),
            duration_s=draw(st.integers(max([60, *(int(p.time_s) + 1 for p in points)]), 2880 * 60)),
            salinity=salinity, density_kg_m3=draw(thousandths(1000, 1400)) if (salinity or 0) > 42 else None,
            crown_open=draw(st.booleans()), pushers_open=watch.pushers and draw(st.booleans()),
            water_c=draw(st.none() | thousandths(-3, 60)), water_c_assumed=draw(st.booleans()),
            from_c=draw(thousandths(-20, 70)), dips=draw(st.integers(1, 500)), rinsed=draw(st.booleans()),
            crown_wet=draw(uses), crown_under=draw(uses) if wet else 0,
            pusher_wet=draw(uses) if watch.pushers else 0,
            pusher_under=draw(uses) if watch.pushers and wet else 0,
            jump_m=0.0 if air else draw(thousandths(0, 30)), starts_at=starts_at,
            zone=draw(st.sampled_from(ZONES)) if starts_at or draw(st.booleans()) else None,
            note=draw(texts(200)), profile=points, planned=planned,
            planned_to=starts_on + timedelta(days=3) if planned and draw(st.booleans()) else None,
            watch=watch,
        )  # fmt: skip
    except BadInput as error:  # a time that a change of the clocks skipped
        assume("did not exist" not in error.message)
        raise


@st.composite
def an_event(draw: Any, practice: Practice, watch: v.Watch) -> v.Event:
    kinds = [
        k
        for k in v.EVENT_KINDS
        if (k != "pushers-damaged" or watch.pushers) and (k != "gas-valve-damaged" or watch.gas_valve)
    ]
    kind = draw(st.sampled_from(kinds))
    there = places(watch)
    mended = [d for d in v.DAMAGE if d in kinds]
    pressure, test, fog = kind == "pressure-test", kind.endswith("-test"), kind == "fog"
    passed = draw(st.booleans()) if test else None
    test_pa = draw(st.integers(1, 100_000).map(float)) if pressure and draw(st.booleans()) else None
    brought = draw(st.lists(st.sampled_from(there), unique=True, min_size=1)) if kind == "gaskets" else []
    materials = st.sampled_from(sorted(practice.materials))
    on = draw(days)
    span = (on, on + timedelta(days=draw(st.integers(1, 400))))
    span = span if draw(st.booleans()) and span[1] <= TODAY else None
    medium = draw(st.sampled_from(v.MEDIA)) if test_pa is not None else None
    return check_event(v.Event(
        kind=kind, on=span[1] if span and not passed else on, span=span, order=draw(st.integers(0, 100)),
        passed=passed, test_pa=test_pa, medium=medium,
        to_mark=draw(st.booleans()) if medium in ("air", "water") else False,
        moved=draw(st.booleans()) if kind == "knock" else False,
        minutes=draw(st.none() | st.integers(1, 600_000).map(lambda s: s / 60)) if test else None,
        deflection_um=draw(st.none() | thousandths(-5000, 5000)) if pressure and test_pa else None,
        repaired=draw(st.sampled_from(mended)) if kind == "repaired" else None,
        crystal_c=draw(st.none() | thousandths(-45, 60)) if fog else None,
        case_air_c=draw(st.none() | thousandths(-45, 60)) if fog else None,
        workshop=draw(texts(NAME_LENGTH)), note=draw(texts(200)),
        seals=tuple((place, draw(materials)) for place in brought),
    ), watch, TODAY, practice, pressure_unknown=True)  # fmt: skip


@st.composite
def a_habit(draw: Any, practice: Practice, watch: v.Watch) -> v.Habit:
    contact = draw(an_exposure(practice, watch, profile=False))
    assume(not contact.planned)
    first = contact.starts_on
    contact = replace(contact, starts_at=None, zone="UTC", utc_offset_s=None)
    to_on = draw(st.none() | st.integers(0, 400).map(lambda n: first + timedelta(days=n)))
    return check_habit(v.Habit(contact, draw(st.integers(1, 350_000)) / 7000, first, to_on), watch, TODAY)


@dataclass(frozen=True)
class Story:
    """One watch and all that is on record of it."""

    watch: v.Watch
    seals: tuple[v.Seal, ...]
    events: tuple[v.Event, ...]
    exposures: tuple[v.Exposure, ...]
    habits: tuple[v.Habit, ...]
    stretches: tuple[v.WornStretch, ...]


@st.composite
def stories(draw: Any, practice: Practice, *, profile: bool = True) -> Story:
    watch = draw(a_watch(practice))
    material = draw(st.sampled_from(sorted(practice.materials)))
    span = draw(st.none() | st.tuples(days, st.integers(0, 300)))
    fitted = Fitted() if span is None else Fitted(None, span[0], min(span[0] + timedelta(span[1]), TODAY))

    def some(of: st.SearchStrategy[Any], most: int = 3) -> tuple[Any, ...]:
        return tuple(draw(st.lists(of, max_size=most)))

    return Story(
        watch, initial_seals(watch, material, fitted, {}), some(an_event(practice, watch)),
        some(an_exposure(practice, watch, profile=profile), 4), some(a_habit(practice, watch), 2),
        tuple(check_stretch(one, watch, TODAY) for one in some(stretches()) if one.to_on <= TODAY),
    )  # fmt: skip


@st.composite
def records(draw: Any, practice: Practice) -> tuple[v.Settings, list[Story]]:
    told = draw(st.lists(stories(practice), max_size=3, unique_by=lambda s: s.watch.name.casefold()))
    return check_settings(draw(all_settings())), told


def write(store: Store, home: v.Settings, told: list[Story], practice: Practice) -> None:
    """Puts a record together through the record's own services, action by action."""
    for story in told:
        id_ = watches.add(store, story.watch, story.seals, [], practice)
        for event in story.events:
            events.add(store, [replace(event, watch_id=id_)], practice)
        if story.exposures:
            exposures.add(store, [replace(e, watch_id=id_) for e in story.exposures], practice)
        for habit in story.habits:
            inner = replace(habit.exposure, watch_id=id_)
            habits.add_habit(store, replace(habit, watch_id=id_, exposure=inner), practice)
        if story.stretches:
            habits.add_stretches(store, [replace(s, watch_id=id_) for s in story.stretches], practice)
        snoozes.snooze(store, f"{id_}:strap:2024-01-01", TODAY)
    settings.write(store, home)
