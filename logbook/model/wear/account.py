"""A seal's account up to a day: the ledger's totals and one closed-form step for all that runs by the clock.

The step covers worn and stored hours, dry crown and pusher uses, repeated exposures, and the stated use of
the time before the log began. Its cost does not depend on how many exposures there are.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property, partial

from logbook.model.practice import Practice
from logbook.model.values import Basis, Exposure, Habit, Seal, Shares, WatchRecord
from logbook.model.wear import charge, wear
from logbook.model.wear.clock import Spent, WornDays
from logbook.physics import water

DAYS_A_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class Clockwork:
    """What runs by the clock on one watch, worn hours and repeated exposures, made once for all its seals."""

    record: WatchRecord
    practice: Practice
    worn_days: WornDays
    habits: Sequence[Habit]
    stated: Sequence[Habit]

    @classmethod
    def of(cls, record: WatchRecord, practice: Practice) -> Clockwork:
        """The clockwork of a watch."""
        worn_days = WornDays(record.watch.worn_h, record.stretches)
        return cls(
            record, practice, worn_days, charge.charged_habits(record), stated_habits(record, practice)
        )


@dataclass(frozen=True)
class SealWear:
    """A seal's wear shares since it was fitted, and what its unknown history leaves open.

    `assumed` is the part of `shares` that comes from the stated use. `cap_on` is the day its material passes
    the storage age, counted from the middle of its fitting dates; `cap_at_the_earliest`, by which gaskets
    are due, is counted from the earliest.
    """

    seal: Seal
    shares: Shares
    assumed: Shares
    cap_on: date
    cap_at_the_earliest: date
    _history: Callable[[], tuple[float, float]] = field(repr=False, compare=False)

    @property
    def wear_share(self) -> float:
        """D, the sum of the six channels."""
        return self.shares.total

    @cached_property
    def history(self) -> tuple[float, float]:
        """The wear share if the seal were as young, or as old, as its dates allow, stated use ÷/× the spread.

        Worked out only when first asked for: a Shelf of many watches does not show it.
        """
        return self._history()

    @property
    def history_low(self) -> float:
        """The lower end of `history`."""
        return self.history[0]

    @property
    def history_high(self) -> float:
        """The upper end of `history`."""
        return self.history[1]

    @property
    def history_is_open(self) -> bool:
        """True when part of the share rests on an uncertain date or on stated use."""
        return self.history_high - self.history_low > 1e-9


def seal_wear(record: WatchRecord, seal: Seal, practice: Practice, on: date) -> SealWear:
    """The account of one seal at the start of a day, from the totals of `record` and the clock."""
    return account_of(Clockwork.of(record, practice), seal, on)


def account_of(clockwork: Clockwork, seal: Seal, on: date) -> SealWear:
    """`seal_wear` with the clockwork of the watch at hand."""
    totals = _totals(clockwork, seal)
    fitted = charge.middle(seal)
    running, assumed = _since(clockwork, seal, fitted, on)
    shares = totals.plus(running).plus(assumed)
    cap_years = clockwork.practice.material(seal.material).cap_years
    cap_on = later_by_years(fitted, cap_years)
    known = seal.fitted_earliest == fitted
    return SealWear(
        seal=seal,
        shares=shares,
        assumed=assumed,
        cap_on=cap_on,
        cap_at_the_earliest=cap_on if known else later_by_years(seal.fitted_earliest, cap_years),
        _history=partial(_history, clockwork, seal, on),
    )


def _totals(clockwork: Clockwork, seal: Seal, *, doubtful: bool = False) -> Shares:
    """What exposures add since the middle fitting date, or since the earliest with the doubtful ones."""
    record, key = clockwork.record, seal.id or 0
    totals = record.totals.get(key, Shares())
    return totals.plus(record.doubtful.get(key, Shares())) if doubtful else totals


def _at_the_earliest(clockwork: Clockwork, seal: Seal, on: date, stated_times: float) -> float:
    """The wear share if it had been fitted on its earliest date, with the stated use multiplied."""
    running, assumed = _since(clockwork, seal, seal.fitted_earliest, on)
    return _totals(clockwork, seal, doubtful=True).total + running.total + stated_times * assumed.total


def _history(clockwork: Clockwork, seal: Seal, on: date) -> tuple[float, float]:
    """The wear share at both ends of what is not known.

    Exposures between the middle and the latest date stay in the lower end and raise it a little.
    """
    spread = clockwork.practice["assumed_spread"]
    running, assumed = _since(clockwork, seal, seal.fitted_latest, on)
    youngest = _totals(clockwork, seal).total + running.total + assumed.total / spread
    oldest = _at_the_earliest(clockwork, seal, on, spread)
    return min(youngest, oldest), max(youngest, oldest)


def score(wears: Sequence[SealWear], on: date) -> tuple[int, SealWear | None]:
    """Seal score, 100 × (1 − largest wear share) rounded down, and the seal that limits it.

    It is at least 0, and 0 when a seal is past the storage age of its material. A watch always has a score:
    without any seal on record it is 0.
    """
    if not wears:
        return 0, None
    capped = [w for w in wears if on >= w.cap_on]
    limiting = max(capped or wears, key=lambda w: w.wear_share)
    if capped:
        return 0, limiting
    return score_of(limiting.wear_share), limiting


def score_of(wear_share: float) -> int:
    """100 × (1 − wear share), rounded down, at least 0."""
    if math.isinf(wear_share):
        return 0
    # A share of 0.3 must read 70, though 100 × (1 − 0.3) is 69.999… in binary.
    return max(0, math.floor(100 * (1 - wear_share) + 1e-9))


def later_by_years(day: date, years: float) -> date:
    """A day some years later; whole years go by the calendar, a part of a year by its days."""
    from dateutil.relativedelta import relativedelta

    whole = math.floor(years)
    return day + relativedelta(years=whole) + timedelta(days=round((years - whole) * DAYS_A_YEAR))


def _since(clockwork: Clockwork, seal: Seal, start: date, on: date) -> tuple[Shares, Shares]:
    """What runs by the clock from `start` to `on`: what is on record, then separately what is assumed."""
    record, practice = clockwork.record, clockwork.practice
    days = max(0, (on - start).days)
    if days == 0:
        return Shares(), Shares()
    logged_from = min(max(record.watch.recorded_from, start), on)
    assumed = _habit_shares(clockwork, seal, clockwork.stated, start, logged_from)
    habits = _habit_shares(clockwork, seal, clockwork.habits, logged_from, on)
    uses = wear.dry_use_shares_per_day(record.watch, seal.position, practice).times(days)
    clock = Shares(ageing=_clock_ageing(clockwork, seal, start, on))
    return clock.plus(uses).plus(habits), assumed


def _clock_ageing(clockwork: Clockwork, seal: Seal, start: date, on: date) -> float:
    """Ageing as though exposures took no hours: worn hours at the worn temperature, the rest in storage."""
    practice = clockwork.practice
    worn_h, stored_h = clock_hours(clockwork, start, on)
    worn = wear.ageing_share_per_hour(practice["worn_c"], seal.material, practice)
    stored = wear.ageing_share_per_hour(practice["storage_c"], seal.material, practice)
    return worn_h * worn + stored_h * stored


def clock_hours(clockwork: Clockwork, start: date, on: date) -> tuple[float, float]:
    """Hours worn and hours stored from `start` up to `on`, as though exposures took none."""
    worn_h = sum((b - a).days * hours for a, b, hours in clockwork.worn_days.regimes(start, on))
    return worn_h, (on - start).days * 24.0 - worn_h


def _habit_shares(
    clockwork: Clockwork, seal: Seal, habits: Sequence[Habit], start: date, end: date
) -> Shares:
    total = Shares()
    for _, _, shares in habit_costs(clockwork, seal, habits, start, end):
        total = total.plus(shares)
    return total


def habit_costs(
    clockwork: Clockwork, seal: Seal, habits: Sequence[Habit], start: date, end: date
) -> Iterator[tuple[Exposure, float, Shares]]:
    """Repeated exposures from `start` up to `end`, each with how often it happened and its shares.

    On a day with too few hours, they share the hours.
    """
    if not habits or start >= end:
        return
    practice, watch = clockwork.practice, clockwork.record.watch
    one = timedelta(days=1)
    breaks = [d for h in habits for d in (h.from_on, *([h.to_on + one] if h.to_on else []))]
    charged = [
        (h, course, wear.water_shares(h.exposure, seal.position, watch, practice, course))
        for h in habits
        for course in [wear.course_of(h.exposure, practice)]
    ]
    for begin, stop, worn_h in clockwork.worn_days.regimes(start, end, breaks):
        running = [row for row in charged if charge.runs_on(row[0], begin)]
        daily_h = sum(h.per_day * h.exposure.duration_s / 3600 for h, _, _ in running)
        wrist = min(1.0, worn_h / daily_h) if daily_h else 0.0
        taken = min(1.0, 24.0 / daily_h) if daily_h else 0.0
        for habit, course, shares in running:
            hours = habit.exposure.duration_s / 3600
            spent = Spent(hours * wrist, hours * (taken - wrist))
            ageing = charge.ageing_instead(course.rate, spent, seal.material, practice)
            times = habit.per_day * (stop - begin).days
            yield habit.exposure, times, replace(shares, ageing=ageing).times(times)


def stated_habits(record: WatchRecord, practice: Practice) -> list[Habit]:
    """The stated use before the log began, as exposures that repeat up to its first day."""
    end = record.watch.recorded_from - timedelta(days=1)
    habits = []
    for row in practice.stated_use:
        if row.use != record.watch.use:
            continue
        activity = practice.activities[row.activity]
        # The exact column of water differs by 0.3 % and would load the sea-water library at start-up.
        basis: Basis = "EN 13319" if activity.basis == "EN 13319" else "fresh"
        depth_m = _first(row.depth_m, activity.depth_m, 0.0)
        exposure = Exposure(
            activity=row.activity,
            water=activity.water,
            depth_m=depth_m,
            basis=basis,
            gauge_pa=water.gauge_pa_for(depth_m, basis),
            duration_s=round(_first(row.minutes, activity.minutes, 0.0) * 60),
            water_c=_first(row.water_c, activity.water_c, practice["home_c"]),
            from_c=practice["from_c"],
            starts_on=date.min,
            dips=activity.dips,
            rinsed=row.rinsed,
        )
        habits.append(Habit(exposure, row.per_year / DAYS_A_YEAR, date.min, end))
    return habits


def _first(*numbers: float | None) -> float:
    return next(n for n in numbers if n is not None)
