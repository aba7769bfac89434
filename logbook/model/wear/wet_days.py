"""Days with water: what was logged or repeated on each, what it cost, and round steps to rank them by.

Hot air is not water: a sauna does not make a wet day, and its cost is not counted here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from logbook.model.practice import Practice
from logbook.model.values import Exposure, Habit, Position, WatchRecord
from logbook.model.wear import charge
from logbook.model.wear.account import Clockwork, habit_costs

LEAST_SHARE = 5e-6  # of an interval; a day that costs less is 0 in words too
LEVELS = 4
ONE = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class WetDay:
    """What a watch met on one civil day: `count` entries that took `duration_s`, habits that took `habit_s`.

    `share` is what all of it added to the seal in one place.
    """

    on: date
    count: int
    duration_s: int
    share: float = 0.0
    habit_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Year:
    """The wet days of a watch in a calendar year, oldest first, and the habits that ran in it.

    `heat_days` have an entry in hot air.
    """

    year: int
    days: tuple[WetDay, ...]
    habits: tuple[Habit, ...] = ()
    heat_days: int = 0

    @property
    def logged(self) -> tuple[WetDay, ...]:
        """The days with an entry of their own."""
        return tuple(day for day in self.days if day.count)

    @property
    def undrawn(self) -> tuple[Habit, ...]:
        """Habits in water that repeat less than once a day, so that their days are not known."""
        return tuple(h for h in self.habits if is_water(h.exposure) and h.per_day < 1)

    def may_be_wet(self, day: date) -> bool:
        """True when a habit in water runs on a day: it may be wet although nothing is drawn on it."""
        return any(is_water(habit.exposure) and charge.runs_on(habit, day) for habit in self.habits)

    @property
    def by_cost(self) -> bool:
        """True when days are ranked by cost; False: by minutes."""
        return any(day.share > LEAST_SHARE for day in self.days)

    @property
    def share(self) -> float:
        """What the days added in all."""
        return sum(day.share for day in self.days)

    @property
    def duration_s(self) -> int:
        """How long the entries took in all."""
        return sum(day.duration_s for day in self.days)

    def size(self, day: WetDay) -> float:
        """The size of a day: its cost in parts of 100, or its minutes."""
        return 100 * day.share if self.by_cost else (day.duration_s + day.habit_s) / 60

    @property
    def greatest(self) -> WetDay | None:
        """The costliest or the longest day; the first of equal ones."""
        return max(self.days, key=self.size, default=None)

    @property
    def steps(self) -> tuple[float, ...]:
        """Where the second, third and fourth level begin, in round numbers; some day reaches the last."""
        greatest = self.greatest
        return round_steps(self.size(greatest)) if greatest else ()

    def level(self, day: WetDay) -> int:
        """1 for the days that cost least, to 4."""
        return 1 + sum(self.size(day) >= step for step in self.steps)

    @property
    def most_in(self) -> tuple[int, int]:
        """The month with the most logged days, and how many; the first of equal ones. (0, 0) without any."""
        months = Counter(day.on.month for day in self.logged)
        return max(months.items(), key=lambda found: (found[1], -found[0]), default=(0, 0))


def is_water(exposure: Exposure) -> bool:
    """True for every contact but those with hot air."""
    return exposure.water != "air"


def year_of(
    year: int,
    logged: Sequence[WetDay],
    heat_days: int,
    record: WatchRecord,
    position: Position | None,
    practice: Practice,
    today: date,
) -> Year:
    """A year of logged days and of habits, as the seals in `position` are charged for them.

    A habit counts from the start of the record up to yesterday; where it repeats less than once a day, its
    days are not known.
    """
    first, last = date(year, 1, 1), min(date(year, 12, 31), today)
    clockwork = Clockwork.of(record, practice)
    habits = [h for h in clockwork.habits if h.from_on <= last and (h.to_on is None or h.to_on >= first)]
    days = {day.on: day for day in logged}
    end = today if last == today else last + ONE
    for begin, stop, habit_s, share in _habit_runs(clockwork, habits, position, first, end):
        for n in range((stop - begin).days):
            on = begin + timedelta(days=n)
            day = days.get(on) or WetDay(on, 0, 0)
            days[on] = replace(day, share=day.share + share, habit_s=habit_s)
    return Year(year, tuple(days[on] for on in sorted(days)), tuple(habits), heat_days)


def _habit_runs(
    clockwork: Clockwork, habits: Sequence[Habit], position: Position | None, first: date, end: date
) -> Iterator[tuple[date, date, float, float]]:
    """Runs of days before `end`: first day, day after the last, and what habits took and added a day."""
    daily = [h for h in habits if is_water(h.exposure) and h.per_day >= 1]
    there = [s for s in charge.services(clockwork.record.seals) if s.seal.position == position]
    breaks = [day for h in habits for day in (h.from_on, *([h.to_on + ONE] if h.to_on else []))]
    breaks += [charge.middle(service.seal) for service in there]
    for begin, stop, _ in clockwork.worn_days.regimes(first, end, breaks):
        running = [h for h in daily if charge.runs_on(h, begin)]
        if not running:
            continue
        in_place = [s.seal for s in there if charge.middle(s.seal) <= begin]
        share = 0.0
        for seal in in_place[-1:]:
            costs = habit_costs(clockwork, seal, habits, begin, begin + ONE)
            share = sum(s.total for met, times, s in costs if is_water(met) and times >= 1)
        yield begin, stop, sum(h.per_day * h.exposure.duration_s for h in running), share


def round_steps(greatest: float) -> tuple[float, ...]:
    """Once, twice and three times a one-digit number, the last at or below `greatest`."""
    if greatest <= 0:
        return ()
    ladder = (float(f"{digit}e{power}") for power in range(-5, 6) for digit in (1, 2, 3, 4, 5, 6, 8))
    step = max((step for step in ladder if step * (LEVELS - 1) <= greatest), default=0.0)
    return tuple(float(f"{step * n:.6g}") for n in range(1, LEVELS)) if step else ()


def weeks_of(year: int) -> Sequence[Sequence[date | None]]:
    """The weeks of a calendar year, each from Monday to Sunday; None for days of the years around it."""
    first, last = date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal()
    monday = first - (first - 1) % 7  # ordinal 1 is a Monday
    return [
        [date.fromordinal(day) if first <= day <= last else None for day in range(begin, begin + 7)]
        for begin in range(monday, last + 1, 7)
    ]
