"""Charges exposures to seals: which seal was fitted at the time, and the six shares each exposure adds.

It works on one exposure at a time; `bulk` charges many, to the same digits.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.model.practice import Practice
from logbook.model.values import DAY_ORDER, Exposure, Habit, Position, Seal, Shares, WatchRecord
from logbook.model.wear import wear
from logbook.model.wear.clock import Spent, WornDays, spend
from logbook.model.wear.wear import Number

DayHours = Callable[[date], float]

# An exposure lasts at most two days; with the date line between them, two can overlap although their civil
# dates are up to four days apart.
TOUCH_DAYS = 4


@dataclass(frozen=True, slots=True)
class Charge:
    """What one exposure adds to one seal; `counted` when the seal's middle fitting date lies before it."""

    shares: Shares
    counted: bool


@dataclass(frozen=True, slots=True)
class Service:
    """One seal's time in service: from its fitting to the next at the same place."""

    seal: Seal
    until: tuple[date, int] | None  # date and order of the next fitting; None: still in place

    def days(self, since: date) -> tuple[int, int]:
        """The ordinals of the first day, and the day after the last, on which exposures meet this seal.

        It was fitted on `since`. A fitting with the same order in its day as the exposures comes after them,
        for the old seal and for the new.
        """
        own, (until, order) = DAY_ORDER["exposure"], self.until or (date.max, DAY_ORDER["exposure"])
        return since.toordinal() + (self.seal.order >= own), until.toordinal() + (own <= order)

    def holds(self, on: date, since: date) -> bool:
        """True when an exposure on this day meets the seal, fitted on `since`."""
        first, end = self.days(since)
        return first <= on.toordinal() < end


def middle(seal: Seal) -> date:
    """The day that stands for a fitting date known only as a range."""
    return seal.fitted_earliest + (seal.fitted_latest - seal.fitted_earliest) // 2


def services(seals: Sequence[Seal]) -> list[Service]:
    """Every seal with the end of its service, place by place, oldest first.

    The seal that a watch came with comes before any that a workshop fitted, whatever its dates say.
    """
    found = []
    for position in dict.fromkeys(s.position for s in seals):
        line = sorted(
            (s for s in seals if s.position == position),
            key=lambda s: (s.event_id is not None, middle(s), s.order, s.id or 0),
        )
        for seal, after in zip(line, [*line[1:], None], strict=True):
            found.append(Service(seal, (middle(after), after.order) if after else None))
    return found


def current_seals(seals: Sequence[Seal]) -> list[Seal]:
    """The seals in place now, in the order in which their places were first given."""
    return [service.seal for service in services(seals) if service.until is None]


def charge_exposures(
    record: WatchRecord,
    exposures: Sequence[Exposure],
    practice: Practice,
    spent: Mapping[int, Spent[float]] | None = None,
) -> dict[int, dict[int, Charge]]:
    """Exposure id -> seal id -> what it adds; `exposures` are of this watch, unplanned.

    `spent` is exposure id -> the hours that it takes. Without it, an exposure is exact only if every other
    one that begins within `TOUCH_DAYS` of it is among these. Exposures before the record's start, or before
    any known seal, are charged to nothing.
    """
    spent = spent or spend(exposures, *hours_left(record))
    in_service = services(record.seals)
    charges: dict[int, dict[int, Charge]] = {}
    for exposure in exposures:
        by_seal, on = charges.setdefault(exposure.id or 0, {}), exposure.starts_on
        if on >= record.watch.recorded_from:
            met = [s for s in in_service if s.holds(on, s.seal.fitted_earliest)]
            added = _shares(record, exposure, spent[exposure.id or 0], [s.seal for s in met], practice)
            for service, shares in zip(met, added, strict=True):
                by_seal[service.seal.id or 0] = Charge(shares, service.holds(on, middle(service.seal)))
    return charges


def _shares(
    record: WatchRecord, exposure: Exposure, spent: Spent[float], seals: Sequence[Seal], practice: Practice
) -> Iterator[Shares]:
    """The six shares of one exposure on each of these seals."""
    course = wear.course_of(exposure, practice)  # once for all seals: profiles are long
    loads = wear.loads_of(exposure, course, record.watch, practice)
    for seal in seals:
        ageing = ageing_instead(course.rate, spent, seal.material, practice)
        yield Shares(ageing, *wear.shares_of(loads, seal.position, record.watch, practice))


def ageing_instead(rate: Number, spent: Spent[Number], material: str, practice: Practice) -> Number:
    """Ageing at the mean rate of exposures, less the ageing of the wrist and storage hours that they replace.

    It is below zero for a cold dive that takes hours off a warm wrist.
    """
    worn, stored = (
        wear.ageing_share_per_hour(practice[celsius], material, practice)
        for celsius in ("worn_c", "storage_c")
    )
    return (
        spent.hours * wear.share_per_hour_at_rate(rate, material, practice)
        - spent.from_wrist_h * worn
        - spent.from_storage_h * stored
    )


def preview(record: WatchRecord, exposure: Exposure, practice: Practice) -> dict[Position, Shares]:
    """What an exposure alone would add to each seal in place; its hours come off the wrist first."""
    spent = spend([exposure], *hours_left(record))[exposure.id or 0]
    seals = current_seals(record.seals)
    added = _shares(record, exposure, spent, seals, practice)
    return {seal.position: shares for seal, shares in zip(seals, added, strict=True)}


def hours_left(record: WatchRecord) -> tuple[DayHours, DayHours]:
    """Two functions of a day: the worn hours, and all hours, that the habits of a watch leave on it."""
    worn_days = WornDays(record.watch.worn_h, record.stretches)
    charged = charged_habits(record)

    def habit_h(day: date) -> float:
        hours = 0.0  # `sum` rounds differently in different versions of the language
        for h in charged:
            if runs_on(h, day):
                hours += h.per_day * h.exposure.duration_s / 3600
        return hours

    def worn_left_h(day: date) -> float:
        return max(0.0, worn_days.hours_on(day) - habit_h(day))

    def day_left_h(day: date) -> float:
        return max(0.0, 24.0 - habit_h(day))

    return worn_left_h, day_left_h


def charged_habits(record: WatchRecord) -> list[Habit]:
    """The owner's habits from the record's start; before that, the stated use stands in for them."""
    start = record.watch.recorded_from
    return [
        replace(h, from_on=max(h.from_on, start))
        for h in record.habits
        if h.to_on is None or h.to_on >= start
    ]


def runs_on(habit: Habit, day: date) -> bool:
    """True from the first to the last day of the habit, both included."""
    return habit.from_on <= day and (habit.to_on is None or day <= habit.to_on)
