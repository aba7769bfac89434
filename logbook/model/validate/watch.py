"""Ranges and contradictions of watches, seals, workshop events, faults, habits, stretches and settings.

Each function hands the value back, its texts tidied and its numbers rounded to what is stored, or raises
BadInput with the field in `where`.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from logbook.errors import BadInput
from logbook.model.civil import checked_zone
from logbook.model.due.tasks import TASKS
from logbook.model.fields import checked_fields
from logbook.model.practice import Practice
from logbook.model.ranges import check_day, in_range, number, one_of, whole_in_range
from logbook.model.text import NAME_LENGTH, clean, listed, printable
from logbook.model.values import (
    DAMAGE,
    EVENT_KINDS,
    MEDIA,
    POSITIONS,
    Event,
    Exposure,
    Habit,
    Position,
    Seal,
    Settings,
    Watch,
    WatchRecord,
    WornStretch,
)

PA_PER_BAR = 1e5  # exact: definition of the bar
LEAST_DIVERS_BAR = 10.0  # a diver's mark starts at 100 m: ISO 6425, as secondary sources quote it
TESTS = ("pressure-test", "condensation-test")
# Damage to what not every watch has.
_OF_A_PLACE: Mapping[str, Position] = MappingProxyType({
    "pushers-damaged": "pushers", "gas-valve-damaged": "gas-valve",
})  # fmt: skip
_Fault = tuple[bool, str, str]  # is it wrong, the field, the sentence


def check_watch(watch: Watch, practice: Practice, today: date) -> Watch:
    """A watch whose mark, dates, numbers and texts can be true together."""
    name = check_name(watch.name)
    if watch.marked_pa is not None and watch.mark not in ("unmarked", "unknown"):
        in_range("mark_bar", watch.marked_pa / PA_PER_BAR, "marked_pa")
    for task, months in watch.intervals_months.items():
        one_of(task, TASKS, "task", "intervals_months")
        whole_in_range("months", months, "intervals_months")
    _raise_first(_mark_faults(watch))
    told = checked_fields(watch)
    one_of(watch.case_material, tuple(practice.cases), "case material", "case_material")
    _check_watch_days(watch, today)
    _check_years_made(watch, today)
    if watch.pushers_wet:
        _check_place("pushers", watch, "pushers_wet")
    told |= {
        "name": name,
        "marked_in": "bar" if watch.marked_pa is None else watch.marked_in,
        "reference": clean(watch.reference, "reference", "reference", NAME_LENGTH),
        "group": clean(watch.group, "group", "group", NAME_LENGTH),
        "note": clean(watch.note, "note", "note"),
    }
    return replace(watch, **told)


def _check_years_made(watch: Watch, today: date) -> None:
    """Both or neither of the years between which it may have been made, none after a purchase or today."""
    if watch.made_from is None and watch.made_to is None:
        return
    if watch.made_from is None or watch.made_to is None:
        where = "made_to" if watch.made_to is None else "made_from"
        raise BadInput("Made from when to when? Give the first and the last year, or one year.", where=where)
    first, last = watch.made_from, watch.made_to
    if last < first:
        raise BadInput(f"Made from {first} to {last}: give the earlier year first.", where="made_to")
    if last > today.year:
        raise BadInput(f"Made in {last} lies in the future: today is {today}.", where="made_to")
    if watch.first_on is not None and first > watch.first_on.year:
        bought = f"bought on {watch.first_on}"
        raise BadInput(f"Made in {first}, but {bought}: it was made before that.", where="made_from")


def check_name(name: str) -> str:
    """A nickname: 1 to 80 characters in Unicode's composed form, no colon, no control characters."""
    tidy = unicodedata.normalize("NFC", clean(name, "name", "name", NAME_LENGTH))
    if not tidy:
        raise BadInput("The name is empty: what do you call this watch?", where="name")
    if ":" in tidy:
        raise BadInput("A name has no colon: in a one-line entry the colon ends the name.", where="name")
    return tidy


def _mark_faults(watch: Watch) -> Iterable[_Fault]:
    bar = None if watch.marked_pa is None else watch.marked_pa / PA_PER_BAR
    divers = watch.mark in ("divers", "divers-mixed-gas")
    stated = "" if bar is None else f"{number(bar)} bar"
    unmarked = f"An unmarked watch states no pressure: leave out {stated}, or make the mark water-resistant."
    unknown = f"A mark with a number is not unknown: leave out {stated}, or say which mark it is."
    numberless = (
        "A diver's mark has a number: give its pressure, such as 20 bar, or its metres, such as 200 m."
    )
    too_low = (
        "A diver's mark starts at 100 m (ISO 6425, as secondary sources quote it): "
        f"{stated} is a water-resistant mark."
    )
    return (
        (watch.mark == "unmarked" and bar is not None, "mark", unmarked),
        (watch.mark == "unknown" and bar is not None, "mark", unknown),
        (divers and bar is None, "marked_pa", numberless),
        (divers and bar is not None and bar < LEAST_DIVERS_BAR, "marked_pa", too_low),
    )


def _check_watch_days(watch: Watch, today: date) -> None:
    first_on = watch.first_on
    for day, what, where in (
        (watch.bought_on, "The purchase", "bought_on"),
        (watch.new_on, "The purchase as new", "new_on"),
        (watch.added_on, "The entry into the logbook", "added_on"),
        (watch.recorded_from, "The start of the record", "recorded_from"),
    ):
        if day is not None:
            check_day(day, what, where, today=today)
    if watch.bought_on and watch.new_on and watch.new_on < watch.bought_on:
        sentence = (
            f"Bought new on {watch.new_on}, but bought on {watch.bought_on}: the new date cannot be earlier."
        )
        raise BadInput(sentence, where="new_on")
    if watch.retired_on is not None:
        check_day(watch.retired_on, "The retirement", "retired_on", today=today, first_on=first_on)
    if watch.confirmed_on is not None:
        check_day(watch.confirmed_on, "The confirmation", "confirmed_on", today=today, first_on=first_on)


def check_bought_new(record: WatchRecord, exposures: Sequence[Exposure]) -> None:
    """Raises BadInput where a watch was bought new after something that its record says of it.

    `record` has the watch and its seals as they will be; a seal counts from the last day it may have been
    fitted.
    """
    watch, new_on = record.watch, record.watch.new_on
    if new_on is None:
        return
    past = (
        *((s.fitted_latest, f"its {s.position.replace('-', ' ')} seal was fitted on") for s in record.seals),
        *((e.on, f"the record has an event ({e.kind.replace('-', ' ')}) on") for e in record.events),
        *((e.starts_on, f"the record has water ({e.activity}) on") for e in exposures),
        *((h.from_on, "the record has a habit from") for h in record.habits),
        *((s.from_on, "the record has a worn stretch from") for s in record.stretches),
    )
    day, words = min(past, key=lambda told: told[0], default=(new_on, ""))
    if day < new_on:
        sentence = f"{printable(watch.name)} cannot have been bought new on {new_on}: {words} {day}"
        raise BadInput(f"{sentence}; give that day or an earlier one.", where="new_on")


def check_seal(seal: Seal, watch: Watch, practice: Practice, today: date) -> Seal:
    """A seal that its watch has a place for, of a material in the practice, fitted on days that can be."""
    told = checked_fields(seal)
    _check_place(seal.position, watch, "position")
    one_of(seal.material, tuple(practice.materials), "material", "material")
    for day in (seal.fitted_earliest, seal.fitted_latest):
        check_day(day, f"The {seal.position} seal", "fitted", today=today)
    if seal.fitted_latest < seal.fitted_earliest:
        raise BadInput(
            f"The {seal.position} seal was fitted from {seal.fitted_earliest} to {seal.fitted_latest}: "
            f"give the earlier day first.", where="fitted",
        )  # fmt: skip
    return replace(seal, **told)


def counts_on(event: Event, first: date, last: date) -> date:
    """The day that counts of those on which it may have been: of a pass the first, of all else the last."""
    return first if event.passed else last


def check_event(
    event: Event, watch: Watch, today: date, practice: Practice | None = None, *,
    pressure_unknown: bool = False,
) -> Event:  # fmt: skip
    """A workshop event, a fault or a knock with all that its kind needs and nothing that it cannot have.

    With a `practice` the materials of new gaskets are checked against its rows. A pressure test without a
    pressure is refused unless that is said to be not known, as it is of every one that is on record so.
    """
    one_of(event.kind, EVENT_KINDS, "kind of event", "kind")
    for day in sorted({event.on, *event.days}):
        check_day(day, f"The event ({event.kind})", "on", today=today, first_on=watch.first_on)
    _check_span(event)
    _raise_first(_event_faults(event))
    if event.repaired is not None:
        one_of(event.repaired, DAMAGE, "damage to repair (fog and water need a passed test)", "repaired")
    damaged = event.repaired or event.kind
    if damaged in _OF_A_PLACE:
        _check_place(_OF_A_PLACE[damaged], watch, "kind")
    if event.kind == "pressure-test":
        _check_pressure_test(event, pressure_unknown)
    _check_gaskets(event, watch, practice)
    told = checked_fields(event) | {
        "workshop": clean(event.workshop, "workshop", "workshop", NAME_LENGTH),
        "note": clean(event.note, "note", "note"),
    }
    return replace(event, **told)


def _event_faults(event: Event) -> Iterable[_Fault]:
    kind, test = event.kind, event.kind in TESTS
    measured = (event.test_pa, event.medium, event.deflection_um) != (None, None, None) or event.to_mark
    sighted = (event.crystal_c, event.case_air_c) != (None, None)
    what = f"What was repaired? A repair names it: {listed(DAMAGE)}."
    moved = f"Only a fall or blow (knock) moves crystal, crown or bezel, not {kind}."
    return (
        (test and event.passed is None, "passed", f"Passed or failed? A {kind} needs its result."),
        (not test and event.passed is not None, "passed", f"Only a test is passed or failed, not {kind}."),
        (
            kind != "pressure-test" and measured,
            "test_pa",
            f"Only a pressure test has a pressure, not {kind}.",
        ),
        (not test and event.minutes is not None, "minutes", f"Only a test has minutes, not {kind}."),
        (
            kind != "fog" and sighted,
            "crystal_c",
            f"Only fog has temperatures of crystal and air, not {kind}.",
        ),
        (kind == "repaired" and event.repaired is None, "repaired", what),
        (
            kind != "repaired" and event.repaired is not None,
            "repaired",
            f"Only a repair repairs, not {kind}.",
        ),
        (kind == "gaskets" and not event.seals, "seals", "Which gaskets? Name the sealing places, or all."),
        (kind != "gaskets" and bool(event.seals), "seals", f"Only new gaskets list seals, not {kind}."),
        (kind != "knock" and event.moved, "moved", moved),
    )


def _check_span(event: Event) -> None:
    if event.span is None:
        return
    first, last = event.span
    if last <= first:
        raise BadInput(f"It was between {first} and {last}: give the earlier day first.", where="span")
    if event.on != counts_on(event, first, last):
        counts = f"Of {first} to {last} the day that counts is {counts_on(event, first, last)}"
        raise BadInput(
            f"{counts}, not {event.on}: a pass counts on the first, all else on the last.", where="on"
        )


def _check_pressure_test(event: Event, unknown: bool) -> None:
    if event.test_pa is None:
        if event.to_mark:
            raise BadInput("A test to its mark has the pressure of that mark.", where="test_pa")
        if not unknown:
            ways = "Give it, such as 10 bar, or say that it was to its mark, or that it is not known"
            raise BadInput(f"To what pressure was it {_result(event)}? {ways}.", where="test_pa")
        if event.medium is not None:
            one_of(event.medium, MEDIA, "medium of a pressure test", "medium")
        return
    if event.to_mark and event.medium == "vacuum":
        raise BadInput("No vacuum is a test to its mark: give how deep it was, in bar.", where="medium")
    if event.medium is None:
        raise BadInput("Was it tested in air, vacuum or water? A pressure needs its medium.", where="medium")
    medium = one_of(event.medium, MEDIA, "medium of a pressure test", "medium")
    in_range("vacuum_bar" if medium == "vacuum" else "test_bar", event.test_pa / PA_PER_BAR, "test_pa")


def _result(event: Event) -> str:
    return "passed" if event.passed else "failed"


def _check_gaskets(event: Event, watch: Watch, practice: Practice | None) -> None:
    places = [position for position, _ in event.seals]
    for position, material in event.seals:
        _check_place(one_of(position, POSITIONS, "sealing place", "seals"), watch, "seals")
        if practice is not None:
            one_of(material, tuple(practice.materials), "material", "seals")
        if places.count(position) > 1:
            raise BadInput(f"The {position} seal is listed twice; once is right.", where="seals")


def _check_place(position: str, watch: Watch, where: str) -> None:
    missing = {"pushers": not watch.pushers, "gas-valve": not watch.gas_valve}
    if missing.get(position, False):
        thing = "pushers" if position == "pushers" else "gas valve"
        sentence = f"{printable(watch.name)} has no {thing}: leave it out, or give the watch one first."
        raise BadInput(sentence, where=where)


def check_habit(habit: Habit, watch: Watch, today: date) -> Habit:
    """A habit that begins by today, ends after it begins, and repeats a number of times that can be."""
    told = checked_fields(habit)
    check_day(habit.from_on, "The habit", "from_on", today=today, first_on=watch.first_on)
    if habit.to_on is not None:
        check_day(habit.to_on, "The end of the habit", "to_on", today=today, ahead=True)
        _check_order(habit.from_on, habit.to_on, "habit")
    if habit.exposure.planned or habit.exposure.profile:
        raise BadInput("A habit repeats a plain exposure, not a planned one or a profile.", where="exposure")
    return replace(habit, **told)


def check_stretch(stretch: WornStretch, watch: Watch, today: date) -> WornStretch:
    """A worn stretch in the past, of at most 24 hours a day, that ends after it begins."""
    told = checked_fields(stretch)
    check_day(stretch.from_on, "The worn stretch", "from_on", today=today, first_on=watch.first_on)
    check_day(stretch.to_on, "The worn stretch", "to_on", today=today)
    _check_order(stretch.from_on, stretch.to_on, "worn stretch")
    return replace(stretch, **told)


def check_settings(settings: Settings) -> Settings:
    """Settings whose home water, zone and units can be."""
    home = settings.home
    monthly_c = home.monthly_c
    if monthly_c is not None:
        if len(monthly_c) != 12:
            sentence = f"The home water has {len(monthly_c)} temperatures; it needs 12, January first."
            raise BadInput(sentence, where="monthly_c")
        monthly_c = tuple(round(in_range("water_c", celsius, "monthly_c"), 3) + 0.0 for celsius in monthly_c)
    checked_zone(settings.zone)
    home = replace(home, **checked_fields(home), monthly_c=monthly_c)
    return Settings(home, **checked_fields(settings))


def _check_order(from_on: date, to_on: date, what: str) -> None:
    if to_on < from_on:
        raise BadInput(f"The {what} ends on {to_on}, before it begins on {from_on}; give the later day last.",
                       where="to_on")  # fmt: skip


def _raise_first(faults: Iterable[_Fault]) -> None:
    for wrong, where, sentence in faults:
        if wrong:
            raise BadInput(sentence, where=where)
